/** What overweight, requirement-fails and requirement-unsure have in common: verdicts on `require` and `keep` lines. */
import { verdictOn } from '../../analysis/decide/pack-grams.ts';
import { type ConditionVerdict, isAskedOn } from '../../analysis/decide/requirements.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Expression, Margin, RailUse, Requirement } from '../../model/build.ts';
import { keysOf } from '../../units/lookup-table.ts';
import type { CheckId } from '../../vocabulary/findings.ts';
import { nameOfLimit, nameOfRating } from '../../vocabulary/limits.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { Draft, OptionSubject } from '../check.ts';
import type { FindingNumber } from '../finding.ts';
import { gradeAbove } from '../grade.ts';
import { boundNumber, exactNumber, formatExact, number, percent, relativeTo } from './finding-numbers.ts';
import { limitsOf } from './ratings.ts';

export interface JudgedRequirement {
  readonly requirement: Requirement;
  readonly verdict: ConditionVerdict;
}

const known = new WeakMap<OptionSubject['assessment'], readonly JudgedRequirement[]>();

/** The requirements that hold for this pack option, with their verdicts: several checks need them. */
export function judged({ build, option, assessment }: OptionSubject): readonly JudgedRequirement[] {
  const isOwn = assessment.build === build && assessment.option === option;
  const found =
    (isOwn ? known.get(assessment) : undefined) ??
    build.rules.requirements
      .filter((requirement) => isAskedOn(requirement, option))
      .map((requirement) => ({ requirement, verdict: verdictOn(requirement, assessment) }));
  if (isOwn) known.set(assessment, found);
  return found;
}

/** Requirements with a finding of their own: the results they are about, and from which side they limit them. */
const OWN_FINDINGS = {
  overweight: { results: ['all_up_weight'], limit: 'upper' },
  'short-flight': { results: ['hover_time', 'flight_time'], limit: 'lower' },
  'weak-in-wind': { results: ['wind_held'], limit: 'lower' },
} as const satisfies Partial<Record<CheckId, { results: readonly string[]; limit: 'upper' | 'lower' }>>;

type OwnFinding = keyof typeof OWN_FINDINGS;

/** `all_up_weight <= 320 g` is for overweight, written either way round; undefined where requirement-fails reports. */
function ownFindingOf({ condition }: Requirement): OwnFinding | undefined {
  if (condition.kind !== 'comparison') return undefined;
  const { left, right, operator } = condition;
  const leftIsLess = operator === '<' || operator === '<=';
  const names = (side: Expression, results: readonly string[]) => side.kind === 'result' && results.includes(side.name);
  return keysOf(OWN_FINDINGS).find((finding) => {
    const { results, limit } = OWN_FINDINGS[finding];
    return leftIsLess === (limit === 'upper') ? names(left, results) : names(right, results);
  });
}

interface FailedRequirement extends JudgedRequirement {
  readonly severity: Severity;
}

/** Those that fail, or likely fail, of which this check reports; requirement-fails of those that have no finding of their own. */
export function* failedOf(
  subject: OptionSubject,
  check: OwnFinding | 'requirement-fails',
): Iterable<FailedRequirement> {
  for (const one of judged(subject)) {
    const severity = failure(one.verdict);
    if (severity && (ownFindingOf(one.requirement) ?? 'requirement-fails') === check) yield { ...one, severity };
  }
}

/** Fails for certain: an error; likely: a warning. Undefined where it holds, or likely holds. */
function failure({ outcome, leaning }: ConditionVerdict): Severity | undefined {
  if (outcome === 'fails') return 'error';
  return outcome === 'unsure' && leaning === 'fails' ? 'warning' : undefined;
}

export const likelyHolds = ({ outcome, leaning }: ConditionVerdict): boolean =>
  outcome === 'unsure' && leaning === 'holds';

interface DecidedWords extends Pick<Draft, 'message' | 'names'> {
  readonly severity: Severity;
}

/**
 * A draft on a requirement: at its line, or at the pack's line when a rules file states it.
 * @param found its reason is added to the message
 */
export function requirementDraft(
  { build, option }: OptionSubject,
  { requirement, verdict }: JudgedRequirement,
  { severity, message, names }: DecidedWords,
): Draft {
  const { because, from, place } = requirement;
  const own = place.uri === build.uri;
  const reason = because ? ` Reason: ${because}.` : '';
  return {
    severity,
    message: `${message}${reason}`,
    names,
    place: own ? place : option.place,
    numbers: verdict.comparisons.flatMap(({ left, right }, index): FindingNumber[] => [
      exactNumber(`left_${index + 1}`, left.value, ''),
      exactNumber(`right_${index + 1}`, right.value, ''),
    ]),
    related: own
      ? [{ message: `on ${option.name}`, place: option.place }]
      : [{ message: from ? `required by ${from}` : 'required here', place }],
  };
}

/** "hover time 4.6 ± 0.9 min, required ≥ 4 min"; of several comparisons those that decide. */
export const decidingWords = (verdict: ConditionVerdict): string =>
  deciding(verdict)
    .map(({ words }) => words)
    .join('; ');

/** The rails that those words name. */
export const decidingRails = ({ build }: OptionSubject, verdict: ConditionVerdict): RailUse[] =>
  deciding(verdict).flatMap(({ results }) =>
    results.flatMap((result) =>
      build.rails.filter(({ name }) => result.of === 'rail' && name === result.owner.join('.')),
    ),
  );

function deciding({ comparisons }: ConditionVerdict): ConditionVerdict['comparisons'] {
  const open = comparisons.filter(({ outcome }) => outcome !== 'holds');
  return open.length > 0 ? open : comparisons;
}

/** Margins on ratings that no part of the build has, or nothing flows against. */
export function* unjudgedMargins({ build, assessment }: OptionSubject): Iterable<Margin> {
  const known = new Set(limitsOf(assessment).map(({ key }) => nameOfLimit(key)));
  for (const margin of build.rules.margins) if (!known.has(nameOfLimit(margin.limit))) yield margin;
}

/** On each rating that a `keep … in reserve on …` line guards, where it leaves less. */
export function* keptMargins({ build, option, assessment }: OptionSubject): Iterable<Draft> {
  for (const margin of build.rules.margins) {
    for (const limit of limitsOf(assessment)) {
      if (nameOfLimit(limit.key) !== nameOfLimit(margin.limit)) continue;
      const allowed = limit.limit * (1 - margin.share);
      const severity = gradeAbove(relativeTo(limit.value, allowed), [{ past: 1, severity: 'error' }]);
      if (!severity) continue;
      const own = margin.place.uri === build.uri;
      const { unit } = limit;
      const required = `${percent(margin.share)} in reserve on ${nameOfRating(limit.key)}`;
      yield {
        severity,
        message: `\`keep ${required}\` allows ${limit.part.name} ${formatExact(allowed, unit)} of its ${formatExact(limit.limit, unit)}; it has ${formatEstimate(limit.value, unit)}.`,
        question: `whether ${limit.part.name} keeps \`${required}\` (${formatEstimate(limit.value, unit)} of ${formatExact(allowed, unit)})`,
        names: [limit.part],
        place: own ? margin.place : option.place,
        numbers: [number(unit === 'W' ? 'power' : 'current', limit.value, unit), boundNumber('allowed', allowed, unit)],
        related: [
          own
            ? { message: `on ${option.name}`, place: option.place }
            : { message: 'the required margin', place: margin.place },
          ...(limit.figure.place
            ? [{ message: `rated ${formatExact(limit.figure.value, limit.figure.unit)}`, place: limit.figure.place }]
            : []),
        ],
      };
    }
  }
}
