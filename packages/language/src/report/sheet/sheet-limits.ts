/** Limits of a build on one pack, each with what flows against it. */
import type { Assessment } from '../../analysis/assessment.ts';
import { type PrintedEstimate, printedIn } from '../../analysis/uncertainty/print-estimate.ts';
import type { BoundName, Finding, FindingNumber } from '../../checks/finding.ts';
import { type Limit, limitsOf } from '../../checks/shared/ratings.ts';
import type { Place } from '../../syntax/place.ts';
import { parseUnit } from '../../units/parse.ts';
import { type FindingId, isWorseAbove } from '../../vocabulary/findings.ts';
import { nameOfRating } from '../../vocabulary/limits.ts';
import type { LimitSubject } from '../present/limit-words.ts';

/** What flows, or what there is, against what is allowed; the most used first. */
export interface LimitLine {
  readonly subject: LimitSubject;
  readonly part?: string;
  readonly allowed: number;
  readonly flows: PrintedEstimate;
  /** Less than allowed is too little. */
  readonly isLeast?: true;
  /** SI, where a share of the limit begins: the air's temperature for temperatures; nothing elsewhere. */
  readonly from?: number;
  /** Where the rating is written, or the part that has it. */
  readonly place: Place;
}

/** How much of a limit is used, 1 at the limit. */
export function shareUsed({ allowed, isLeast, from = 0 }: LimitLine, value: number): number {
  return isLeast ? allowed / Math.max(value, Number.MIN_VALUE) : (value - from) / (allowed - from);
}

/** Every rating, and what else findings on this pack compare something with. */
export function limitLines(assessment: Assessment, findings: readonly Finding[]): LimitLine[] {
  const ratings = limitsOf(assessment);
  const isRating = ({ allowed, flows }: LimitLine) =>
    ratings.some(({ limit, value }) => limit === allowed && value.value === flows.value);
  const named = findings.flatMap((finding) => limitNamedIn(finding, assessment)).filter((line) => !isRating(line));
  return [...worstOfAlike(ratings).map(ratingLine), ...named]
    .filter(({ allowed, from = 0 }) => allowed > from)
    .sort((a, b) => shareUsed(b, b.flows.value) - shareUsed(a, a.flows.value));
}

const ratingLine = ({ key, part, unit, limit, figure, value }: Limit): LimitLine => ({
  subject: key,
  part: part.name,
  place: figure.place ?? part.place,
  allowed: limit,
  flows: printedIn(unit, value),
});

/** Rotor lines of one motor have one rating: the line that is nearest to it is listed. */
function worstOfAlike(limits: readonly Limit[]): Limit[] {
  const worst = new Map<string, Limit>();
  for (const one of limits) {
    const rating = `${nameOfRating(one.key)} ${one.part.name} ${one.limit}`;
    const known = worst.get(rating);
    if (known === undefined || one.value.value > known.value.value) worst.set(rating, one);
  }
  return [...worst.values()];
}

/** Which bounds are limits of a part: what two parts need between them is none. */
const IS_LISTED: Readonly<Record<BoundName, boolean>> = {
  limit: true,
  allowed: true,
  maximum: true,
  minimum: true,
  needed: false,
  guard: true,
  bay: true,
};

function limitNamedIn(finding: Finding, { build, option }: Assessment): LimitLine[] {
  const { id, related, place } = finding;
  const numbers = numbersOn(finding, option.name);
  // Of the voltage a motor is made for, without a bound of its own.
  const ratio = numbers.find(({ name }) => name === 'ratio');
  const whole = ratio && { name: 'limit', value: 1, unit: '%' };
  const limit = whole ?? numbers.find((one) => one.isBound && IS_LISTED[one.name]);
  const value = ratio ? { ...ratio, unit: '%' } : numbers.find((one) => one !== limit && one.unit === limit?.unit);
  if (!value || !limit) return [];
  const flows = { value: value.value, plusMinus: value.plusMinus ?? 0, unit: value.unit };
  return [
    {
      subject: { of: 'finding', id },
      allowed: limit.value,
      flows,
      place: related[0]?.place ?? place,
      ...(!isWorseAbove(id) && !MISFITS.has(id) && { isLeast: true as const }),
      ...(parseUnit(limit.unit).unit?.dimension.point && { from: build.rules.airTemperature.value }),
    },
  ];
}

/** Too large for its place, without a number that could guard an acceptance. */
const MISFITS: ReadonlySet<string> = new Set<FindingId>(['propeller-too-large']);

const numbersOn = ({ pack, numbers, onOthers }: Finding, wanted: string): readonly FindingNumber[] =>
  pack === wanted ? numbers : (onOthers?.find((other) => other.pack === wanted)?.numbers ?? []);
