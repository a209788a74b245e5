/** Duty limits and grams that fixes and advice are made of. */
import { describe, expect, test } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import {
  dutyForRatedCells,
  dutyLimitFor,
  equivalentCells,
  packGramsLeft,
  withDutyLimit,
} from '../../packages/language/src/analysis/solve.ts';
import type { Build, Expression, Requirement } from '../../packages/language/src/model/build.ts';
import { figureOf, PLACE, rules, stated } from './builds.ts';
import { Rafter, Slim480_2S, Slim480_3S } from './rafter.ts';

const fullCurrent = (assessment: Assessment) =>
  assessment.results.get('full_motor_current')?.estimate.value ?? Number.NaN;
const atFullDuty = withDutyLimit(Slim480_3S, 1);

describe('the largest duty limit', () => {
  test('keeps a current, to a tenth of a percent', () => {
    const duty = dutyLimitFor(Rafter, atFullDuty, (assessment) => fullCurrent(assessment) <= 8) ?? Number.NaN;
    expect(fullCurrent(assess(Rafter, withDutyLimit(Slim480_3S, duty)))).toBeLessThanOrEqual(8);
    expect(fullCurrent(assess(Rafter, withDutyLimit(Slim480_3S, duty + 2e-3)))).toBeGreaterThan(8);
  });

  test('is the present one where nothing needs limiting, and none where nothing helps', () => {
    expect(dutyLimitFor(Rafter, atFullDuty, () => true)).toBe(1);
    expect(dutyLimitFor(Rafter, atFullDuty, () => false)).toBeUndefined();
  });

  test('that makes 2S of 3S is two thirds, and back', () => {
    expect(dutyForRatedCells(8.4, 12.6)).toBeCloseTo(2 / 3, 12);
    expect(dutyForRatedCells(12.6, 8.4)).toBe(1);
    expect(equivalentCells(3, 2 / 3)).toBeCloseTo(2, 12);
  });
});

describe('grams of pack that may be added', () => {
  const require = (name: string, operator: '<=' | '>=', value: number, unit: string): Requirement => {
    const left: Expression = { kind: 'result', name, place: PLACE };
    const right: Expression = { kind: 'quantity', figure: figureOf('asked', stated(value, unit)), place: PLACE };
    return { condition: { kind: 'comparison', operator, left, right, place: PLACE }, text: '', place: PLACE };
  };
  const asked = (...requirements: Requirement[]): Build => ({ ...Rafter, rules: rules({ requirements }) });

  test('up to a weight limit: what is left of it', () => {
    const left = packGramsLeft(asked(require('all_up_weight', '<=', 130, 'g')), Slim480_2S);
    const weight = assess(Rafter, Slim480_2S).results.get('all_up_weight')?.estimate.value ?? 0;
    expect(left?.grams).toBeCloseTo(130 - weight * 1e3, 1);
  });

  test('the requirement that fails first decides', () => {
    const thrust = require('thrust_to_weight', '>=', 5, '');
    const left = packGramsLeft(asked(require('all_up_weight', '<=', 400, 'g'), thrust), Slim480_2S);
    expect(left?.limitedBy).toBe(thrust);
    expect(left?.grams).toBeGreaterThan(0);
  });

  test('none where a requirement fails already, or where none is asked', () => {
    expect(packGramsLeft(asked(require('all_up_weight', '<=', 90, 'g')), Slim480_2S)?.grams).toBe(0);
    expect(packGramsLeft(Rafter, Slim480_2S)).toBeUndefined();
  });
});
