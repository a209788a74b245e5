/** Numbers and places as JSON states them: numbers in the stated unit, from SI; ± is expanded (k = 2). */
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import type { Place } from '../../syntax/place.ts';
import { interval } from '../../units/interval.ts';
import { displayUnit } from '../../units/print.ts';
import type { NamedSources } from './sources.ts';

/** Without the tail that binary fractions leave. */
export const tidy = (value: number): number => Number(value.toPrecision(7));

export const numberIn = (unit: string, si: number): number => tidy(displayUnit(unit).fromSI(si));

/** Also of a ±: a difference has no zero point. */
export function differenceIn(unit: string, si: number): number {
  const { fromSI } = displayUnit(unit);
  return tidy(fromSI(si) - fromSI(0));
}

export const levelIn = (unit: string, level: Measurable) => ({
  value: numberIn(unit, level.value),
  ...spreadIn(unit, level),
});

/** The ± and the ends of the interval that holds in about 95 of a hundred; its sides differ where the value is known badly. */
export function spreadIn(unit: string, { value, plusMinus }: Measurable) {
  const { low, high } = displayUnit(unit).dimension.point
    ? { low: value - plusMinus, high: value + plusMinus }
    : interval(value, plusMinus);
  return { plusMinus: differenceIn(unit, plusMinus), low: numberIn(unit, low), high: numberIn(unit, high) };
}

/** Of a difference that is known to a ±. */
export const changeIn = (unit: string, { value, plusMinus }: Measurable) => ({
  value: differenceIn(unit, value),
  plusMinus: differenceIn(unit, plusMinus),
});

/** A text that was never loaded has no lines. */
export function locationIn({ sources, pathOf }: NamedSources, place: Place) {
  const excerpt = sources.excerpt(place);
  return { file: pathOf(place.uri), range: excerpt && { start: excerpt.start, end: excerpt.end } };
}
