/** The examples do what their comments state: the builds are clean, each broken file gives the one finding that it names. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { findingsIn } from './findings-in.ts';

const folder = join(import.meta.dirname, '../../examples');
const filesEndingIn = (ending: string) =>
  Object.fromEntries(
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith(ending))
      .map((path) => [path, readFileSync(join(folder, path), 'utf8')]),
  );
const texts = filesEndingIn('.fettle');
const tables = filesEndingIn('.csv');

const paths = Object.keys(texts).sort();
const broken = paths.filter((path) => path.startsWith('broken/'));
const sound = paths.filter((path) => !broken.includes(path));

let found: Record<string, readonly Finding[]> = {};
beforeAll(async () => {
  found = await findingsIn({ ...texts, ...tables });
});

/** In addition to the one note on estimates that a build may have. */
const beside = (path: string): string[] =>
  (found[path] ?? []).filter(({ id }) => id !== 'estimates').map(({ id }) => id);

const comment = (path: string): string => /^\/\/ (.*)$/m.exec(texts[path] ?? '')?.[1] ?? '';

describe('examples', () => {
  it.each(paths)('%s has at most one note on estimates a build', (path) => {
    const notes = found[path]?.filter(({ id }) => id === 'estimates') ?? [];
    expect(new Set(notes.map(({ build }) => build)).size).toBe(notes.length);
    for (const { severity } of notes) expect(['hint', 'information']).toContain(severity);
  });

  it.each(sound)('%s has nothing worse than a note', (path) => {
    expect(found[path]?.filter(({ severity }) => severity === 'error' || severity === 'warning')).toEqual([]);
  });

  it.each(sound)('%s states what its parts or builds are for', (path) => {
    expect(texts[path]).toMatch(/^\/\/ \S/m);
  });

  it.each(broken)('%s gives the one finding that its comment names, and nothing else', (path) => {
    const [, expected] = /Finding: ([a-z-]+)/.exec(comment(path)) ?? [];
    expect(beside(path)).toEqual([expected]);
  });

  it('has slips on every craft, and none twice', () => {
    const craft = broken.flatMap((path) => /^build \w+ like (\w+)/m.exec(texts[path] ?? '')?.[1] ?? []);
    expect([...new Set(craft)].sort()).toEqual(['Belfry', 'Gable', 'Rafter', 'Spire', 'Wren']);
    const named = broken.map((path) => /Finding: ([a-z-]+)/.exec(comment(path))?.[1]);
    expect(new Set(named).size).toBe(named.length);
  });

  it('is as many craft and slips as in the README', () => {
    const readme = readFileSync(join(folder, '../README.md'), 'utf8').replace(/\s+/g, ' ');
    const builds = sound.flatMap((path) => texts[path]?.match(/^build /gm) ?? []);
    expect([builds.length, broken.length]).toEqual([5 + 1 + 1, 11]);
    expect(readme).toContain('the log of a flight');
    expect(readme).toContain('five invented craft');
    expect(readme).toContain('a first build from nine numbers, and eleven files that are broken on purpose');
  });
});
