/** Results of one build on one pack: sums, facts of the trade, order, and what is said when something is missing. */
import { describe, expect, test } from 'vitest';
import { assess, measuresOf, prepare } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { withGramsLeft } from '../../packages/language/src/analysis/decide/pack-grams.ts';
import type { Build, PackOption, Part } from '../../packages/language/src/model/build.ts';
import { fullDuty, hover, hoverTime } from '../../packages/language/src/physics/flight.ts';
import { noWork } from '../../packages/language/src/physics/work.ts';
import { resultNames } from '../../packages/language/src/vocabulary/results.ts';
import { build, figureOf, load, packOption, part, rotors, rules, stated, use } from './builds.ts';
import { Board18, M1104, M1104_7800, P2020x3, Rafter, Slim480_2S, Slim480_3S } from './rafter.ts';
import { randomCraft } from './random-builds.ts';

function value(assessment: Assessment, name: string): number {
  const result = assessment.results.get(name);
  if (!result) throw new Error(`${name}: ${assessment.missing.get(name)?.reason ?? 'unknown'}`);
  return result.estimate.value;
}

/** A part that has lost one of its properties. */
function without(of: Part, property: string): Part {
  return {
    ...of,
    figure: (name) => (name === property ? undefined : of.figure(name)),
    declared: (name) => (name === property ? undefined : of.declared(name)),
    cells: (name) => (name === property ? undefined : of.cells(name)),
  };
}

describe('sums', () => {
  const assessment = assess(Rafter, Slim480_2S);

  test('the ledger adds up to the all-up weight', () => {
    const sum = assessment.masses.reduce((total, { mass }) => total + mass.value, 0);
    expect(sum).toBeCloseTo(value(assessment, 'all_up_weight'), 12);
    // By hand: 31.5 + 4·3.4 + 4·0.52 + 6.1 + 6.8 + 0.9 + 4.2 + 1.6 g, 2 % for small things, and the pack of 28.1 g.
    expect(value(assessment, 'all_up_weight')).toBeCloseTo((66.78 * 1.02 + 28.1) * 1e-3, 9);
    expect(assessment.masses.some(({ label }) => label === 'small things')).toBe(true);
  });

  test('a dry mass on the scale stands for the sum, and needs no small things', () => {
    const weighed = { ...Rafter, dryMass: figureOf('Rafter.dry_mass', stated(70, 'g', 0.2, { origin: 'measured' })) };
    const result = assess(weighed, Slim480_2S);
    expect(value(result, 'all_up_weight')).toBeCloseTo(98.1e-3, 12);
    expect(result.masses.map(({ label }) => label)).toEqual(['weighed dry mass', 'Slim480_2S']);
  });

  test('two packs in parallel hold twice the charge at half the resistance, in series twice the voltage', () => {
    const pair = (arrangement: PackOption['arrangement']) => ({
      ...Slim480_2S,
      name: arrangement,
      count: 2,
      arrangement,
    });
    const heavy = build({ ...Rafter, dryMass: figureOf('dry', stated(70, 'g')) });
    const single = prepare(heavy, Slim480_2S).evaluation.setup.craft;
    const parallel = prepare(heavy, pair('parallel')).evaluation.setup.craft;
    const series = prepare(heavy, pair('series')).evaluation.setup.craft;
    expect(parallel?.pack.capacity).toBeCloseTo(2 * (single?.pack.capacity ?? 0), 9);
    expect(parallel?.pack.positionResistance).toBeCloseTo((single?.pack.positionResistance ?? 0) / 2, 12);
    expect(parallel?.pack.leadResistance).toBeCloseTo((single?.pack.leadResistance ?? 0) / 2, 12);
    expect(series?.pack.cellsInSeries).toBe(4);
    expect(series?.pack.leadResistance).toBeCloseTo(2 * (single?.pack.leadResistance ?? 0), 12);
    expect(parallel?.mass).toBeCloseTo((single?.mass ?? 0) + 28.1e-3, 12);
  });

  test('a stacked pair carries less than two lone rotors, and sweeps its disc once', () => {
    const stacked: Build = {
      ...Rafter,
      rotors: [rotors(2, M1104, P2020x3, 'upper'), rotors(2, M1104, P2020x3, 'lower')],
    };
    const pair = assess(stacked, Slim480_2S);
    expect(value(pair, 'full_thrust')).toBeCloseTo(0.87 * value(assessment, 'full_thrust'), 6);
    expect(value(pair, 'disc_loading')).toBeCloseTo(2 * value(assessment, 'disc_loading'), 9);
  });
});

