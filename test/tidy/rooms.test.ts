/** The house keeps its shape: the table in DEVELOPERS.md, "Rooms", states what each room may import, and this enforces it. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ofSources } from '../../vitest.config.ts';

const root = join(import.meta.dirname, '../..');
const source = join(root, 'packages/language/src');

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

const importsOf = (file: string, pattern = /(?:from|import\()\s*'(\.[^']+)'/g): string[] => {
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

/** Who may use a room may use the rooms in it. */
const allows = (room: string, target: string): boolean =>
  room === target ||
  (mayImport.get(room)?.has(target) ?? false) ||
  (target.includes('/') && allows(room, dirname(target)));

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

  it('has no room that the table does not know, and none in the table that is not there', () => {
    const rooms = new Set(files.map(roomOf).filter((room) => room !== ''));
    expect([...rooms].sort()).toEqual([...mayImport.keys()].sort());
  });

  it('has each name of a file once', () => {
    const written = files.filter((file) => !file.includes('/generated/'));
    const names = written.map((file) => basename(file));
    expect(written.filter((file) => names.indexOf(basename(file)) !== names.lastIndexOf(basename(file)))).toEqual([]);
  });

  it('has no circle, of types neither', () => {
    // What is loaded when it is needed closes no circle. The table of the editor's services names their classes, and these need the table.
    const table = 'editor/engine/editor-services.ts';
    const imports = new Map(files.map((file) => [file, file === table ? [] : importsOf(file, /from\s*'(\.[^']+)'/g)]));
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

  it('has no file of more than four hundred lines but tables', () => {
    const lines = (file: string) => readFileSync(join(source, file), 'utf8').split('\n').length - 1;
    const isTable = (file: string) => file.startsWith('vocabulary/') || file === 'cli/program.ts';
    const written = files.filter((file) => !isTable(file) && !file.includes('generated/'));
    expect(written.filter((file) => lines(file) > 400)).toEqual([]);
  });

  it('keeps the extension free of computation: it imports nothing of the language but what they send each other', () => {
    const extension = join(root, 'packages/extension/src');
    const imported = readdirSync(extension, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .flatMap((file) => readFileSync(join(extension, file), 'utf8').match(/from '[^']*language\/[^']*'/g) ?? [])
      .map((from) => from.replace(/^.*\/language\/src\//, ''));
    expect([...new Set(imported)]).toEqual(["editor/requests/protocol.ts'"]);
  });

  it('tests that do not wait for a build start nothing that is built', () => {
    const built = /\/(?:command|session|one-session|warm-command|open-page)\.ts'|['/]dist[/']|bin\/fettle/;
    expect(ofSources.length).toBeGreaterThan(80);
    expect(
      ofSources.filter((file) => !file.includes('tidy/') && built.test(readFileSync(join(root, file), 'utf8'))),
    ).toEqual([]);
  });
});
