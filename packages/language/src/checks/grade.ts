import { interval } from '../units/interval.ts';
import type { Severity } from './finding.ts';

/** A value with its expanded uncertainty (k = 2), same unit. */
export interface Measurable {
  readonly value: number;
  readonly plusMinus: number;
}

export interface Grade {
  readonly past: number;
  readonly severity: Severity;
}

export const RANK: Readonly<Record<Severity, number>> = { hint: 0, information: 1, warning: 2, error: 3 };

/** Of a finding that may be undecided: below all others. */
export const rankOf = ({ severity }: { readonly severity: Severity | 'undecided' }): number =>
  severity === 'undecided' ? -1 : RANK[severity];

const moreSevere = (a: Severity, b: Severity): Severity => (RANK[a] >= RANK[b] ? a : b);

export const atLeast = (severity: Severity, floor: Severity): boolean => RANK[severity] >= RANK[floor];

const atMost = (severity: Severity, ceiling: Severity): Severity =>
  RANK[severity] <= RANK[ceiling] ? severity : ceiling;

/**
 * Severity follows the ±: an error only when even the near end of the interval is past the limit; with the centre past it a
 * warning at most; with only the far end past a warning's or an error's limit, nothing is decided.
 */
export function gradeAbove(of: Measurable, grades: readonly Grade[]): Severity | 'undecided' | undefined {
  const { low, high } = interval(of.value, of.plusMinus);
  return graded({ near: low, centre: of.value, far: high }, grades);
}

export function gradeBelow(of: Measurable, grades: readonly Grade[]): Severity | 'undecided' | undefined {
  const { low, high } = interval(of.value, of.plusMinus);
  return graded(
    { near: -high, centre: -of.value, far: -low },
    grades.map(({ past, severity }) => ({ past: -past, severity })),
  );
}

interface Spread {
  readonly near: number;
  readonly centre: number;
  readonly far: number;
}

function graded({ near, centre, far }: Spread, grades: readonly Grade[]): Severity | 'undecided' | undefined {
  let decided: Severity | undefined;
  let undecided = false;
  for (const { past, severity } of grades) {
    const reached = near > past ? severity : centre > past ? atMost(severity, 'warning') : undefined;
    if (reached) decided = decided ? moreSevere(decided, reached) : reached;
    else if (far > past && atLeast(severity, 'warning')) undecided = true;
  }
  return decided ?? (undecided ? 'undecided' : undefined);
}

/** A centre that lies past a limit by less than the leeway, a share of the ±, may as well lie on its other side: an open question, unless it is an error. */
export function withLeeway(
  of: Measurable,
  limit: number,
  leeway: number,
  grade: Severity | 'undecided' | undefined,
): Severity | 'undecided' | undefined {
  return grade !== undefined && grade !== 'error' && Math.abs(of.value - limit) < leeway * of.plusMinus
    ? 'undecided'
    : grade;
}

/** One step milder; a hint stays a hint. */
export function milder(severity: Severity): Severity {
  const next: Record<Severity, Severity> = {
    error: 'warning',
    warning: 'information',
    information: 'hint',
    hint: 'hint',
  };
  return next[severity];
}
