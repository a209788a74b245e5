/** One name means one thing wherever it is imported. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');

/** The library has names of its own for those who import it. */
const EXCEPTED = /^packages\/language\/src\/index\.ts$/;

const sources = execFileSync('git', ['ls-files', 'packages/*.ts', 'packages/*.mts', '.github/*.ts'], {
  cwd: root,
  encoding: 'utf8',
})
  .split('\n')
  .filter((file) => file !== '' && !EXCEPTED.test(file));

/** Exported names of these declarations, each with the files that export it, where they are several. */
function exportedTwice(declarations: string): Map<string, string[]> {
  const files = new Map<string, string[]>();
  for (const file of sources) {
    const text = readFileSync(join(root, file), 'utf8');
    const names = [...text.matchAll(new RegExp(`^export (?:${declarations}) (\\w+)`, 'gm'))].map(
      ([, name = '']) => name,
    );
    for (const name of new Set(names)) files.set(name, [...(files.get(name) ?? []), file]);
  }
  expect(files.size).toBeGreaterThan(500);
  return new Map([...files].filter(([, declaredIn]) => declaredIn.length > 1));
}

it('an exported type has its name alone', () => {
  expect([...exportedTwice('(?:abstract )?(?:interface|type|class)')]).toEqual([]);
});

/** Of a command or a message of the protocol and what it starts, or of a result and the formula it is read off; or of two things, which are to be renamed. */
const STILL_TWICE = [
  'ADD_MEASURED',
  'COMPARE_COMMITTED',
  'COMPARE_PACKS',
  'LIBRARY',
  'SHOW_CHOICE',
  'SHOW_EXPLANATION',
  'SHOW_STEPS',
  'TRY_LINES',
  'activate',
  'compare',
  'complain',
  'dryMass',
  'endurance',
  'explain',
  'flightTime',
  'format',
  'freeName',
  'fullDuty',
  'hoverTime',
  'linkTo',
  'newBuild',
  'output',
  'pathOf',
  'reasonOf',
  'review',
  'shortlistOf',
  'thrustToWeight',
  'tipSpeed',
  'toJson',
  'toMarkdown',
  'toSarif',
  'toText',
  'uriOf',
  'windHeld',
];

it('an exported function or constant has its name alone, but for those that are listed, and no other is', () => {
  expect([...exportedTwice('(?:async )?function\\*?|const|let').keys()].sort()).toEqual(STILL_TWICE);
});
