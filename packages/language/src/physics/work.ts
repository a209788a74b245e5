/** Counts what a solver did, so that a computation that got slower shows as a number and not as a noisy timing. */
export interface SolverWork {
  /** Evaluations of the bus's current balance. */
  busEvaluations: number;
  /** Evaluations of a rotor's voltage balance. */
  speedEvaluations: number;
}

export const noWork = (): SolverWork => ({ busEvaluations: 0, speedEvaluations: 0 });
