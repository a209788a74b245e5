/** Flights in legs of builds that are written as text: their ±, what moves it, and what they are explained by. */
import { describe, expect, test } from 'vitest';
import { assess, templateOf } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { judge } from '../../packages/language/src/analysis/decide/requirements.ts';
import { evaluate } from '../../packages/language/src/analysis/evaluate/evaluation.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { resultMeasures } from '../../packages/language/src/analysis/results/all-results.ts';
import type { Setup } from '../../packages/language/src/analysis/setup/setup.ts';
import { fill, withMoved } from '../../packages/language/src/analysis/setup/template.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { Build, PackOption } from '../../packages/language/src/model/build.ts';
import type { FlightResultName } from '../../packages/language/src/vocabulary/results.ts';
import { modelOf } from '../model/read.ts';

interface Written {
  readonly legs?: string;
  readonly build?: string;
  readonly frame?: string;
  readonly with?: string;
}

const ROUND = `
  leg: 15 s climb at 3 m/s
  leg: 200 m at 9 m/s against 5 m/s
  leg: 1 min hover against 5 m/s
  leg: release Crate
  leg: home at 10 m/s
  leg: 20 s descent at 2 m/s`;

const text = ({ legs = ROUND, build = '', frame = '', with: on = '' }: Written) => `
motor M { stator: 16 x 6 mm  kv: 3150 rpm/V claimed  resistance: 82 mohm  no_load_current: 0.74 A at 10 V  mass: 14.7 g }
propeller P { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g }
esc E { continuous: 35 A  mass: 12 g }
airframe F { rotors: 4  wheelbase: 148 mm  mass: 61 g  ${frame} }
pack B { cells: 4S  capacity: 1050 mAh claimed  cell_resistance: 8.2 mohm  mass: 121 g }
pack Small like B { capacity: 450 mAh claimed  mass: 60 g }
item Crate { mass: 25 g +- 1 g }
flight Round {${legs}
}
build Craft {
  airframe: F
  motors: 4 x M with P
  esc: E
  item: Crate
  pack: B
  pack: Small
  flight: Round ${on}
  ${build}
}`;

async function assessed(written: Written = {}, pack = 0): Promise<Assessment> {
  const { build, option } = await craftOf(written, pack);
  return assess(build, option);
}

async function craftOf(written: Written, pack = 0): Promise<{ build: Build; option: PackOption }> {
  const model = await modelOf(text(written));
  expect(model.problems.filter(({ id }) => id !== 'unused-use').map(({ message }) => message)).toEqual([]);
  const [build] = model.builds;
  const option = build?.packs[pack];
  if (!build || !option) throw new Error('no build');
  return { build, option };
}

const of = ({ results }: Assessment, name: FlightResultName) => {
  const result = results.get(`flight.Round.${name}`);
  if (!result) throw new Error(`no ${name}`);
  return result.estimate;
};

const NAMES = ['charge', 'charge_left', 'end_voltage', 'turn_back_time', 'turn_back_voltage'] as const;

describe('the ± of a flight', () => {
  test('is what moving each input alone gives, solved anew', async () => {
    const { build, option } = await craftOf({});
    const assessment = assess(build, option);
    const { template } = templateOf(build, option);
    const measures = resultMeasures(build, option).filter(({ name }) => name.startsWith('flight.'));
    const valuesAt = (id: string, deviations: number) => {
      const evaluation = evaluate(fill<Setup>(template, withMoved(id, deviations)).filled);
      return new Map(measures.map(({ name, of: read }) => [name, read(evaluation) ?? Number.NaN]));
    };
    const step = 0.02;
    for (const [i, { id }] of assessment.inputs.entries()) {
      const [up, down] = [valuesAt(id, step), valuesAt(id, -step)];
      for (const name of NAMES) {
        const full = `flight.Round.${name}` as const;
        const slope = ((up.get(full) ?? 0) - (down.get(full) ?? 0)) / (2 * step);
        const estimate = of(assessment, name);
        const off = Math.abs((estimate.contributions[i] ?? 0) - slope);
        expect(off, `${name}, ${id}`).toBeLessThan(0.01 * expanded(estimate));
      }
    }
  });

  test('is narrowed by what was measured on the craft', async () => {
    const before = await assessed();
    const after = await assessed({
      build: 'observed "a flight" with B { airborne: 5 min  put_back: 640 mAh  scale: 286 g }',
    });
    expect(after.learnt).toBeDefined();
    expect(expanded(of(after, 'charge')) / of(after, 'charge').value).toBeLessThan(
      0.6 * (expanded(of(before, 'charge')) / of(before, 'charge').value),
    );
  });
});

