/** Results of one build on one pack: sums, facts of the trade, order, and what is reported when something is missing. */
import { describe, expect, test } from 'vitest';
import { assess, prepare } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { withGramsLeft } from '../../packages/language/src/analysis/decide/pack-grams.ts';
import { measuresOf } from '../../packages/language/src/analysis/results/all-readings.ts';
import type { Build, PackOption, Part } from '../../packages/language/src/model/build.ts';
import { partWith } from '../../packages/language/src/model/made-parts.ts';
import { fullDuty, hover, hoverEndurance } from '../../packages/language/src/physics/flight.ts';
import { noWork } from '../../packages/language/src/physics/work.ts';
import type { PropertyName } from '../../packages/language/src/vocabulary/properties.ts';
import { RESULT_NAMES, type ResultId } from '../../packages/language/src/vocabulary/results.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';
import { build, figureOf, load, packOption, part, rotors, rules, stated, use } from './handmade-builds.ts';
import { Board32, M1506, M1506_2400, P3022x3, Rafter, Slim900_3S, Slim900_5S } from './rafter.ts';
import { randomCraft } from './random-builds.ts';

function value(assessment: Assessment, name: ResultId): number {
  const result = assessment.results.get(name);
  if (!result) throw new Error(`${name}: ${assessment.missing.get(name)?.reason ?? 'unknown'}`);
  return result.estimate.value;
}

/** A part that has lost one of its properties. */
function without<Kind extends BlockKind>(of: Part<Kind>, property: PropertyName<Kind>): Part<Kind> {
  return partWith(of, {
    figure: (name) => (name === property ? undefined : of.figure(name)),
    declared: (name) => (name === property ? undefined : of.declared(name)),
    cells: (name) => (name === property ? undefined : of.cells(name)),
  });
}

describe('sums', () => {
  const assessment = assess(Rafter, Slim900_3S);

  test('the ledger adds up to the all-up weight', () => {
    const sum = assessment.masses.reduce((total, { mass }) => total + mass.value, 0);
    expect(sum).toBeCloseTo(value(assessment, 'all_up_weight'), 12);
    // By hand: 47.5 + 4·12.4 + 4·1.52 + 11.3 + 16.2 + 1.2 + 5.2 + 1.6 g, 2 % for small things, and the pack of 78.1 g.
    expect(value(assessment, 'all_up_weight')).toBeCloseTo((138.68 * 1.02 + 78.1) * 1e-3, 9);
    expect(assessment.masses.some(({ label }) => label === 'small things')).toBe(true);
  });

  test('a dry mass on the scale replaces the sum, and needs no small things', () => {
    const weighed = { ...Rafter, dryMass: figureOf('Rafter.dry_mass', stated(140, 'g', 0.4, { origin: 'measured' })) };
    const result = assess(weighed, Slim900_3S);
    expect(value(result, 'all_up_weight')).toBeCloseTo(218.1e-3, 12);
    expect(result.masses.map(({ label }) => label)).toEqual(['weighed dry mass', 'Slim900_3S']);
  });

  test('two packs in parallel have twice the charge at half the resistance, in series twice the voltage', () => {
    const pair = (arrangement: PackOption['arrangement']) => ({
      ...Slim900_3S,
      name: arrangement,
      count: 2,
      arrangement,
    });
    const heavy = build({ ...Rafter, dryMass: figureOf('dry', stated(140, 'g')) });
    const single = prepare(heavy, Slim900_3S).evaluation.setup.craft;
    const parallel = prepare(heavy, pair('parallel')).evaluation.setup.craft;
    const series = prepare(heavy, pair('series')).evaluation.setup.craft;
    expect(parallel?.pack.capacity).toBeCloseTo(2 * (single?.pack.capacity ?? 0), 9);
    expect(parallel?.pack.positionResistance).toBeCloseTo((single?.pack.positionResistance ?? 0) / 2, 12);
    expect(parallel?.pack.leadResistance).toBeCloseTo((single?.pack.leadResistance ?? 0) / 2, 12);
    expect(series?.pack.cellsInSeries).toBe(6);
    expect(series?.pack.leadResistance).toBeCloseTo(2 * (single?.pack.leadResistance ?? 0), 12);
    expect(parallel?.mass).toBeCloseTo((single?.mass ?? 0) + 78.1e-3, 12);
  });

  test('a coaxial pair lifts less than two lone rotors, and sweeps its disc once', () => {
    const coaxial: Build = {
      ...Rafter,
      rotors: [rotors(2, M1506, P3022x3, 'upper'), rotors(2, M1506, P3022x3, 'lower')],
    };
    const pair = assess(coaxial, Slim900_3S);
    expect(value(pair, 'full_thrust')).toBeCloseTo(0.87 * value(assessment, 'full_thrust'), 6);
    expect(value(pair, 'disc_loading')).toBeCloseTo(2 * value(assessment, 'disc_loading'), 9);
  });
});

