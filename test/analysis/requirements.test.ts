/** Requirements: arithmetic, three outcomes, dimensions, and how they are reported. */
import { describe, expect, test } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import { judge } from '../../packages/language/src/analysis/decide/requirements.ts';
import type { Build, ComparisonOperator, Expression, Requirement } from '../../packages/language/src/model/build.ts';
import { resultNamed } from '../../packages/language/src/vocabulary/results.ts';
import { figureOf, PLACE, part, stated, use } from './handmade-builds.ts';
import { Rafter, Slim900_3S, Slim900_5S } from './rafter.ts';

const quantity = (value: number, unit: string): Expression => ({
  kind: 'quantity',
  figure: figureOf('asked', stated(value, unit)),
  place: PLACE,
});
const result = (name: string): Expression => ({
  kind: 'result',
  name,
  of: resultNamed(name),
  place: PLACE,
});
const compare = (left: Expression, operator: ComparisonOperator, right: Expression): Expression => ({
  kind: 'comparison',
  operator,
  left,
  right,
  place: PLACE,
});
const combine = (left: Expression, operator: '+' | '-' | '*' | '/', right: Expression): Expression => ({
  kind: 'arithmetic',
  operator,
  left,
  right,
  place: PLACE,
});
const not = (operand: Expression): Expression => ({ kind: 'not', operand, place: PLACE });
const all = (...operands: Expression[]): Expression => ({ kind: 'and', operands, place: PLACE });
const any = (...operands: Expression[]): Expression => ({ kind: 'or', operands, place: PLACE });
const extreme = (call: 'min' | 'max', ...values: Expression[]): Expression => ({
  kind: 'extreme',
  call,
  arguments: values,
  place: PLACE,
});

const on5S = assess(Rafter, Slim900_5S);
const verdict = (condition: Expression, assessment = on5S) =>
  judge({ condition, text: '', place: PLACE } satisfies Requirement, assessment);

const HOLDS = compare(result('all_up_weight'), '<=', quantity(290, 'g'));
const FAILS = compare(result('all_up_weight'), '<=', quantity(240, 'g'));
// 268 ± 3 g, mostly for the small things that nobody weighed.
const LIKELY = compare(result('all_up_weight'), '<=', quantity(269, 'g'));
const UNLIKELY = compare(result('all_up_weight'), '<=', quantity(267, 'g'));
const UNKNOWN = compare(result('motor_temperature'), '<=', quantity(80, 'degC'));

describe('one comparison', () => {
  test.each([
    ['holds, the ± included', HOLDS, 'holds', 'holds'],
    ['fails, the ± included', FAILS, 'fails', 'fails'],
    ['likely holds', LIKELY, 'unsure', 'holds'],
    ['likely fails', UNLIKELY, 'unsure', 'fails'],
    ['asks for what cannot be computed', UNKNOWN, 'unknown', undefined],
  ] as const)('%s', (_, condition, outcome, leaning) => {
    expect(verdict(condition)).toMatchObject({ outcome, leaning });
  });

  test('states the value and the requirement, whichever way round it is written', () => {
    expect(verdict(HOLDS).comparisons[0]?.words).toBe('all-up weight 268 ± 3 g, required ≤ 290 g');
    const turned = compare(quantity(290, 'g'), '>=', result('all_up_weight'));
    expect(verdict(turned).comparisons[0]?.words).toBe('all-up weight 268 ± 3 g, required ≤ 290 g');
    expect(verdict(turned).outcome).toBe('holds');
  });

  test('exactly at the limit: `>=` holds, `>` fails, for what has no ±', () => {
    const duty = (operator: ComparisonOperator) =>
      verdict(compare(combine(result('effective_kv'), '/', result('effective_kv')), operator, quantity(1, '')));
    expect(duty('>=').outcome).toBe('holds');
    expect(duty('>').outcome).toBe('fails');
  });

  test('what both sides share cancels', () => {
    // Each current alone is known to a third; that full duty takes more than hover is certain.
    const more = compare(result('full_current'), '>', combine(quantity(4, ''), '*', result('hover_current')));
    const [comparison] = verdict(more).comparisons;
    if (!comparison) throw new Error('one comparison was made');
    const separate = Math.hypot(
      ...[comparison.left, comparison.right].map(({ contributions }) => Math.hypot(...contributions)),
    );
    expect(Math.hypot(...comparison.difference.contributions)).toBeLessThan(separate);
  });
});

