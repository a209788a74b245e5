/** Duty limits that fixes and advice are made of. */
import { describe, expect, test } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import {
  dutyForRatedCells,
  dutyLimitFor,
  withDutyLimit,
} from '../../packages/language/src/analysis/decide/changed-craft.ts';
import { Rafter, Slim900_5S } from './rafter.ts';

const fullCurrent = (assessment: Assessment) =>
  assessment.results.get('full_motor_current')?.estimate.value ?? Number.NaN;
const atFullDuty = withDutyLimit(Slim900_5S, 1);

describe('the largest duty limit', () => {
  test('keeps a current, to a tenth of a percent', () => {
    const duty = dutyLimitFor(Rafter, atFullDuty, (assessment) => fullCurrent(assessment) <= 8) ?? Number.NaN;
    expect(fullCurrent(assess(Rafter, withDutyLimit(Slim900_5S, duty)))).toBeLessThanOrEqual(8);
    expect(fullCurrent(assess(Rafter, withDutyLimit(Slim900_5S, duty + 2e-3)))).toBeGreaterThan(8);
  });

  test('is the present one where nothing needs limiting, and none where nothing helps', () => {
    expect(dutyLimitFor(Rafter, atFullDuty, () => true)).toBe(1);
    expect(dutyLimitFor(Rafter, atFullDuty, () => false)).toBeUndefined();
  });

  test('is none where the craft would not lift off under it', () => {
    const hovering = assess(Rafter, atFullDuty).results.get('hover_duty')?.estimate.value ?? Number.NaN;
    const below = hovering * 0.9;
    const current = fullCurrent(assess(Rafter, withDutyLimit(Slim900_5S, below)));
    expect(current).toBeGreaterThan(0);
    expect(dutyLimitFor(Rafter, atFullDuty, (assessment) => fullCurrent(assessment) <= current)).toBeUndefined();
  });

  test('that makes 3S of 5S is three fifths', () => {
    expect(dutyForRatedCells(12.6, 21)).toBeCloseTo(3 / 5, 12);
    expect(dutyForRatedCells(21, 12.6)).toBe(1);
  });
});
