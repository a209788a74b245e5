/** What the checks on observations have in common: each beside what was predicted for its pack, in its air. */
import { assess, setupOf } from '../analysis/assess.ts';
import type { Assessment } from '../analysis/assessment.ts';
import { linesOf, type ObservedLine, packsObserved } from '../analysis/observations.ts';
import type { Observation } from '../model/build.ts';
import type { BuildSubject } from './check.ts';

export interface Observed {
  readonly observation: Observation;
  /** As if nothing had been observed. */
  readonly predicted: Assessment;
  readonly lines: readonly ObservedLine[];
}

export function observedOn({ build }: Pick<BuildSubject, 'build'>): Observed[] {
  return packsObserved(build).map(({ observation, prior, option }) => {
    const predicted = assess(prior, option);
    return { observation, predicted, lines: linesOf(observation, predicted, setupOf(prior, option).craft?.pack) };
  });
}