describe('facts of the trade (common practice)', () => {
  const on2S = assess(Rafter, Slim480_2S);
  const at66 = assess(Rafter, Slim480_3S);

  test('effective kv is kv times the duty limit', () => {
    expect(value(at66, 'effective_kv') / value(on2S, 'effective_kv')).toBeCloseTo(0.66, 12);
  });

  test('at two thirds of duty a 2S winding on 3S is turned as on 2S', () => {
    const twoThirds = { ...Slim480_3S, dutyLimit: { ...Slim480_3S.dutyLimit, value: 2 / 3 } };
    const limited = assess(Rafter, twoThirds);
    expect(value(limited, 'no_load_speed')).toBeCloseTo(value(on2S, 'no_load_speed'), 6);
    // A little more under load: three cells sag less.
    expect(value(limited, 'full_motor_current') / value(on2S, 'full_motor_current')).toBeGreaterThan(1);
    expect(value(limited, 'full_motor_current') / value(on2S, 'full_motor_current')).toBeLessThan(1.15);
  });

  test('a craft of about 100 g on 480 mAh 2S: minutes, thrust and currents as flown', () => {
    expect(value(on2S, 'all_up_weight')).toBeGreaterThan(90e-3);
    expect(value(on2S, 'all_up_weight')).toBeLessThan(100e-3);
    expect(value(on2S, 'hover_time') / 60).toBeGreaterThan(3);
    expect(value(on2S, 'hover_time') / 60).toBeLessThan(6);
    expect(value(on2S, 'thrust_to_weight')).toBeGreaterThan(3);
    expect(value(on2S, 'thrust_to_weight')).toBeLessThan(6.2);
    expect(value(on2S, 'full_motor_current')).toBeGreaterThan(6);
    expect(value(on2S, 'full_motor_current')).toBeLessThan(10);
  });

  test('a camera that needs 6.8 V behind a 10 V step-down on 2S browns out well before the reserve; on 3S never', () => {
    const camera = on2S.loads.find(({ load: { name } }) => name === 'WideCam');
    expect(camera?.burstBrownOut?.value).toBeGreaterThan(0.3);
    expect(camera?.landByHoverVoltage?.value).toBeGreaterThan(3.6);
    expect(value(on2S, 'land_by_resting_voltage')).toBeGreaterThan(value(at66, 'land_by_resting_voltage'));
    // Nobody flies the last hundredth of the charge.
    for (const { burstBrownOut } of at66.loads) expect(burstBrownOut?.value ?? 0).toBeLessThan(0.01);
    expect(on2S.rails[0]?.dropsOut).toBe(true);
  });

  test('the slower winding on 3S behaves at full duty much like the faster one on 2S', () => {
    const quiet: Build = { ...Rafter, rotors: [rotors(4, M1104_7800, P2020x3)] };
    const ratio =
      value(assess(quiet, { ...Slim480_3S, dutyLimit: Slim480_2S.dutyLimit }), 'full_thrust') /
      value(on2S, 'full_thrust');
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.35);
  });

  test('one gram more costs about 1.5 hover times over the mass', () => {
    const cost = value(at66, 'gram_cost_time');
    const powerLaw = (1.5 * value(at66, 'hover_time')) / value(at66, 'all_up_weight');
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
    const straight = assess(Rafter, Slim480_2S);
    const reversed = assess(turned, Slim480_2S);
    for (const [name, { estimate }] of straight.results) {
      const other = reversed.results.get(name)?.estimate;
      expect(Math.abs((other?.value ?? Number.NaN) / estimate.value - 1), name).toBeLessThan(1e-9);
    }
  });
});

