/** What the motor's, ESC's and pack's overcurrent checks have in common: a current against a rating, and the duty that keeps it. */
import { assess } from '../../analysis/assess.ts';
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { dutyLimitFor, withDutyLimit } from '../../analysis/decide/changed-craft.ts';
import { ends } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import type { Figure, PackOption, Part } from '../../model/build.ts';
import { formatNumber } from '../../units/print.ts';
import { lowerFirst } from '../../vocabulary/phrasing.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { Draft, OptionSubject } from '../check.ts';
import type { Fix } from '../finding.ts';
import { anotherPart, limitDuty, wholePercent } from './duty.ts';
import { boundNumber, formatExact, number, percent } from './finding-numbers.ts';

export interface Overcurrent {
  readonly severity: Severity | 'undecided';
  readonly value: Estimate;
  readonly limit: number;
  readonly part: Part;
  /** As `what` names it, where that is not as the part. */
  readonly named?: PackOption;
  readonly figure: Figure;
  /** "At full duty each motor draws", "Over the flight as flown …". */
  readonly what: string;
  /** "its burst rating of 12 A". */
  readonly rating: string;
  readonly consequence: string;
  readonly fixes: readonly Fix[] | (() => readonly Fix[]);
}

export function overcurrentDraft({ option }: OptionSubject, found: Overcurrent): Draft {
  const { value, limit, figure, part, named = part } = found;
  // With the limit inside the ±, what follows from passing it is a condition and no fact.
  const open = ends(value).low <= limit;
  const consequence = open ? `If so, ${lowerFirst(found.consequence)}` : found.consequence;
  return {
    severity: found.severity,
    get question() {
      return `whether ${part.name} stays within ${found.rating} (${formatEstimate(value, 'A')})`;
    },
    get message() {
      return `${found.what} ${formatEstimate(value, 'A')}, ${percent(value.value / limit)} of ${found.rating}. ${consequence}`;
    },
    names: [found.severity === 'undecided' ? part : named],
    place: option.dutyPlace ?? option.place,
    numbers: [number('current', value, 'A'), boundNumber('limit', limit, 'A')],
    related: figure.place
      ? [{ message: `${part.name}: ${formatExact(figure.value, figure.unit)}`, place: figure.place }]
      : [],
    fixes: found.fixes,
  };
}

/** The condition on the values of a craft, without their ±. */
export type Keeps = (assessment: Assessment) => boolean;

/** A current at most at its limit. */
export const within =
  (limit: number, current: (assessment: Assessment) => Estimate | undefined): Keeps =>
  (assessment) =>
    (current(assessment)?.value ?? 0) <= limit;

/** The largest duty limit under which something holds, as a fix; none where no duty helps. */
export function dutyFix(subject: OptionSubject, keeps: Keeps, reason: string, instead?: string): Fix[] {
  const duty = keepingDuty(subject, keeps);
  return [
    ...(duty === undefined ? [] : [limitDuty(subject.option, duty, reason)]),
    ...(instead === undefined ? [] : [anotherPart(instead)]),
  ];
}

/** A rating as parts are sold: the next of two digits. */
export function ratingAbove(value: number, unit: 'A' | 'W'): string {
  const step = 10 ** (Math.floor(Math.log10(value)) - 1);
  return `${formatNumber(Math.ceil(value / step - 1e-9) * step)} ${unit}`;
}

/** The craft at that duty limit; as it is where no duty helps. */
export function atKeepingDuty(subject: OptionSubject, keeps: Keeps): Assessment {
  const { build, option, assessment } = subject;
  const duty = keepingDuty(subject, keeps);
  return duty === undefined ? assessment : assess(build, withDutyLimit(option, duty));
}

function keepingDuty({ build, option }: OptionSubject, keeps: Keeps): number | undefined {
  const duty = dutyLimitFor(build, option, keeps);
  return duty === undefined ? undefined : wholePercent(duty);
}