describe('facts of the trade (common practice)', () => {
  const on3S = assess(Rafter, Slim900_3S);
  const limited = assess(Rafter, Slim900_5S);

  test('effective kv is kv times the duty limit', () => {
    expect(value(limited, 'effective_kv') / value(on3S, 'effective_kv')).toBeCloseTo(0.58, 12);
  });

  test('at the ratio of the cells a 3S winding on 5S turns as on 3S', () => {
    const threeFifths = { ...Slim900_5S, dutyLimit: { ...Slim900_5S.dutyLimit, value: 3 / 5 } };
    const asWound = assess(Rafter, threeFifths);
    expect(value(asWound, 'no_load_speed')).toBeCloseTo(value(on3S, 'no_load_speed'), 6);
    // A little more under load: five cells sag less.
    expect(value(asWound, 'full_motor_current') / value(on3S, 'full_motor_current')).toBeGreaterThan(1);
    expect(value(asWound, 'full_motor_current') / value(on3S, 'full_motor_current')).toBeLessThan(1.15);
  });

  test('a craft of about 220 g on 900 mAh 3S: minutes, thrust and currents as flown', () => {
    expect(value(on3S, 'hover_time') / 60).toBeGreaterThan(4);
    expect(value(on3S, 'hover_time') / 60).toBeLessThan(10);
    expect(value(on3S, 'thrust_to_weight')).toBeGreaterThan(3);
    expect(value(on3S, 'thrust_to_weight')).toBeLessThan(6);
    expect(value(on3S, 'full_motor_current')).toBeGreaterThan(6);
    expect(value(on3S, 'full_motor_current')).toBeLessThan(16);
  });

  test('a camera that needs 3.4 V per cell browns out well before the reserve; with two cells more never', () => {
    const camera = on3S.loads.find(({ load: { name } }) => name === 'WideCam');
    expect(camera?.burstBrownOut?.value).toBeGreaterThan(0.3);
    expect(camera?.landByHoverVoltage?.value).toBeGreaterThan(3.5);
    expect(value(on3S, 'land_by_resting_voltage')).toBeGreaterThan(value(limited, 'land_by_resting_voltage'));
    // Nobody flies the last hundredth of the charge.
    for (const { burstBrownOut } of limited.loads) expect(burstBrownOut?.value ?? 0).toBeLessThan(0.01);
    expect(on3S.rails[0]?.dropsOut).toBe(true);
  });

  test('a winding for 5S gives on 5S nearly the thrust of one for 3S on 3S', () => {
    const other: Build = { ...Rafter, rotors: [rotors(4, M1506_2400, P3022x3)] };
    const ratio =
      value(assess(other, { ...Slim900_5S, dutyLimit: Slim900_3S.dutyLimit }), 'full_thrust') /
      value(on3S, 'full_thrust');
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.35);
  });

  test('one gram more costs about 1.5 hover times over the mass', () => {
    const cost = value(limited, 'gram_cost_time');
    const powerLaw = (1.5 * value(limited, 'hover_time')) / value(limited, 'all_up_weight');
    expect(cost / powerLaw).toBeGreaterThan(0.6);
    expect(cost / powerLaw).toBeLessThan(1.1);
  });
});

