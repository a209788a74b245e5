/**
 * How a result came about: the formula, the numbers put in with where they come from, and the source to read it up in.
 * Results that rest on other results name these, so that a reader can walk down to the figures.
 */
import type { Place } from '../../syntax/place.ts';
import { formatPlusMinus } from '../../units/print.ts';
import type { Origin } from '../../vocabulary/schema.ts';
import type { Assessment } from '../assessment.ts';
import { narrowedContributions } from '../learn/learn.ts';
import { type Taught, taughtOf } from '../learn/taught.ts';
import { explanationOf } from '../results/all-results.ts';
import { withDeviations } from '../setup/template.ts';
import { expanded } from '../uncertainty/estimate.ts';
import { spreadOf } from '../uncertainty/spread.ts';

/** One number that was put in. */
export interface DerivationTerm {
  /** As it is in the formula. */
  readonly symbol: string;
  readonly label: string;
  /** SI. */
  readonly value: number;
  /** Unit in which to print it; none for a plain number. */
  readonly unit: string;
  /** k = 2, SI. */
  readonly plusMinus?: number;
  /** When it is a figure of a part. */
  readonly origin?: Origin;
  /** What the file states of its origin, or why it was taken to be so. */
  readonly because?: string;
  readonly place?: Place;
  /** When it is a figure: its id. */
  readonly figure?: string;
  /** When it is the figure of so many together. */
  readonly count?: number;
  /** When it is a result of its own: its name. */
  readonly result?: string;
}

export interface Derivation {
  readonly name: string;
  /** In symbols. */
  readonly formula: string;
  /** In words. */
  readonly says: string;
  readonly terms: readonly DerivationTerm[];
  /** Where the formula comes from. */
  readonly source: string;
  /** What it leaves out, and when that matters. */
  readonly neglects?: string;
  /** Observations that moved what was guessed, by title. */
  readonly calibratedBy?: readonly string[];
  /** What they did to the result. */
  readonly taught?: Taught;
}

/** Before learnt figures are put in; terms that a build does not have are left out. */
export interface Explanation extends Omit<Derivation, 'name' | 'terms' | 'calibratedBy' | 'taught'> {
  readonly terms: readonly (DerivationTerm | undefined)[];
}

/** Undefined where the result does not exist. */
export function derivationOf(name: string, assessment: Assessment): Derivation | undefined {
  if (!assessment.results.has(name)) return undefined;
  const explanation = explanationOf(name)?.(assessment);
  if (!explanation) return undefined;
  const { terms, ...words } = explanation;
  const { learnt } = assessment;
  const taught = taughtOf(name, assessment);
  return {
    name,
    ...words,
    terms: terms.flatMap((term) => (term ? [asLearnt(term, assessment)] : [])),
    ...(learnt && { calibratedBy: learnt.from }),
    ...(taught && { taught }),
  };
}

/** A figure as measurements have moved it, itself or what it is estimated from, with what it was. */
function asLearnt(term: DerivationTerm, { inputs, learnt }: Assessment): DerivationTerm {
  const figure = learnt && inputs.find(({ id }) => id === term.figure);
  if (!learnt || !figure) return term;
  const narrow = narrowedContributions(learnt, inputs);
  const value = withDeviations(learnt.deviations)(figure);
  // A ± grows with the value where it is one of factors.
  const scale = spreadOf(figure) === 'log' ? value / figure.value : 1;
  const own = narrow(Float64Array.from(inputs, ({ id, standardUncertainty: u }) => (id === figure.id ? u * scale : 0)));
  const { count = 1 } = term;
  const plusMinus = count * expanded({ value: 0, contributions: own });
  const before = formatPlusMinus(term.value, term.plusMinus ?? 0, term.unit);
  const isReported = formatPlusMinus(count * value, plusMinus, term.unit) !== before;
  // What hardly moved is not worth a word.
  const because = isReported
    ? [term.because, `${before} before it was observed`].filter(Boolean).join('; ')
    : term.because;
  return { ...term, value: count * value, plusMinus, ...(because !== undefined && { because }) };
}
