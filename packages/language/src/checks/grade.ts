import type { Measurable } from '../analysis/uncertainty/estimate.ts';
import { interval } from '../units/interval.ts';
import { atLeast, isGraver, SEVERITIES, type Severity } from '../vocabulary/severities.ts';

export interface Grade {
  readonly past: number;
  readonly severity: Severity;
}

const atMost = (severity: Severity, ceiling: Severity): Severity => (isGraver(severity, ceiling) ? ceiling : severity);

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
    if (reached && (!decided || isGraver(reached, decided))) decided = reached;
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
export const milder = (severity: Severity): Severity => SEVERITIES[SEVERITIES.indexOf(severity) + 1] ?? severity;