describe('order', () => {
  test('in which parts are listed never decides', () => {
    const turned: Build = {
      ...Rafter,
      loads: [...Rafter.loads].reverse(),
      items: [...Rafter.items].reverse(),
      packs: [...Rafter.packs].reverse(),
    };
    const straight = assess(Rafter, Slim900_3S);
    const reversed = assess(turned, Slim900_3S);
    for (const [name, { estimate }] of straight.results) {
      const other = reversed.results.get(name)?.estimate;
      expect(Math.abs((other?.value ?? Number.NaN) / estimate.value - 1), name).toBeLessThan(1e-9);
    }
  });
});

describe('what is missing is reported', () => {
  const M = (property: PropertyName<'motor'>): Build => ({
    ...Rafter,
    rotors: [rotors(4, without(M1506, property), P3022x3)],
  });

  test.each([
    ['resistance', 'the resistance of M1506_3900 is not known'],
    ['inductance', 'the inductance of M1506_3900 is not known'],
    ['no_load_current', 'the no-load current of M1506_3900 is not known'],
  ] as const)('a motor without its %s: masses and effective kv still compute', (property, reason) => {
    const assessment = assess(M(property), Slim900_3S);
    expect(assessment.missing.get('hover_time')?.reason).toBe(reason);
    expect(assessment.missing.get('full_current')?.reason).toBe(reason);
    expect(value(assessment, 'effective_kv')).toBeGreaterThan(0);
    expect(value(assessment, 'all_up_weight')).toBeGreaterThan(0);
    expect(assessment.points.hover).toBeUndefined();
  });

  test('a part without its mass: full duty still computes, what depends on the weight reports why it is missing', () => {
    const assessment = assess({ ...Rafter, escs: [use(without(Board32, 'mass'))] }, Slim900_3S);
    const reason = 'the mass of Board32 is not known';
    expect(assessment.missing.get('all_up_weight')?.reason).toBe(reason);
    expect(assessment.missing.get('thrust_to_weight')?.reason).toBe(reason);
    expect(assessment.missing.get('hover_duty')?.reason).toBe(reason);
    expect(value(assessment, 'full_thrust')).toBeGreaterThan(0);
  });

  test.each([
    ['nothing at all', build({}), 'the build has no motors'],
    ['no esc', { ...Rafter, escs: [] }, 'the build has no esc'],
  ])('%s', (_, of, reason) => {
    const assessment = assess(of, Slim900_3S);
    expect(assessment.missing.get('full_current')?.reason).toBe(reason);
    expect(assessment.results.get('full_current')).toBeUndefined();
  });

  test('a pack without cells', () => {
    const option = packOption(without(Slim900_3S.part, 'cells'));
    expect(assess(Rafter, option).missing.get('no_load_speed')?.reason).toBe('the cells of Slim900_3S are not known');
  });

  test('too heavy to hover: the shortfall in words', () => {
    const ballast = part('item', 'Ballast', { figures: { mass: stated(1100, 'g') } });
    const assessment = assess({ ...Rafter, items: [use(ballast)] }, Slim900_3S);
    expect(assessment.missing.get('hover_time')?.reason).toMatch(/^the rotors are short of [\d.]+ gf of thrust/);
    expect(value(assessment, 'thrust_to_weight')).toBeLessThan(1);
    expect(assessment.points.hover).toMatchObject({ impossible: 'thrust' });
  });

  test('a load that no pack can feed: the want of power in words', () => {
    const heater = part('load', 'Heater', { figures: { draw: stated(5000, 'W'), mass: stated(1, 'g') } });
    const assessment = assess({ ...Rafter, loads: [load(heater)] }, Slim900_3S);
    expect(assessment.missing.get('full_current')?.reason).toMatch(/^the pack supplies \d+ W less than is required/);
  });

  test('every result of the list either exists or gives the reason why not', () => {
    for (const option of [Slim900_3S, Slim900_5S]) {
      const assessment = withGramsLeft(assess(Rafter, option));
      // A craft without a single price has none, and nobody misses it.
      for (const name of RESULT_NAMES.filter((one) => one !== 'price')) {
        expect(assessment.results.has(name) !== assessment.missing.has(name), name).toBe(true);
      }
    }
  });

  test('no number is ever not a number', () => {
    for (let seed = 0; seed < 40; seed++) {
      const { build: of, option } = randomCraft(seed, 2);
      // The hard ones: too heavy, flat out, hardly any charge.
      const ballast = use(
        part('item', 'Ballast', { figures: { mass: stated(10 ** (seed % 4), 'g') } }),
        1 + (seed % 3),
      );
      const { results, missing } = assess({ ...of, items: [ballast] }, option);
      for (const { name, estimate } of results.values()) {
        expect(Number.isFinite(estimate.value), name).toBe(true);
        expect(
          estimate.contributions.every((share) => Number.isFinite(share)),
          name,
        ).toBe(true);
      }
      for (const { reason } of missing.values()) expect(reason).not.toMatch(/NaN|unknown|undefined/);
    }
  });
});

