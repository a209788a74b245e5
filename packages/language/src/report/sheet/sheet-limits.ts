/** Limits of a build on one pack, each with what flows against it. */
import type { Assessment } from '../../analysis/assessment.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import type { Finding, FindingNumber } from '../../checks/finding.ts';
import { limitsOf } from '../../checks/shared/ratings.ts';
import type { Place } from '../../syntax/place.ts';
import { parseUnit } from '../../units/parse.ts';
import { type FindingId, isWorseAbove } from '../../vocabulary/findings.ts';
import type { Quantity } from './printed-quantity.ts';

/** What flows, or what there is, against what is allowed; the most used first. */
export interface LimitLine {
  /** `motor.burst`, or the finding that names it. */
  readonly name: string;
  readonly part?: string;
  readonly allowed: number;
  readonly flows: Quantity;
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
  const ratings = limitsOf(assessment).map(
    ({ name, part, unit, limit, figure, value }): LimitLine => ({
      name,
      part: part.name,
      place: figure.place ?? part.place,
      allowed: limit,
      flows: { value: value.value, plusMinus: expanded(value), unit },
    }),
  );
  const isRating = ({ allowed, flows }: LimitLine) =>
    ratings.some((rating) => rating.allowed === allowed && rating.flows.value === flows.value);
  const named = findings.flatMap((finding) => limitNamedIn(finding, assessment)).filter((line) => !isRating(line));
  return [...worstOfAlike(ratings), ...named]
    .filter(({ allowed, from = 0 }) => allowed > from)
    .sort((a, b) => shareUsed(b, b.flows.value) - shareUsed(a, a.flows.value));
}

/** Rotor lines of one motor have one rating: the line that is nearest to it is listed. */
function worstOfAlike(lines: readonly LimitLine[]): LimitLine[] {
  const worst = new Map<string, LimitLine>();
  for (const line of lines) {
    const key = `${line.name} ${line.part} ${line.allowed}`;
    const known = worst.get(key);
    if (known === undefined || line.flows.value > known.flows.value) worst.set(key, line);
  }
  return [...worst.values()];
}

/** What findings call the bound with which they compare their number. */
const BOUNDS: ReadonlySet<string> = new Set(['limit', 'allowed', 'maximum', 'minimum', 'bay', 'guard']);

function limitNamedIn(finding: Finding, { build, option }: Assessment): LimitLine[] {
  const { id, related, place } = finding;
  const numbers = numbersOn(finding, option.name);
  // Of the voltage a motor is made for, without a bound of its own.
  const ratio = numbers.find(({ name }) => name === 'ratio');
  const whole = ratio && { name: 'limit', value: 1, unit: '%' };
  const limit = whole ?? numbers.find(({ name }) => BOUNDS.has(name));
  const value = ratio ? { ...ratio, unit: '%' } : numbers.find((one) => one !== limit && one.unit === limit?.unit);
  if (!value || !limit) return [];
  const flows = { value: value.value, plusMinus: value.plusMinus ?? 0, unit: value.unit };
  return [
    {
      name: id,
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
