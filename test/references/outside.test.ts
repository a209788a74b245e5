/** What a file may quote: files of its own workspace, and no others. */
import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { URI } from 'langium';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { review } from '../../packages/language/src/report/review/review.ts';
import { reviewMarkdown } from '../../packages/language/src/report/review/review-markdown.ts';
import { loadPaths } from '../../packages/language/src/workspace/load-paths.ts';
import { NodeFileSystem } from '../../packages/language/src/workspace/node-files.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';

const home = realpathSync(mkdtempSync(join(tmpdir(), 'fettle-outside-')));
afterAll(() => rmSync(home, { recursive: true, force: true }));
afterEach(() => vi.restoreAllMocks());

const SECRET = 'sesame7';
const write = (path: string, text: string): string => {
  const full = join(home, path);
  mkdirSync(dirname(full), { recursive: true });
  writeFileSync(full, text);
  return full;
};
const stand = (path: string): string =>
  `propeller Q { diameter: 50 mm  pitch: 40 mm  blades: 3  mass: 0.5 g }\nmotor M { kv: 9000 rpm/V  stator: 11 x 4 mm  mass: 5 g }\nbench B { propeller: Q  motor: M\n  rows thrust in gf, power in W from "${path}"\n}\n`;

/** What is found about a file that the command is pointed at while it runs in a folder. */
async function reported(file: string, from: string): Promise<string[]> {
  vi.spyOn(process, 'cwd').mockReturnValue(join(home, from));
  const services = createFettleServices(NodeFileSystem);
  const { documents, failures } = await loadPaths(services, [join(home, file)]);
  return [
    ...failures.map(({ message }) => message),
    ...documents.flatMap((document) => checkDocument(readDocument(document)).findings.map(({ message }) => message)),
  ];
}

write('outside.csv', `thrust,power\n${SECRET},1\n`);
write('repository/.git/HEAD', 'ref: refs/heads/main\n');
write('repository/rows/in.csv', `thrust,power\n${SECRET},1\n`);
symlinkSync('../outside.csv', join(home, 'repository/link.csv'));
symlinkSync('..', join(home, 'repository/up'));
symlinkSync('rows/in.csv', join(home, 'repository/inner.csv'));

describe('rows of a file', () => {
  it.each(['../../outside.csv', '../link.csv', '../up/outside.csv', '../../missing.csv', '../up/missing.csv'])(
    'outside of the repository are not read, and not reported to exist: %s',
    async (path) => {
      const file = 'repository/builds/b.fettle';
      write(file, stand(path));
      // Wherever the command runs.
      for (const from of ['', 'repository', 'repository/builds']) {
        expect(await reported(file, from)).toEqual([
          `${path} lies outside of the workspace (${join(home, 'repository')}), by its path or through a link, and is not read: put a copy of it inside`,
        ]);
      }
    },
  );

  it.each(['../rows/in.csv', '../inner.csv'])('inside of it are read: %s', async (path) => {
    const file = 'repository/good/b.fettle';
    write(file, stand(path));
    expect((await reported(file, 'repository/good')).join()).toContain(SECRET);
  });

  it('without a repository are those below where the command runs, and next to the file', async () => {
    write('plain/rows/in.csv', `thrust,power\n${SECRET},1\n`);
    write('plain/builds/in.csv', `thrust,power\n${SECRET},1\n`);
    write('plain/builds/b.fettle', stand('../rows/in.csv'));
    expect((await reported('plain/builds/b.fettle', 'plain')).join()).toContain(SECRET);
    expect((await reported('plain/builds/b.fettle', 'plain/builds')).join()).toContain('lies outside of the workspace');
    write('plain/builds/b.fettle', stand('in.csv'));
    expect((await reported('plain/builds/b.fettle', 'repository')).join()).toContain(SECRET);
  });

  it('are not fetched by a review from packages outside of the repository', async () => {
    write('node_modules/x/outside.csv', `thrust,power\n${SECRET},1\n`);
    const bytes = (text: string) => new TextEncoder().encode(text);
    const tree = (text: string) => ({ files: new Map([['a.fettle', bytes(text)]]), unread: new Map(), submodules: [] });
    const found = await review({
      root: URI.file(join(home, 'repository')),
      base: { name: 'before', tree: tree('') },
      head: { name: 'after', tree: tree(stand('../node_modules/x/outside.csv')) },
      isAsked: () => true,
    });
    const comment = reviewMarkdown(found);
    expect(comment).toContain('no such file');
    expect(comment).not.toContain(SECRET);
  });
});

describe('a link named like a Fettle file', () => {
  it('to something else is not read', async () => {
    write('secret.txt', `${SECRET} is the word\n`);
    symlinkSync('../../secret.txt', join(home, 'repository/good/linked.fettle'));
    const found = await reported('repository/good/linked.fettle', 'repository');
    expect(found).toEqual(['this is a link to something that is no .fettle file']);
  });
});

describe('a link that leads out of the repository', () => {
  const LAMP = 'load Lamp { draw: 2 W  mass: 3 g }\n';
  const craft = (use: string) => `use "${use}"\nbuild B { load: Lamp }\n`;

  it('is not followed by `use`, nor by whoever lists folders', async () => {
    write('shed/lamp.fettle', LAMP);
    write('repository/linked/b.fettle', craft('../shed'));
    symlinkSync('../shed', join(home, 'repository/shed'));
    const opened = await reported('repository/linked/b.fettle', 'repository');
    expect(opened[0]).toBe(
      '../shed opens nothing: a link leads out of the workspace, and what is there is not read: put a copy of it inside',
    );
    expect(await reported('repository/shed', 'repository')).toEqual([
      `a link leads out of the workspace (${join(home, 'repository')}): what is there is not read; put a copy of it inside`,
    ]);
  });

  it('is followed inside of it', async () => {
    write('repository/kept/lamp.fettle', LAMP);
    write('repository/linked/c.fettle', craft('../way'));
    symlinkSync('kept', join(home, 'repository/way'));
    expect((await reported('repository/linked/c.fettle', 'repository')).join()).not.toContain('opens nothing');
  });
});