describe('as flown', () => {
  const flown = [
    { share: figureOf('flown.1', stated(70, '%')), hoverMultiple: figureOf('flown.1.at', stated(1, '')) },
    { share: figureOf('flown.2', stated(30, '%')), hoverMultiple: figureOf('flown.2.at', stated(1.6, '')) },
  ];
  const mixed: Build = { ...Rafter, rules: rules({ flown }) };

  test('bursts shorten the flight, not the hover', () => {
    const assessment = assess(mixed, Slim900_5S);
    expect(value(assessment, 'hover_time')).toBeCloseTo(value(assess(Rafter, Slim900_5S), 'hover_time'), 9);
    expect(value(assessment, 'flight_time')).toBeLessThan(value(assessment, 'hover_time'));
    expect(assessment.rotors[0]?.mixCurrent?.value).toBeGreaterThan(
      assess(Rafter, Slim900_5S).rotors[0]?.mixCurrent?.value ?? 0,
    );
  });

  test('time on the ground is taken off', () => {
    const waiting: Build = { ...Rafter, rules: rules({ groundTime: figureOf('ground', stated(120, 's')) }) };
    expect(value(assess(waiting, Slim900_5S), 'flight_time')).toBeLessThan(
      value(assess(Rafter, Slim900_5S), 'flight_time'),
    );
  });
});

describe('work', () => {
  test('an assessment is remembered by its build and option', () => {
    expect(assess(Rafter, Slim900_3S)).toBe(assess(Rafter, Slim900_3S));
    expect(assess({ ...Rafter }, Slim900_3S)).not.toBe(assess(Rafter, Slim900_3S));
  });

  test('what the solvers do for one craft', () => {
    const { craft } = prepare(Rafter, Slim900_5S).evaluation.setup;
    if (!craft) throw new Error('the craft is complete');
    const work = [noWork(), noWork(), noWork(), noWork(), noWork()];
    const hovering = hover(craft, 0.6, work[0]);
    const full = fullDuty(craft, 1, work[1]);
    hoverEndurance(craft, work[2]);
    // Of a craft that differs very little, as one does for each figure whose ± is propagated.
    const heavier = { ...craft, mass: craft.mass * (1 + 1e-6), dutyLimit: craft.dutyLimit * (1 - 1e-6) };
    hover(heavier, 0.6, work[3], hovering);
    fullDuty(heavier, 1, work[4], full);
    expect(work).toMatchInlineSnapshot(`
      [
        {
          "busEvaluations": 3,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 4,
          "speedEvaluations": 14,
        },
        {
          "busEvaluations": 29,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 2,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 2,
          "speedEvaluations": 5,
        },
      ]
    `);
  });

  test('how many quantities are read, and how many inputs they rest on', () => {
    const { inputs, results } = assess(Rafter, Slim900_5S);
    expect({
      measures: measuresOf(Rafter, Slim900_5S).length,
      results: results.size,
      inputs: inputs.length,
    }).toMatchInlineSnapshot(`
      {
        "inputs": 60,
        "measures": 93,
        "results": 41,
      }
    `);
  });
});
