/** Half-typed files are the normal case: whatever has been typed so far is read without an exception. */
import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { cases } from '../long.ts';
import { Workspace } from '../references/memory-workspace.ts';

const root = new URL('../fixtures/samples/', import.meta.url);
const paths = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.fettle'));
const texts = Object.fromEntries(paths.map((path) => [path, readFileSync(new URL(path, root), 'utf8')]));

/** Letters typed at once: some that do not always end in the same column of a line. */
const STEP = cases(37, 1);

/** One for the block, one for a bracket, one for what is being typed, one for a line of the sample that is not quite right. */
const MOST_PROBLEMS = 4;

/** Reads everything a reader could request, in the file itself and in the builds that depend on it. */
function readAll(workspace: Workspace): number {
  let read = 0;
  for (const path of paths) {
    const { builds, parts, benches, problems } = readDocument(workspace.document(path));
    for (const { message, place } of problems) {
      expect(message).not.toMatch(/undefined|NaN|\[object/);
      expect(place.end).toBeGreaterThanOrEqual(place.start);
    }
    for (const figure of parts.flatMap((part) =>
      (['mass', 'kv', 'resistance', 'lead', 'capacity'] as const).map((name) => part.figure(name)),
    )) {
      if (!figure) continue;
      expect(Number.isFinite(figure.value)).toBe(true);
      expect(figure.standardUncertainty).toBeGreaterThanOrEqual(0);
    }
    read += builds.length + benches.length;
  }
  return read;
}

describe('files as they are typed', () => {
  it.each(paths)('%s: every prefix is read', async (path) => {
    const workspace = await Workspace.of(texts);
    const text = texts[path] ?? '';
    for (let length = 0; length <= text.length; length += STEP) {
      await workspace.edit(path, text.slice(0, length));
      const { problems } = readDocument(workspace.document(path));
      // What is opened is not needed yet; everything else is about the last line, the open block and the open bracket.
      const stated = problems.filter(({ id }) => id !== 'unused-use').map(({ message }) => message);
      expect(stated.length, stated.join(' · ')).toBeLessThanOrEqual(MOST_PROBLEMS);
    }
    expect(readAll(workspace)).toBeGreaterThan(0);
  });

  it('a stretch taken out anywhere, or a word in the wrong place, is read', async () => {
    const workspace = await Workspace.of(texts);
    const words = [
      '{',
      '}',
      '"',
      ':',
      ',',
      '.',
      'with',
      'from',
      'like',
      '12',
      'mm',
      '+-',
      '..',
      'x',
      'rail',
      'build',
      '=',
    ];
    const edit = fc.record({
      path: fc.constantFrom(...paths),
      start: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.integer({ min: 0, max: 40 }),
      word: fc.constantFrom('', ...words),
    });
    await fc.assert(
      fc.asyncProperty(edit, async ({ path, start, length, word }) => {
        const text = texts[path] ?? '';
        const at = Math.floor(start * text.length);
        await workspace.edit(path, `${text.slice(0, at)} ${word} ${text.slice(at + length)}`);
        readAll(workspace);
        await workspace.edit(path, text);
      }),
      { numRuns: cases(10, 150) },
    );
  });
});
