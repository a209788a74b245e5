/** The house keeps its shape: what each room may import, and nothing else (DEVELOPERS.md, "Rooms"). */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const source = join(import.meta.dirname, '../../packages/language/src');

const MAY_IMPORT: Record<string, readonly string[]> = {
  units: [],
  physics: [],
  vocabulary: ['units', 'physics'],
  grammar: [],
  model: ['grammar', 'vocabulary', 'units'],
  analysis: ['model', 'physics', 'vocabulary', 'units'],
  checks: ['analysis', 'model', 'physics', 'vocabulary', 'units'],
  starter: ['grammar', 'model', 'vocabulary', 'units'],
  report: ['analysis', 'checks', 'model', 'vocabulary', 'units'],
  editor: ['grammar', 'model', 'analysis', 'checks', 'starter', 'report', 'vocabulary', 'units'],
  cli: ['grammar', 'model', 'analysis', 'checks', 'starter', 'report', 'vocabulary', 'units'],
};

const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).filter(
  (file) => file.endsWith('.ts') && !file.includes(`generated${sep}`),
);

const importsOf = (file: string): string[] => {
  const text = readFileSync(join(source, file), 'utf8');
  return [...text.matchAll(/(?:from|import\()\s*'(\.[^']+)'/g)].map(([, path]) =>
    relative(source, join(source, dirname(file), path ?? '')),
  );
};

const roomOf = (file: string): string => file.split(sep)[0] ?? '';

describe('rooms', () => {
  it.each(Object.keys(MAY_IMPORT))('%s imports only what it may', (room) => {
    const wrong = files
      .filter((file) => roomOf(file) === room)
      .flatMap((file) => importsOf(file).map((target) => ({ file, target })))
      // The package's own description belongs to no room.
      .filter(({ target }) => !target.endsWith('package.json'))
      .filter(({ target }) => roomOf(target) !== room && !MAY_IMPORT[room]?.includes(roomOf(target)))
      .map(({ file, target }) => `${file} -> ${target}`);
    expect(wrong).toEqual([]);
  });

  it('has no room that the table does not know', () => {
    const rooms = new Set(files.filter((file) => file.includes(sep)).map(roomOf));
    expect([...rooms].sort()).toEqual(Object.keys(MAY_IMPORT).sort());
  });

  it('keeps the extension free of computation: it imports nothing of the language but its servers', () => {
    const extension = join(import.meta.dirname, '../../packages/extension/src');
    const wrong = readdirSync(extension, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .filter((file) => /from '[^']*language\//.test(readFileSync(join(extension, file), 'utf8')));
    expect(wrong).toEqual([]);
  });
});
