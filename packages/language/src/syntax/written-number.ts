/** What is written of a number, before anybody knows its unit. */
import type { FigureNode } from '../grammar/generated/ast.ts';
import type { ClauseRule, Shape } from '../vocabulary/schema.ts';

/** The number of an amount, with its sign. */
export function numberOf({ number, negative }: { readonly number: string; readonly negative?: boolean }): number {
  return (negative ? -1 : 1) * Number(number);
}

/** Whole and at least `least`: how many there are of something. */
export function isCount(amount: { readonly number: string; readonly negative?: boolean }, least = 1): boolean {
  const number = numberOf(amount);
  return Number.isInteger(number) && number >= least;
}

/** The shapes of values that have an `x`: `62 x 17 mm`, `4 x M2`, `2.5 x hover`. */
const WITH_TIMES: ReadonlySet<Shape | ClauseRule['shape']> = new Set(['size', 'pattern', 'multiple']);

/** What a figure has behind its number that no value of its shape has: then it has a finding, and nothing is read of it. */
export function extraOf(
  figure: FigureNode,
  shape: Shape | ClauseRule['shape'],
): 'times' | 'range' | 'label' | undefined {
  if (figure.times.length > 0 && !WITH_TIMES.has(shape)) return 'times';
  if (figure.range !== undefined && shape !== 'range') return 'range';
  // `item: 3 g "tape"`
  return figure.label === undefined || shape === 'part' ? undefined : 'label';
}
