/** How grave a finding is. */

/** Worst first: what `raise … to` and `lower … to` may state, and the order in which findings are counted. */
export const SEVERITIES = ['error', 'warning', 'information', 'hint'] as const;

export type Severity = (typeof SEVERITIES)[number];

/** What a run may fail on, and what is counted above a build in an editor: no hint. */
export const ABOVE_HINTS = SEVERITIES.filter((severity) => severity !== 'hint');

/** What nobody should fly with unread. */
export const GRAVE = SEVERITIES.filter((severity) => severity === 'error' || severity === 'warning');

/** With what the ± leaves open, which is below all. */
const ORDER: readonly (Severity | 'undecided')[] = [...SEVERITIES, 'undecided'];

const rankOf = (severity: Severity | 'undecided'): number => ORDER.indexOf(severity);

export const isGraver = (severity: Severity | 'undecided', than: Severity | 'undecided'): boolean =>
  rankOf(severity) < rankOf(than);

export const atLeast = (severity: Severity | 'undecided', floor: Severity | 'undecided'): boolean =>
  rankOf(severity) <= rankOf(floor);

interface Judged {
  readonly severity: Severity | 'undecided';
  readonly accepted?: string;
}

/** For a sort. */
export const worstFirst = (one: Judged, other: Judged): number => rankOf(one.severity) - rankOf(other.severity);

/** The same with what is accepted last, in the order it has. */
export const worstOpenFirst = (one: Judged, other: Judged): number => {
  const [isAccepted, isOtherAccepted] = [one.accepted !== undefined, other.accepted !== undefined];
  return isAccepted || isOtherAccepted ? Number(isAccepted) - Number(isOtherAccepted) : worstFirst(one, other);
};
