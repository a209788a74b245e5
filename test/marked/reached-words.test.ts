/** Each message of a check, in each of its variants, is in a case: no words of the checks are left that no case makes the program reach. */
import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect } from 'vitest';
import { atLength } from '../long.ts';

interface Words {
  readonly file: string;
  readonly line: number;
  readonly words: string;
}

/** What no case reaches, by the reason; each is the beginning of its words, in which … is computed. What a case reaches has to leave this list. */
const ELSEWHERE = {
  'a text that is in no file yet, links, and files that cannot be read: `references/outside.test.ts`, `references/load.test.ts`':
    [
      'text/use-missing.ts: save this file first',
      'text/use-missing.ts: … opens nothing: a link leads out',
      'text/use-missing.ts: it cannot be read',
      'text/row-problems.ts: … lies outside of the workspace',
      'text/row-problems.ts: … cannot be read as text',
      'text/log-problems.ts: … is longer than',
    ],
  'a log of some thousand rows, and stands from a model: `cli/observe.test.ts`, `simulated/set-aside.test.ts`': [
    'shared/set-aside-words.ts: This log is',
    'shared/set-aside-words.ts: The rows of … are',
    'shared/set-aside-words.ts: Likely it was recorded on the ground',
    'shared/set-aside-words.ts: Likely one of its columns',
    'shared/set-aside-words.ts: Likely it is an output',
  ],
  'rows that depend on what was learnt before: `analysis/contradicting.test.ts`': [
    'craft/estimate-gives-way.ts: the estimate was',
    'craft/estimate-gives-way.ts: On … motor and propeller together',
    'craft/estimate-gives-way.ts: measured in “…”',
    'craft/observed-disagrees.ts: Until that is settled, results rest on both',
  ],
  'fixes that are made when somebody requests them: `checks/full-duty-of-packs.test.ts`': [
    'craft/pack-overcurrent.ts: … then stays within',
    'craft/pack-overcurrent.ts: take a pack that supplies',
    'craft/pack-oversag.ts: a cell then stays above …',
  ],
  'no craft is known that is so weak and does not fail otherwise before': [
    'craft/flight-too-long.ts:  takes more',
    'craft/leg-unflyable.ts: climbs faster than a full pack',
    'craft/pack-oversag.ts: whether … can supply full duty at the reserve at all',
    'craft/pack-oversag.ts: At full duty at the reserve … collapses',
  ],
  'a line of a table, or a kind of name, that the vocabulary may have and has not today': [
    'shared/set-aside-words.ts: a unit taken for one of a thousandth',
    'shared/set-aside-words.ts: a unit taken for one a thousand times as large',
    'text/unknown-name.ts: no such word: …',
    'text/unknown-name.ts: nothing comes after …',
    'text/wrong-kind.ts: something else',
    'text/quantity-problems.ts: these amounts do not add up',
    'text/quantity-problems.ts: a unit is needed',
    'text/clause-problems.ts: nothing comes after',
  ],
  'what would be a defect of ours': ['craft/rail-undervoltage.ts: nothing to report'],
} as const;

atLength(
  'words are reached, or listed with what reaches them',
  async () => {
    const { stdout } = await promisify(execFile)(process.execPath, [join(import.meta.dirname, 'reach-words.ts')]);
    const unreached: readonly Words[] = JSON.parse(stdout);
    const listed = Object.values(ELSEWHERE).flat();
    const isOf = (one: Words, begun: string): boolean => `${one.file}: ${one.words}`.startsWith(begun);
    const missing = unreached.filter((one) => !listed.some((begun) => isOf(one, begun)));
    expect(missing.map(({ file, line, words }) => `${file}:${line}: ${words}`)).toEqual([]);
    expect(listed.filter((begun) => !unreached.some((one) => isOf(one, begun)))).toEqual([]);
  },
  300_000,
);
