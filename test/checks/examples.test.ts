/** The examples do what their comments say: the builds are clean, each broken file gives the findings that it names. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { findingsIn } from './findings-in.ts';

const folder = join(import.meta.dirname, '../../examples');
const texts = Object.fromEntries(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.fettle'))
    .map((path) => [path, readFileSync(join(folder, path), 'utf8')]),
);

const paths = Object.keys(texts).sort();
const broken = paths.filter((path) => path.startsWith('broken/'));

let found: Record<string, readonly Finding[]> = {};
beforeAll(async () => {
  found = await findingsIn(texts);
});

describe('examples', () => {
  it.each(paths.filter((path) => !broken.includes(path)))('%s has nothing worse than a note', (path) => {
    expect(found[path]?.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
  });

  it.each(broken)('%s gives what its comment says', (path) => {
    const [, said = ''] = /Findings?: (.*)\./.exec(texts[path] ?? '') ?? [];
    const expected = said.split(/ and |, /).filter((word) => /^[a-z-]+$/.test(word));
    expect(expected.length).toBeGreaterThan(0);
    const told = found[path]
      ?.filter(({ severity }) => severity === 'error' || severity === 'warning')
      .map(({ id }) => id);
    expect(told).toEqual(expected);
  });
});
