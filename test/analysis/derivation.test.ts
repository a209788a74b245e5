/** A result explains itself: the numbers put in give the value again, each with where it comes from. */
import { describe, expect, test } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import { type Derivation, derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { formatPlusMinus } from '../../packages/language/src/units/print.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { Rafter, Slim900_3S, Slim900_5S } from './rafter.ts';
import { randomCraft } from './random-builds.ts';

const on3S = assess(Rafter, Slim900_3S);

function derived(name: ResultId, assessment = on3S): Derivation {
  const derivation = derivationOf(name, assessment);
  if (!derivation) throw new Error(`${name} does not explain itself`);
  return derivation;
}

const number = (name: ResultId, symbol: string, assessment = on3S): number => {
  const term = derived(name, assessment).terms.find((one) => one.symbol === symbol);
  if (!term) throw new Error(`${name} has no ${symbol}`);
  return term.value;
};

const value = (name: ResultId): number => on3S.results.get(name)?.estimate.value ?? Number.NaN;

describe('the numbers put in give the value again', () => {
  test('dry mass: the sum of its lines', () => {
    const sum = derived('dry_mass').terms.reduce((total, term) => total + term.value, 0);
    expect(sum).toBeCloseTo(value('dry_mass'), 12);
  });

  test('all-up weight', () => {
    const of = (symbol: string) => number('all_up_weight', symbol);
    expect(of('m_d') + of('n') * of('m_p')).toBeCloseTo(value('all_up_weight'), 12);
  });

  test('effective kv', () => {
    const of = (symbol: string) => number('effective_kv', symbol, assess(Rafter, Slim900_5S));
    expect(of('K') * of('d')).toBeCloseTo(value('effective_kv') * 0.58, 9);
  });

  test('hover duty: motor voltage and the drop in the board over the bus voltage', () => {
    const of = (symbol: string) => number('hover_duty', symbol);
    expect((of('v') + of('i') * of('R_on')) / of('V')).toBeCloseTo(value('hover_duty'), 9);
  });

  test('hover speed: the thrust that equals the weight', () => {
    const of = (symbol: string) => number('hover_speed', symbol);
    const thrust = (of('m') * 9.80665) / of('N');
    const turns = Math.sqrt(thrust / ((1 + of('g_d')) * of('C_T') * of('ρ') * of('D') ** 4));
    expect(2 * Math.PI * turns).toBeCloseTo(value('hover_speed'), 6);
  });

  test('thrust-to-weight, tip speed and hover efficiency', () => {
    expect(number('thrust_to_weight', 'T') / (number('thrust_to_weight', 'm') * 9.80665)).toBeCloseTo(
      value('thrust_to_weight'),
      9,
    );
    expect((number('tip_speed', 'n') * number('tip_speed', 'D')) / 2).toBeCloseTo(value('tip_speed'), 9);
    expect((number('hover_efficiency', 'm') * 9.80665) / number('hover_efficiency', 'P')).toBeCloseTo(
      value('hover_efficiency'),
      9,
    );
  });
});

describe('every result', () => {
  const crafts = [
    on3S,
    assess(Rafter, Slim900_5S),
    ...[1, 2, 3].map((seed) => {
      const { build, option } = randomCraft(seed);
      return assess(build, option);
    }),
  ];
  const names = [...new Set(crafts.flatMap((assessment) => [...assessment.results.keys()]))];

  test.each(names)('%s has a formula, a source, and numbers that can be printed', (name) => {
    for (const assessment of crafts) {
      const derivation = assessment.results.has(name) ? derived(name, assessment) : undefined;
      if (!derivation) continue;
      expect(derivation.formula).not.toBe('');
      expect(derivation.source).not.toBe('');
      expect(derivation.terms.length).toBeGreaterThan(0);
      for (const term of derivation.terms) {
        expect(Number.isFinite(term.value), term.label).toBe(true);
        expect(formatPlusMinus(term.value, term.plusMinus ?? 0, term.unit), term.label).not.toBe('unknown');
        if (term.result !== undefined) expect(assessment.results.has(term.result)).toBe(true);
      }
    }
  });

  test('figures state where they come from', () => {
    const resistance = derived('hover_duty').terms.find(({ symbol }) => symbol === 'R');
    expect(resistance).toMatchObject({ origin: 'measured', label: 'M1506_3900.resistance' });
    const factor = derived('full_current').terms.find(({ symbol }) => symbol === 'f');
    expect(factor?.because).toMatch(/common practice/);
  });

  test('what does not exist explains nothing', () => {
    expect(derivationOf('motor_temperature', on3S)).toBeUndefined();
    expect(derivationOf('flight.None.time', on3S)).toBeUndefined();
  });
});
