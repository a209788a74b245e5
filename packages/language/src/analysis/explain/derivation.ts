/**
 * How a result came about: the formula, the numbers put in with where they come from, and the source to read it up in.
 * Results that rest on other results name these, so that a reader can follow them down to the figures.
 */
import type { Figure } from '../../model/build.ts';
import { type ResultId, resultNamed } from '../../vocabulary/results.ts';
import type { Assessment } from '../assessment.ts';
import { gramsLeft } from '../decide/pack-grams.ts';
import { type Calibration, calibrationOf } from '../learn/calibration.ts';
import { narrowedContributions } from '../learn/narrowing.ts';
import { type Taught, taughtOf } from '../learn/taught.ts';
import { explanationOf } from '../results/all-results.ts';
import { withDeviations } from '../setup/template.ts';
import { expanded } from '../uncertainty/estimate.ts';
import { formatMeasurable } from '../uncertainty/print-estimate.ts';
import { spreadOf } from '../uncertainty/spread.ts';
import type { DerivationTerm, Explanation, Searches } from './explanation.ts';

export interface Derivation extends Omit<Explanation, 'terms'> {
  readonly name: ResultId;
  readonly terms: readonly DerivationTerm[];
  /** What moved what was guessed. */
  readonly calibration?: Calibration;
  /** What they did to the result. */
  readonly taught?: Taught;
}

/** What only a search over many craft can find. */
export const SEARCHES: Searches = { gramsLeft };

/** Undefined where the result does not exist. */
export function derivationOf(name: ResultId, assessment: Assessment): Derivation | undefined {
  const key = resultNamed(name);
  if (!key || !assessment.results.has(name)) return undefined;
  const explanation = explanationOf(key)(assessment, SEARCHES);
  if (!explanation) return undefined;
  const { terms, ...words } = explanation;
  const taught = taughtOf(name, assessment);
  const calibration = calibrationOf(assessment);
  const { learnt, inputs } = assessment;
  const narrow = learnt && narrowedContributions(learnt, inputs);
  return {
    name,
    ...words,
    terms: terms.flatMap((term) => (term ? [asLearnt(term, assessment, narrow)] : [])),
    ...(calibration && { calibration }),
    ...(taught && { taught }),
  };
}

type Narrow = ReturnType<typeof narrowedContributions>;

/** A figure as measurements have moved it, itself or what it is estimated from, with what it was. */
function asLearnt(term: DerivationTerm, { inputs, learnt }: Assessment, narrow: Narrow | undefined): DerivationTerm {
  const figure = learnt && inputs.find(({ id }) => id === term.figure);
  if (!learnt || !narrow || !figure) return term;
  const read = withDeviations(learnt.deviations);
  const shared = inputs.find(({ id }) => id === term.shared);
  const [own, beside] = [read(figure), shared ? read(shared) : 1];
  // A ± grows with the value where it is one of factors.
  const scale = (of: Figure) => (spreadOf(of) === 'log' ? read(of) / of.value : 1);
  const moves = narrow(
    Float64Array.from(inputs, (input) => {
      if (input.id === figure.id) return input.standardUncertainty * scale(input) * beside;
      return input === shared ? input.standardUncertainty * scale(input) * own : 0;
    }),
  );
  const value = own * beside;
  const { count = 1 } = term;
  const plusMinus = count * expanded({ value: 0, contributions: moves });
  const before = formatMeasurable(term, term.unit);
  const isReported = formatMeasurable({ value: count * value, plusMinus }, term.unit) !== before;
  // What hardly moved is not worth a word.
  const because = isReported
    ? [term.because, `${before} before it was observed`].filter(Boolean).join('; ')
    : term.because;
  return { ...term, value: count * value, plusMinus, ...(because !== undefined && { because }) };
}
