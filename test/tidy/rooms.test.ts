/** The house keeps its shape: the table in DEVELOPERS.md, "Rooms", states what each room may import, and this enforces it. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';
import { unit } from '../../vitest.config.ts';

const root = join(import.meta.dirname, '../..');
const source = join(root, 'packages/language/src');

/** Of one entry after the other: what is looked up there is found by its name. */
const LONG_TABLES = ['vocabulary/estimators.ts', 'vocabulary/kinds/flying.ts'].map((table) => `language/src/${table}`);

const rows = [...readFileSync(join(root, 'DEVELOPERS.md'), 'utf8').matchAll(/^\| `([a-z/]+)` \| .* \| (.*) \|$/gm)]
  .map(([, room = '', may = '']) => ({ room, may }))
  .filter(({ may }) => may === 'nothing' || may.startsWith('`') || may.startsWith('all but'));

const namesIn = (words: string): string[] => [...words.matchAll(/`([a-z/]+)`/g)].map(([, name = '']) => name);

const mayImport = new Map(
  rows.map(({ room, may }) => {
    const named = namesIn(may);
    const all = rows.map((row) => row.room).filter((one) => !named.includes(one));
    return [room, new Set(may.startsWith('all but') ? all : named)];
  }),
);

const files = readdirSync(source, { recursive: true, encoding: 'utf8' })
  .map((file) => file.split(sep).join('/'))
  .filter((file) => file.endsWith('.ts') && !file.includes('grammar/generated/'));

const packages = join(root, 'packages');

/** Of all packages. */
const ownFiles = readdirSync(packages, { recursive: true, encoding: 'utf8' })
  .map((file) => file.split(sep).join('/'))
  .filter((file) => /\.m?ts$/.test(file) && !/(?:^|\/)(?:node_modules|dist)\//.test(file));

const writtenFiles = ownFiles.filter((file) => !/(?:^|\/)generated\//.test(file));

const importsOf = (file: string, pattern = /(?:from|import\(?)\s*'(\.[^']+)'/g): string[] => {
  const text = readFileSync(join(source, file), 'utf8');
  return [...text.matchAll(pattern)].map(([, path]) =>
    relative(source, join(source, dirname(file), path ?? ''))
      .split(sep)
      .join('/'),
  );
};

/** The innermost folder that the table knows, else the outermost one. */
function roomOf(file: string): string {
  const folders = file.split('/').slice(0, -1);
  const inner = folders.map((_, index) => folders.slice(0, folders.length - index).join('/'));
  return inner.find((folder) => mayImport.has(folder)) ?? folders[0] ?? '';
}

/** Who may use a room may use the rooms in it; the room around them has its own line in the table. */
const allows = (room: string, target: string): boolean =>
  room === target ||
  (mayImport.get(room)?.has(target) ?? false) ||
  (target.includes('/') && dirname(target) !== room && allows(room, dirname(target)));

describe('rooms', () => {
  it.each([...mayImport.keys()])('%s imports only what it may', (room) => {
    const wrong = files
      .filter((file) => roomOf(file) === room)
      .flatMap((file) => importsOf(file).map((target) => ({ file, target })))
      // The package's own description belongs to no room.
      .filter(({ target }) => !target.endsWith('package.json'))
      .filter(({ target }) => !allows(room, roomOf(target)))
      .map(({ file, target }) => `${file} -> ${target}`);
    expect(wrong).toEqual([]);
  });

  it.each([...mayImport.keys()])('%s may import only what it does', (room) => {
    const used = new Set(
      files.filter((file) => roomOf(file) === room).flatMap((file) => importsOf(file).map((target) => roomOf(target))),
    );
    const unused = [...(mayImport.get(room) ?? [])].filter((other) => other !== room && !used.has(other));
    expect(unused, 'permitted in the table of DEVELOPERS.md, and imported nowhere').toEqual([]);
  });

  it('has no room that may import itself through others', () => {
    const reached = (room: string, seen = new Set<string>()): Set<string> => {
      for (const next of mayImport.keys())
        if (next !== room && allows(room, next) && !seen.has(next)) reached(next, seen.add(next));
      return seen;
    };
    expect([...mayImport.keys()].filter((room) => reached(room).has(room))).toEqual([]);
  });

  it('has no room that the table does not know, and none in the table that is not there', () => {
    const rooms = new Set(files.map(roomOf).filter((room) => room !== ''));
    expect([...rooms].sort()).toEqual([...mayImport.keys()].sort());
  });

  it('has no file that tests alone import', () => {
    const started = ['index', 'cli/main', 'cli/check-worker', 'cli/choose-worker', 'editor/server'];
    const imported = new Set(
      ownFiles.flatMap((file) => {
        const text = readFileSync(join(packages, file), 'utf8');
        const paths = [...text.matchAll(/(?:from|import\(?|URL\()\s*'(\.[^']+)'/g)].map(([, path = '']) => path);
        return paths.map((path) => join(packages, dirname(file), path));
      }),
    );
    const unused = files.filter((file) => !imported.has(join(source, file)));
    expect(unused.sort()).toEqual(started.map((file) => `${file}.ts`).sort());
  });

  it('has no circle, of types neither', () => {
    // What is loaded when it is needed closes no circle.
    const imports = new Map(files.map((file) => [file, importsOf(file, /(?:from|import)\s*'(\.[^']+)'/g)]));
    const circles: string[] = [];
    const done = new Set<string>();
    const visit = (file: string, path: readonly string[]): void => {
      if (path.includes(file)) circles.push([...path.slice(path.indexOf(file)), file].join(' -> '));
      if (path.includes(file) || done.has(file)) return;
      for (const target of imports.get(file) ?? []) visit(target, [...path, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(circles).toEqual([]);
  });

  it('has no file of more than four hundred lines but tables, in any package', () => {
    const lines = (file: string) => readFileSync(join(packages, file), 'utf8').split('\n').length - 1;
    expect(writtenFiles.filter((file) => lines(file) > 400).sort()).toEqual(LONG_TABLES);
  });

  it('keeps the extension free of computation: it imports nothing of the language but what they send each other, and which files', () => {
    const extension = join(root, 'packages/extension/src');
    const imported = readdirSync(extension, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .flatMap((file) => readFileSync(join(extension, file), 'utf8').match(/from '[^']*language\/[^']*'/g) ?? [])
      .map((from) => from.replace(/^.*\/language\/src\//, ''));
    expect([...new Set(imported)].sort()).toEqual(["editor/requests/protocol.ts'", "resolve/read-files.ts'"]);
  });

  it('unit tests start nothing that is built', () => {
    const built = /\/(?:command|session|one-session|warm-command|open-page)\.ts'|['/]dist[/']|bin\/fettle/;
    expect(unit.length).toBeGreaterThan(80);
    expect(
      unit.filter((file) => !/^test.tidy/.test(file) && built.test(readFileSync(join(root, file), 'utf8'))),
    ).toEqual([]);
  });
});
