/** The numbers that go into derivations: figures, other results, and what was solved. */
import type { Figure, Reading } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import type { Assessment } from '../assessment.ts';
import { asItStands, withDeviations } from '../setup/template.ts';
import { expanded } from '../uncertainty/estimate.ts';
import type { DerivationTerm } from './explanation.ts';

export type Terms = readonly (DerivationTerm | undefined)[];

/** Digits of a number inside a label, enough to compute with. */
export const DIGITS = 4;

/** A figure's value with what was learnt. */
export const readingOf = ({ learnt }: Assessment): Reading => (learnt ? withDeviations(learnt.deviations) : asItStands);

export const ofFigure = (symbol: string, figure: Figure | undefined): DerivationTerm | undefined =>
  figure && {
    symbol,
    figure: figure.id,
    label: figure.label,
    value: asItStands(figure),
    unit: figure.unit,
    plusMinus: plusMinusOf(figure.standardUncertainty),
    origin: figure.origin,
    ...((figure.source ?? figure.because) !== undefined && { because: figure.source ?? figure.because }),
    ...(figure.place && { place: figure.place }),
  };

export const ofResult = (symbol: string, name: ResultId, { results }: Assessment): DerivationTerm | undefined => {
  const result = results.get(name);
  return (
    result && {
      symbol,
      label: result.label,
      value: result.estimate.value,
      unit: result.unit,
      plusMinus: expanded(result.estimate),
      result: name,
    }
  );
};

export const ofNumber = (
  symbol: string,
  label: string,
  value: number | undefined,
  unit: string,
): DerivationTerm | undefined => (value === undefined ? undefined : { symbol, label, value, unit });

/** One of several alike; the only one needs no number. */
export const indexed = (symbol: string, index: number, count: number): string =>
  count > 1 ? `${symbol}${symbol.includes('_') ? '' : '_'}${index + 1}` : symbol;

export const counted = (count: number, label: string): string => (count > 1 ? `${count} x ${label}` : label);

/** So many of one thing have one error. */
export const several = (term: DerivationTerm, count: number): DerivationTerm => ({
  ...term,
  label: counted(count, term.label),
  count,
  value: count * term.value,
  plusMinus: count * (term.plusMinus ?? 0),
});
