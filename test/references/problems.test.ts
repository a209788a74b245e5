/** Problems of names as files come, change and go; those of one text are in `test/marked/text`. */
import { expect, it } from 'vitest';
import { Workspace } from './memory-workspace.ts';

it('a `use` finds its folder when that comes, and misses it when it goes', async () => {
  const workspace = await Workspace.of({ 'b/a.fettle': 'use "../parts"\nbuild A { load: Cam }' });
  expect(workspace.reported('b/a.fettle')).toHaveLength(1);
  await workspace.edit('parts/p.fettle', 'load Cam { }');
  expect(workspace.reported('b/a.fettle')).toEqual([]);
  await workspace.remove('parts');
  expect(workspace.reported('b/a.fettle')).toHaveLength(1);
});

it('a `use` is added, or taken out, with the line ends of its text', async () => {
  const workspace = await Workspace.of({
    'parts/p.fettle': 'pack Slim900_3S { }\nload Cam { }',
    'more/m.fettle': 'load Other { }',
    'b/missing.fettle': 'use "../more" // others\r\nbuild C { pack: Slim900_3S\r\n load: Other }',
    'b/needless.fettle': 'use "../more"\r\nuse "../parts"\r\nbuild A { load: Cam }',
  });
  const fixed = (path: string) => workspace.fixed(path, workspace.problems(path)[0]?.fixes?.[0]);
  expect(fixed('b/missing.fettle')).toBe(
    'use "../more" // others\r\nuse "../parts"\r\nbuild C { pack: Slim900_3S\r\n load: Other }',
  );
  expect(fixed('b/needless.fettle')).toBe('use "../parts"\r\nbuild A { load: Cam }');
});

it('a name given twice is an error until the other one is gone', async () => {
  const workspace = await Workspace.of({ 'p/a.fettle': 'motor M { }', 'p/b.fettle': 'motor M { }' });
  expect(workspace.reported('p/a.fettle')).toEqual([]);
  expect(workspace.reported('p/b.fettle')).toEqual(['M | duplicate: there is a motor M in this folder already']);
  await workspace.edit('p/a.fettle', 'motor M1 { }');
  expect(workspace.reported('p/b.fettle')).toEqual([]);
});

it('of a name given twice each file has its own: nothing else goes wrong by it', async () => {
  const workspace = await Workspace.of({
    'p/a.fettle': 'load Cam { draw: 12 W }',
    'p/b.fettle': 'load Cam { draw: 2 W }\nbuild B { load: Cam }',
    'p/c.fettle': 'build C { load: Cam }',
  });
  expect(workspace.reported('p/b.fettle')).toEqual(['Cam | duplicate: there is a load Cam in this folder already']);
  expect(workspace.meanings('p/b.fettle')).toContain('Cam -> part Cam in p/b.fettle');
  expect(workspace.meanings('p/c.fettle')).toContain('Cam -> part Cam in p/a.fettle');
  await workspace.edit('p/b.fettle', 'build B { load: Cam }');
  expect(workspace.meanings('p/b.fettle')).toContain('Cam -> part Cam in p/a.fettle');
  expect(workspace.reported('p/b.fettle')).toEqual([]);
});

it('a circle of `like` is gone when one of it is', async () => {
  const workspace = await Workspace.of({
    'p/a.fettle': 'motor A like B { }',
    'p/b.fettle': 'motor B like C { }\nmotor C like A { }',
  });
  expect(workspace.reported('p/a.fettle')).toHaveLength(1);
  await workspace.edit('p/b.fettle', 'motor B { }');
  expect(workspace.reported('p/a.fettle')).toEqual([]);
});