describe('logic with three outcomes', () => {
  test.each([
    ['holds and likely holds', all(HOLDS, LIKELY), 'unsure', 'holds'],
    ['holds and likely fails', all(HOLDS, UNLIKELY), 'unsure', 'fails'],
    ['one failure decides an and', all(LIKELY, UNKNOWN, FAILS), 'fails', 'fails'],
    ['an unknown leaves an and open', all(HOLDS, UNKNOWN), 'unknown', undefined],
    ['one that holds decides an or', any(UNKNOWN, FAILS, HOLDS), 'holds', 'holds'],
    ['likely holds or fails', any(LIKELY, FAILS), 'unsure', 'holds'],
    ['not what holds', not(HOLDS), 'fails', 'fails'],
    ['not what likely holds', not(LIKELY), 'unsure', 'fails'],
    ['neither this nor that', not(any(FAILS, FAILS)), 'holds', 'holds'],
  ] as const)('%s', (_, condition, outcome, leaning) => {
    expect(verdict(condition)).toMatchObject({ outcome, leaning });
  });
});

describe('arithmetic', () => {
  test('(full_current - hover_current) / 4', () => {
    const share = combine(combine(result('full_current'), '-', result('hover_current')), '/', quantity(4, ''));
    const full = on5S.results.get('full_current')?.estimate.value ?? 0;
    const hover = on5S.results.get('hover_current')?.estimate.value ?? 0;
    const [comparison] = verdict(compare(share, '<=', quantity(20, 'A'))).comparisons;
    expect(comparison?.left.value).toBeCloseTo((full - hover) / 4, 12);
    expect(comparison?.words).toMatch(/^left side [\d.]+ ± [\d.]+ A, required ≤ 20 A$/);
  });

  test('min and max take the value that is least or greatest, with its own ±', () => {
    const longer = compare(extreme('max', result('hover_time'), quantity(1, 's')), '>=', result('hover_time'));
    expect(verdict(longer).outcome).toBe('holds');
    const shorter = compare(extreme('min', result('hover_time'), quantity(1, 's')), '<', quantity(2, 's'));
    expect(verdict(shorter).outcome).toBe('holds');
  });

  test('grams are not compared with volts, nor added to them', () => {
    const { outcome, problems } = verdict(compare(result('all_up_weight'), '<=', quantity(3, 'V')));
    expect(outcome).toBe('unknown');
    expect(problems.map(({ message }) => message)).toEqual(['a mass with a voltage cannot be compared']);
    const sum = combine(result('all_up_weight'), '+', quantity(3, 'V'));
    expect(verdict(compare(sum, '<', quantity(1, 'g'))).problems[0]?.message).toBe(
      'a mass and a voltage cannot be added',
    );
  });

  test('a temperature may rise by a difference, but two temperatures do not add up', () => {
    const warm = combine(quantity(20, 'degC'), '+', quantity(10, 'K'));
    expect(verdict(compare(warm, '<=', quantity(30.001, 'degC'))).outcome).toBe('holds');
    const sum = combine(quantity(20, 'degC'), '+', quantity(10, 'degC'));
    expect(verdict(compare(sum, '<=', quantity(30, 'degC'))).problems).toHaveLength(1);
  });

  test('nothing is divided by zero', () => {
    const { outcome, problems } = verdict(
      compare(combine(quantity(1, 'A'), '/', quantity(0, 'A')), '<', quantity(1, '')),
    );
    expect(outcome).toBe('unknown');
    expect(problems[0]?.message).toBe('this divides by zero');
  });

  test('a requirement is a comparison', () => {
    expect(verdict(result('hover_time')).problems[0]?.message).toMatch(/^a comparison is expected/);
    expect(verdict(compare(HOLDS, '<', quantity(1, ''))).problems[0]?.message).toMatch(/not a comparison/);
  });
});

describe('what is missing is named', () => {
  test('with the reason', () => {
    const ballast = part('item', 'Ballast', { figures: { mass: stated(1100, 'g') } });
    const heavy: Build = { ...Rafter, items: [use(ballast)] };
    const { outcome, missing } = verdict(
      compare(result('hover_time'), '>=', quantity(4, 'min')),
      assess(heavy, Slim900_3S),
    );
    expect(outcome).toBe('unknown');
    expect(missing[0]).toMatchObject({ name: 'hover_time', reason: expect.stringMatching(/^the rotors are short/) });
  });

  test('a rail that the build does not have', () => {
    const { missing } = verdict(compare(result('rail.lamp.voltage'), '>=', quantity(4, 'V')));
    expect(missing[0]?.reason).toBe('the build has nothing of that name');
  });
});