describe('what is missing is said', () => {
  const M = (property: string): Build => ({ ...Rafter, rotors: [rotors(4, without(M1104, property), P2020x3)] });

  test.each([
    ['resistance', 'the resistance of M1104_10500 is not known'],
    ['inductance', 'the inductance of M1104_10500 is not known'],
    ['no_load_current', 'the no-load current of M1104_10500 is not known'],
  ])('a motor without its %s: masses and effective kv still compute', (property, reason) => {
    const assessment = assess(M(property), Slim480_2S);
    expect(assessment.missing.get('hover_time')?.reason).toBe(reason);
    expect(assessment.missing.get('full_current')?.reason).toBe(reason);
    expect(value(assessment, 'effective_kv')).toBeGreaterThan(0);
    expect(value(assessment, 'all_up_weight')).toBeGreaterThan(0);
    expect(assessment.points.hover).toBeUndefined();
  });

  test('a part without its mass: full duty still computes, what hangs on the weight says why not', () => {
    const assessment = assess({ ...Rafter, escs: [use(without(Board18, 'mass'))] }, Slim480_2S);
    const reason = 'the mass of Board18 is not known';
    expect(assessment.missing.get('all_up_weight')?.reason).toBe(reason);
    expect(assessment.missing.get('thrust_to_weight')?.reason).toBe(reason);
    expect(assessment.missing.get('hover_duty')?.reason).toBe(reason);
    expect(value(assessment, 'full_thrust')).toBeGreaterThan(0);
  });

  test.each([
    ['nothing at all', build({}), 'the build has no motors'],
    ['no esc', { ...Rafter, escs: [] }, 'the build has no esc'],
  ])('%s', (_, of, reason) => {
    const assessment = assess(of, Slim480_2S);
    expect(assessment.missing.get('full_current')?.reason).toBe(reason);
    expect(assessment.results.get('full_current')).toBeUndefined();
  });

  test('a pack without cells', () => {
    const option = packOption(without(Slim480_2S.part, 'cells'));
    expect(assess(Rafter, option).missing.get('no_load_speed')?.reason).toBe('the cells of Slim480_2S are not known');
  });

  test('too heavy to hover: the shortfall in words', () => {
    const ballast = part('item', 'Ballast', { figures: { mass: stated(520, 'g') } });
    const assessment = assess({ ...Rafter, items: [use(ballast)] }, Slim480_2S);
    expect(assessment.missing.get('hover_time')?.reason).toMatch(/^the rotors are short of [\d.]+ gf of thrust/);
    expect(value(assessment, 'thrust_to_weight')).toBeLessThan(1);
    expect(assessment.points.hover).toMatchObject({ impossible: 'thrust' });
  });

  test('a load that no pack can feed: the want of power in words', () => {
    const heater = part('load', 'Heater', { figures: { draw: stated(5000, 'W'), mass: stated(1, 'g') } });
    const assessment = assess({ ...Rafter, loads: [load(heater)] }, Slim480_2S);
    expect(assessment.missing.get('full_current')?.reason).toMatch(/^the pack supplies \d+ W less than is required/);
  });

  test('every result of the list either exists or says why not', () => {
    for (const option of [Slim480_2S, Slim480_3S]) {
      const assessment = withGramsLeft(assess(Rafter, option));
      for (const name of resultNames()) {
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
    const assessment = assess(mixed, Slim480_3S);
    expect(value(assessment, 'hover_time')).toBeCloseTo(value(assess(Rafter, Slim480_3S), 'hover_time'), 9);
    expect(value(assessment, 'flight_time')).toBeLessThan(value(assessment, 'hover_time'));
    expect(assessment.rotors[0]?.mixCurrent?.value).toBeGreaterThan(
      assess(Rafter, Slim480_3S).rotors[0]?.mixCurrent?.value ?? 0,
    );
  });

  test('time on the ground is taken off', () => {
    const waiting: Build = { ...Rafter, rules: rules({ groundTime: figureOf('ground', stated(120, 's')) }) };
    expect(value(assess(waiting, Slim480_3S), 'flight_time')).toBeLessThan(
      value(assess(Rafter, Slim480_3S), 'flight_time'),
    );
  });
});

describe('work', () => {
  test('an assessment is remembered by its build and option', () => {
    expect(assess(Rafter, Slim480_2S)).toBe(assess(Rafter, Slim480_2S));
    expect(assess({ ...Rafter }, Slim480_2S)).not.toBe(assess(Rafter, Slim480_2S));
  });

  test('what the solvers do for one craft', () => {
    const { craft } = prepare(Rafter, Slim480_3S).evaluation.setup;
    if (!craft) throw new Error('the craft is complete');
    const work = [noWork(), noWork(), noWork(), noWork(), noWork()];
    const hovering = hover(craft, 0.6, work[0]);
    const full = fullDuty(craft, 1, work[1]);
    hoverTime(craft, work[2]);
    // Of a craft that differs very little, as one does for each figure whose ± is propagated.
    const heavier = { ...craft, mass: craft.mass * (1 + 1e-6), dutyLimit: craft.dutyLimit * (1 - 1e-6) };
    hover(heavier, 0.6, work[3], hovering);
    fullDuty(heavier, 1, work[4], full);
    expect(work).toMatchInlineSnapshot(`
      [
        {
          "busEvaluations": 4,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 5,
          "speedEvaluations": 18,
        },
        {
          "busEvaluations": 30,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 2,
          "speedEvaluations": 0,
        },
        {
          "busEvaluations": 2,
          "speedEvaluations": 6,
        },
      ]
    `);
  });

  test('how many quantities are read, and how many inputs they rest on', () => {
    const { inputs, results } = assess(Rafter, Slim480_3S);
    expect({
      measures: measuresOf(Rafter).length,
      results: results.size,
      inputs: inputs.length,
    }).toMatchInlineSnapshot(`
      {
        "inputs": 59,
        "measures": 81,
        "results": 41,
      }
    `);
  });
});
