/** What the checks on observations have in common: what was predicted before anything was measured, and what was learnt. */
import { assess, learntOn } from '../../analysis/assess.ts';
import type { Assessment, LearntLine } from '../../analysis/assessment.ts';
import { outlyingBound } from '../../analysis/learn/contradiction.ts';
import { beforeLearning } from '../../analysis/learn/learn.ts';
import { packsObserved } from '../../analysis/learn/observed-lines.ts';
import { standId } from '../../analysis/learn/stand-lines.ts';
import type { Build, Observation } from '../../model/build.ts';
import type { BuildSubject } from '../check.ts';

export interface Observed {
  readonly observation: Observation;
  /** As if nothing had been measured. */
  readonly predicted: Assessment;
}

export function observedOn({ build }: Pick<BuildSubject, 'build'>): Observed[] {
  return packsObserved(build).map(({ observation, option }) => ({
    observation,
    predicted: assess(beforeLearning(build), option),
  }));
}

/** Of all lines the one that likeliest is wrong, where one is; reported with its build. */
export function likeliestWrong({ build }: Pick<BuildSubject, 'build'>): LearntLine | undefined {
  const lines = learntOn(build)?.lines ?? [];
  const [worst] = lines.toSorted((a, b) => Math.abs(b.outlying) - Math.abs(a.outlying));
  return worst && Math.abs(worst.outlying) > outlyingBound(lines.length) ? worst : undefined;
}

/** A build that is like another knows its lines as well: one message is enough. */
export const isOwnLine = ({ observations, benches }: Build, { source }: Pick<LearntLine, 'source'>): boolean =>
  observations.some(({ id }) => id === source) || benches.some((bench) => standId(bench) === source);
