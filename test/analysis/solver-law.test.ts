/** What `solve` answers, by a law over random craft: at the answer all that is kept holds, one step beyond it fails; what is reported to hold or fail throughout does. */

import { describe, expect, it } from 'vitest';
import { assess, assessShiftedPlainly } from '../../packages/language/src/analysis/assess.ts';
import { type Knob, knobsOf } from '../../packages/language/src/analysis/decide/knobs.ts';
import { judge } from '../../packages/language/src/analysis/decide/requirements.ts';
import { type Direction, solve } from '../../packages/language/src/analysis/decide/solver.ts';
import type { Expression, Requirement } from '../../packages/language/src/model/build.ts';
import { NONE } from '../../packages/language/src/units/dimension.ts';
import { resultNamed, resultOf } from '../../packages/language/src/vocabulary/results.ts';
import { cases } from '../long.ts';
import { pick, randomNumbers } from '../seeded.ts';
import { figureOf, PLACE, stated } from './handmade-builds.ts';
import { randomCraft } from './random-builds.ts';

const RESULTS = [
  'hover_time',
  'thrust_to_weight',
  'all_up_weight',
  'full_motor_current',
  'full_cell_voltage',
  'hover_duty',
  'tip_speed',
] as const;
const KNOBS = ['item mass', 'duty', 'pack capacity', 'motor kv', 'propeller diameter', 'air'] as const;

function required(name: string, operator: '>=' | '<=', limit: number): Requirement {
  const left: Expression = { kind: 'result', name, of: resultNamed(name), place: PLACE };
  const figure = { ...figureOf('limit', stated(1, '')), value: limit, dimension: resultOf(name)?.dimension ?? NONE };
  const right: Expression = { kind: 'quantity', figure, place: PLACE };
  return {
    condition: { kind: 'comparison', operator, left, right, place: PLACE },
    text: `${name} ${operator} ${limit}`,
    place: PLACE,
  };
}

/** Asked at random: one figure, one or two requirements near what the craft has today. */
function question(seed: number) {
  const { build, option } = randomCraft(seed);
  const random = randomNumbers(7919 * seed + 1);
  const { results } = assess(build, option);
  const knob = pick(
    random,
    knobsOf(build, option).filter(({ name }) => KNOBS.some((one) => one === name)),
  );
  const kept = Array.from({ length: random() < 0.5 ? 1 : 2 }, () => {
    const name = pick(random, RESULTS);
    const now = results.get(name)?.estimate.value;
    const limit = (now ?? 1) * (0.75 + 0.5 * random());
    return required(name, random() < 0.5 ? '>=' : '<=', limit);
  });
  const direction: Direction = random() < 0.5 ? 'most' : 'least';
  const failing = (value: number) =>
    kept.filter((one) => judge(one, assessShiftedPlainly(build, knob.at(value))).leaning !== 'holds');
  return { build, knob, kept, direction, failing, random };
}

const words = (knob: Knob, direction: Direction, kept: readonly Requirement[]) =>
  `${direction} ${knob.name} with ${kept.map(({ text }) => text).join(' and ')}`;

describe('an answer of solve', () => {
  const seeds = Array.from({ length: cases(16, 400) }, (_, i) => i + 1);

  it('keeps what it keeps, and one step beyond it does not', () => {
    const seen = { value: 0, unlimited: 0, never: 0 };
    for (const seed of seeds) {
      const { build, knob, kept, direction, failing, random } = question(seed);
      const found = solve(build, knob, direction, kept);
      const asked = `${seed}: ${words(knob, direction, kept)}`;
      expect(found, asked).toBeDefined();
      if (!found) continue;
      const [least, most] = knob.range;
      if ('value' in found) {
        seen.value += 1;
        const { value } = found.value;
        // Found to a millionth of what lies between two values of the grid.
        const step = 1e-4 * (most - least);
        const outwards = direction === 'most' ? 1 : -1;
        const inside = value - outwards * Math.min(step, 1e-3 * Math.abs(value));
        expect(
          failing(inside).map(({ text }) => text),
          `${asked}, within`,
        ).toEqual([]);
        const beyond = value + outwards * 1e-3 * Math.max(Math.abs(value), step);
        if (beyond > least && beyond < most)
          expect(
            failing(beyond).map(({ text }) => text),
            `${asked}, beyond`,
          ).toContain(found.stop.text);
      } else if ('unlimited' in found) {
        seen.unlimited += 1;
        expect(failing(found.unlimited), asked).toEqual([]);
        expect(found.unlimited).toBe(direction === 'most' ? most : Math.min(...[least, found.unlimited]));
      } else {
        seen.never += 1;
        expect(kept.map(({ text }) => text)).toContain(found.never.text);
        for (let i = 0; i < 10; i++)
          expect(failing(least + (most - least) * random()).length, asked).toBeGreaterThan(0);
      }
    }
    expect(Math.min(...Object.values(seen)), JSON.stringify(seen)).toBeGreaterThan(0);
    expect(seen.value).toBeGreaterThan(seeds.length / 4);
  });
});
