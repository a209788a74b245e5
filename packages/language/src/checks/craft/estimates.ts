/**
 * The one note a build gets on what is estimated: how wide the ± are for it, which single measurement narrows them most, and
 * what cannot be decided with these figures. A healthy build from data sheets shows this and nothing else.
 */
import type { Assessment } from '../../analysis/assessment.ts';
import { nextMeasurement } from '../../analysis/learn/next-measurement.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { isModelForm, leading } from '../../analysis/uncertainty/sensitivity.ts';
import type { Build, Figure } from '../../model/build.ts';
import { asNamed, type Nameable, namedByLabel } from '../../model/named.ts';
import type { Page } from '../../vocabulary/finding-page.ts';
import { ESTIMATES_WORDS, HEADLINES } from '../../vocabulary/headlines.ts';
import { firstFew } from '../../vocabulary/phrasing.ts';
import type { Draft } from '../check.ts';
import type { Finding } from '../finding.ts';
import { percent } from '../shared/finding-numbers.ts';

export const ESTIMATES_PAGE: Page = {
  title: 'Some figures are estimated',
  cause:
    'Few builders know every figure of every part. A missing figure is estimated from those that are stated, with a ± to match, and every result that depends on it shows a wider ±.',
  criterion: `an estimated figure makes more than 5 % of the variance of the minutes, the thrust-to-weight or the full-duty current: hint. The ± leaves a limit undecided: information. One note per build.`,
  standing: 'The page of each kind lists the estimates and their sources with each property.',
  remedy: 'Nothing, if the ± is narrow enough for the question. Otherwise measure the figure that the note states.',
  fixes: [],
  fails: `build Guessed like Healthy {
  pack: Mast900_4S as Guessed
}`,
  withoutPassing: 'only a craft of which nearly everything was measured has none, and takes more lines than an example',
};

/** An estimate that makes less than this part of every headline's variance is not worth a word. */
const WORTH_NAMING = 0.05;
const MOST_NAMED = 4;

/** To follow "it cannot be determined". */
export interface OpenQuestion extends Pick<Draft, 'names'> {
  readonly question: string;
}

export function estimatesNote(
  build: Build,
  assessments: readonly Assessment[],
  undecided: readonly OpenQuestion[],
): Finding | undefined {
  const [widest] = widestFirst(assessments);
  if (!widest) return undefined;
  const estimated = [...largestShares(widest)]
    .filter(([input, share]) => isEstimated(input) && share >= WORTH_NAMING)
    .sort(([, a], [, b]) => b - a)
    .map(([input]) => input);
  if (estimated.length === 0 && undecided.length === 0) return undefined;

  const labels = estimated.map(({ label }) => label);
  const advised = advice(widest);
  const sentences = [
    estimated.length > 0 ? `Estimated, because the file does not state them: ${firstFew(labels, MOST_NAMED)}.` : '',
    widths(widest),
    advised?.sentence ?? '',
    undecided.length > 0
      ? `These figures do not decide ${undecided.map(({ question }) => question).join('; nor ')}.`
      : '',
  ];
  return {
    id: 'estimates',
    severity: undecided.length > 0 ? 'information' : 'hint',
    message: sentences.filter(Boolean).join(' '),
    names: [
      ...estimated.slice(0, MOST_NAMED).flatMap((input) => namedByLabel(build, input)),
      ...(advised?.names ?? []),
      ...undecided.flatMap(({ names }) => names),
    ].map(asNamed),
    place: build.place,
    build: build.name,
    ...(advised && { measureFirst: advised.how }),
    ...(widths(widest) !== '' && { brief: widths(widest) }),
    numbers: [],
    related: [],
    fixes: [],
  };
}

/** The pack whose minutes are known worst comes first: it is the one to measure. */
export const widestFirst = (assessments: readonly Assessment[]): Assessment[] =>
  assessments.toSorted((a, b) => relativeWidth(b) - relativeWidth(a) || (a.option.name < b.option.name ? -1 : 1));

/** Written nowhere; the terms for what the model leaves out are not figures anybody could write. */
const isEstimated = (input: Figure): boolean => input.place === undefined && !isModelForm(input);

/** Of each input the largest part it has in the variance of any headline. */
function largestShares(assessment: Assessment): ReadonlyMap<Figure, number> {
  const shares = new Map<Figure, number>();
  for (const name of HEADLINES.estimates) {
    const estimate = assessment.results.get(name)?.estimate;
    if (!estimate) continue;
    for (const { input, share } of leading(estimate, assessment.inputs, assessment.inputs.length))
      shares.set(input, Math.max(share, shares.get(input) ?? 0));
  }
  return shares;
}

function relativeWidth(assessment: Assessment): number {
  const estimate = assessment.results.get('hover_time')?.estimate;
  return estimate && estimate.value !== 0 ? expanded(estimate) / Math.abs(estimate.value) : 0;
}

function widths(assessment: Assessment): string {
  const known = HEADLINES.estimates.flatMap((name) => {
    const estimate = assessment.results.get(name)?.estimate;
    return estimate && estimate.value > 0
      ? [`${ESTIMATES_WORDS[name]} ${width(expanded(estimate) / estimate.value)}`]
      : [];
  });
  return known.length > 0 ? `So far: ${known.join(', ')}.` : '';
}

/** "±12 %"; a ± beyond the value itself is only called that. */
const width = (share: number): string => (share < 1 ? `±${percent(share)}` : '±100 % or more');

interface Advice {
  readonly how: string;
  readonly sentence: string;
  readonly names: readonly Nameable[];
}

function advice(assessment: Assessment): Advice | undefined {
  for (const name of HEADLINES.estimates) {
    const estimate = assessment.results.get(name)?.estimate;
    const advised = estimate && nextMeasurement(assessment, estimate);
    if (!estimate || estimate.value <= 0 || !advised) continue;
    const narrowed = width(advised.plusMinusThen / estimate.value);
    if (narrowed === width(expanded(estimate) / estimate.value)) continue;
    return {
      how: advised.what,
      sentence: `Measure first: ${advised.what}; ${ESTIMATES_WORDS[name]} would then be known to ${narrowed}.`,
      names: advised.names,
    };
  }
  return undefined;
}
