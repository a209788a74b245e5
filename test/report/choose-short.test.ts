/** Candidates are judged by what is known of others: nothing of the answer may show it. */

import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import { openAsked } from '../../packages/language/src/cli/choose-asked.ts';
import { judgeLot } from '../../packages/language/src/report/decide/judging.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { displayUnit } from '../../packages/language/src/units/print.ts';
import { cases } from '../long.ts';
import { randomNumbers } from '../seeded.ts';

const examples = join(import.meta.dirname, '../../examples/builds');

/** Of another craft, what is varied has other names and sizes. */
const CRAFT = [
  { name: 'Spire', pitch: '2 in .. 3 in', kv: '2600 rpm/V .. 3600 rpm/V' },
  { name: 'Gable', pitch: '1.6 in .. 2.8 in', kv: '2400 rpm/V .. 3400 rpm/V' },
  { name: 'Wren', pitch: '1 in .. 1.8 in', kv: '14000 rpm/V .. 20000 rpm/V' },
  { name: 'Rafter', pitch: '1.6 in .. 2.6 in', kv: '3600 rpm/V .. 5000 rpm/V' },
  { name: 'Belfry', pitch: '2 in .. 3 in', kv: '2600 rpm/V .. 3600 rpm/V' },
] as const;

const RESULTS = [
  ['thrust_to_weight', '>='],
  ['reserve_thrust_to_weight', '>='],
  ['hover_time', '>='],
  ['flight_time', '>='],
  ['all_up_weight', '<='],
  ['full_current', '<='],
  ['burst_current', '<='],
  ['full_cell_voltage', '>='],
  ['hover_duty', '<='],
  ['tip_speed', '<='],
] as const;

type Draw = () => number;

const pick = <T>(all: readonly T[], draw: Draw): T => all[Math.floor(draw() * all.length)] as T;

const some = <T>(all: readonly T[], draw: Draw): T[] => all.filter(() => draw() < 0.4);

/** A space of a hundred or two, with requirements that some of it meets. */
async function spaceAt(seed: number) {
  const draw = randomNumbers(seed);
  const { name, pitch, kv } = pick(CRAFT, draw);
  const vary = [
    `duty ${40 + Math.floor(20 * draw())} % .. 100 % step ${pick([2, 3, 5, 8], draw)} %`,
    ...some(['pack in "../parts"', `pitch in ${pitch} step 0.4 in`, `kv in ${kv} step 1000 rpm/V`], draw),
  ];
  const asked = { name, in: [examples], vary, prefer: ['hover_time', 'thrust_to_weight'] };
  const { services, document, node } = await openAsked(asked);
  const { today } = await spaceOf(services, document, node);
  const [option] = today.packs;
  if (!option) throw new Error('no pack');
  const { results } = assess(today, option);
  const require = some(RESULTS, draw).flatMap(([result, sign]) => {
    const one = results.get(result);
    if (!one) return [];
    const { fromSI, name: unit } = displayUnit(one.unit);
    const limit = fromSI(one.estimate.value * (0.6 + 0.8 * draw()));
    return [`${result} ${sign} ${Number(limit.toPrecision(3))} ${unit}`.trim()];
  });
  if (draw() < 0.3) require.push('full_current - hover_current <= 40 A');
  const opened = await openAsked({ ...asked, require });
  return spaceOf(opened.services, opened.document, opened.node, 240);
}

describe('candidates judged by what is known of others', () => {
  it.each(Array.from({ length: cases(3, 60) }, (_, seed) => [seed]))(
    'space %i: the same pass with the same values, the same are rejected for the same reasons',
    async (seed) => {
      const space = await spaceAt(seed);
      const short = judgeLot(space, 0, space.count);
      const each = judgeLot(space, 0, space.count, false);
      expect(short.passing).toEqual(each.passing);
      expect(short.rejected).toEqual(each.rejected);
      expect(short.passing.length + [...short.rejected.values()].reduce((sum, n) => sum + n, 0)).toBe(space.count);
    },
    60_000,
  );
});
