/** What is printed of a derivation besides its formula and its numbers, without marks of any format. */
import type { Assessment } from '../../analysis/assessment.ts';
import type { Derivation } from '../../analysis/explain/derivation.ts';
import { endsOf } from '../../analysis/uncertainty/linearity.ts';
import { leading } from '../../analysis/uncertainty/sensitivity.ts';
import { percent } from '../../checks/shared/finding-numbers.ts';
import { upperFirst } from '../../vocabulary/phrasing.ts';
import { resultOf } from '../../vocabulary/results.ts';
import type { Origin } from '../../vocabulary/schema.ts';
import { roughWords } from './report-words.ts';
import { calibratedWords, taughtWords } from './taught-words.ts';

/** Nobody states a default. */
export const originWords = (origin: Origin): string => (origin === 'default' ? 'usual value' : origin);

/** How many of the inputs that make a ± are named. */
const MOST_NAMED = 5;

const sourceNote = ({ source }: Derivation): string => `Source: ${source}`;

/** The source, what measurements did to the result, and what its formula does not cover: without a full stop. */
export function notesOf(derivation: Derivation): string[] {
  return [sourceNote(derivation), ...whatElse(derivation)];
}

/** The same with how straight the ± is, and which inputs it comes from. */
export function notesWithSpread(derivation: Derivation, assessment: Assessment): string[] {
  const { name } = derivation;
  const rough = roughWords(endsOf(name, assessment), resultOf(name).unit);
  const estimate = assessment.results.get(name)?.estimate;
  const causes = estimate ? leading(estimate, assessment.inputs, MOST_NAMED).filter(({ share }) => share >= 0.01) : [];
  const shares = causes.map(({ input, share }) => `${input.label} ${percent(share)}`).join(', ');
  return [
    sourceNote(derivation),
    ...(rough ? [rough] : []),
    ...whatElse(derivation),
    ...(shares === '' ? [] : [`The ± comes from: ${shares} (of its variance)`]),
  ];
}

function whatElse(derivation: Derivation): string[] {
  const { calibration, neglects, name } = derivation;
  return [
    calibration && upperFirst(calibratedWords(calibration)),
    taughtWords(derivation, resultOf(name).unit),
    neglects && `Leaves out: ${neglects}`,
  ].filter((note) => note !== undefined);
}
