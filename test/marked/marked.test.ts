/**
 * Cases that are files: a text with marks where something is found, offered, explained or done. One folder a feature; see `marks.ts`. A case
 * that does not hold fails with the file as it would have to be written; `--update` writes it.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { isJudged, readCase } from './marks.ts';
import { CaseServers } from './play-case.ts';

const servers = new CaseServers();
afterAll(() => servers.stop());

const folders = readdirSync(import.meta.dirname, { withFileTypes: true }).filter((entry) => entry.isDirectory());

describe.each(folders.map(({ name }) => name))('%s', (folder) => {
  const home = join(import.meta.dirname, folder);
  it.each(readdirSync(home))('%s', async (file) => {
    const { text, failures } = await servers.play(readCase(readFileSync(join(home, file), 'utf8')), {
      isJudged: isJudged(`${folder}/${file}`),
    });
    expect.soft(failures).toEqual([]);
    await expect(text).toMatchFileSnapshot(join(home, file));
  });
});