describe('a flight of a build', () => {
  test('that hovers as long as it can ends at the reserve', async () => {
    const { results } = await assessed();
    const seconds = results.get('hover_time')?.estimate.value ?? 0;
    const hovered = await assessed({ legs: `\n  leg: ${seconds} s hover` });
    expect(of(hovered, 'charge_left').value).toBeCloseTo(0.2, 4);
    expect(of(hovered, 'charge').value).toBeCloseTo(results.get('charge_used')?.estimate.value ?? 0, -1);
  });

  test('releases several from the lines they are on, one each, as from one line of them all', async () => {
    const legs = `\n  leg: release Crate${ROUND.replace('release Crate', 'release 2 x Crate')}`;
    const each = await assessed({ legs, build: 'item: Crate\n  item: Crate' });
    const together = await assessed({ legs, build: 'item: 2 x Crate' });
    for (const name of NAMES) expect(of(each, name).value).toBeCloseTo(of(together, name).value, 9);
    const masses = each.flights[0]?.legs.map(({ mass }) => mass?.value ?? Number.NaN) ?? [];
    expect((masses[1] ?? 0) - (masses.at(-1) ?? 0)).toBeCloseTo(0.05, 12);
  });

  test('without what it released it weighs that much less', async () => {
    const { flights } = await assessed();
    const masses = flights[0]?.legs.map(({ mass }) => mass?.value ?? Number.NaN) ?? [];
    expect((masses[2] ?? 0) - (masses[3] ?? 0)).toBeCloseTo(0.025, 12);
    expect(masses[4]).toBe(masses[3]);
  });

  test('has a drag area only where a leg meets the air, and its own before an estimated one', async () => {
    const still = await assessed({ legs: '\n  leg: 1 min hover\n  leg: 10 s climb at 2 m/s' });
    expect(still.results.has('wind_held')).toBe(false);
    expect(still.inputs.some(({ id }) => id.endsWith('.drag_area'))).toBe(false);
    const moving = await assessed();
    const estimated = moving.inputs.find(({ id }) => id.endsWith('.drag_area'));
    expect(estimated?.origin).toBe('estimated');
    const declared = await assessed({ frame: 'drag_area: 90 cm^2 measured' });
    expect(declared.inputs.find(({ id }) => id === estimated?.id)).toMatchObject({
      origin: 'measured',
      value: expect.closeTo(90e-4, 9),
    });
  });

  test('is the sum that its derivation gives', async () => {
    const assessment = await assessed({ build: 'ground: 40 s' });
    const { terms = [] } = derivationOf('flight.Round.charge', assessment) ?? {};
    const termOf = (symbol: string) => terms.find((term) => term.symbol === symbol)?.value ?? 0;
    const legs = [1, 2, 3, 4, 5, 6].map((k) => termOf(`I_${k}`) * termOf(`t_${k}`));
    const sum = legs.reduce((total, charge) => total + charge, termOf('Q_g'));
    expect(termOf('Q_g')).toBeGreaterThan(0);
    expect(sum / of(assessment, 'charge').value).toBeCloseTo(1, 9);
  });

  test('with one pack is computed on that pack only', async () => {
    const written = { with: 'with B', build: 'require flight.Round.charge_left >= 10 %' };
    const { build } = await craftOf(written);
    expect(build.rules.requirements.map(({ pack }) => pack)).toEqual(['B']);
    const [requirement] = build.rules.requirements;
    const assessment = await assessed(written);
    expect(requirement && judge(requirement, assessment).outcome).toBe('holds');
    expect((await assessed(written, 1)).flights).toEqual([]);
  });

  test('whose pack is too small takes more than there is', async () => {
    const small = await assessed({ legs: '\n  leg: 7 min hover' }, 1);
    expect(small.flights[0]?.demand?.value).toBeGreaterThan(1);
    expect(small.flights[0]?.flown?.shortIn).toBe(0);
  });
});
