/** What the checks on observations have in common: what was predicted before anything was measured, and what was learnt. */
import { assess, learntOn } from '../../analysis/assess.ts';
import type { Assessment, LearntLine } from '../../analysis/assessment.ts';
import { agedOf, packOverDays } from '../../analysis/learn/ageing.ts';
import { beforeLearning } from '../../analysis/learn/learn.ts';
import { packsObserved } from '../../analysis/learn/observed-lines.ts';
import { standId } from '../../analysis/learn/stand-lines.ts';
import type { Build, Observation } from '../../model/build.ts';
import type { BuildSubject } from '../check.ts';
import { THRESHOLDS } from '../thresholds.ts';

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

/** Measurements that contradict each other, of which one likeliest is wrong. */
export interface Wrong {
  /** A single one, or all of a flight or a stand, the farthest first. */
  readonly lines: readonly [LearntLine, ...LearntLine[]];
  readonly isWhole: boolean;
  /** Of what it contradicts, where that is one line, flight or stand. */
  readonly rival?: LearntLine;
  /** Else nothing shows which of the two is wrong. */
  readonly isDecided: boolean;
}

export function likeliestWrong({ build }: Pick<BuildSubject, 'build'>): Wrong | undefined {
  const learnt = learntOn(build);
  if (!learnt?.contradicted) return undefined;
  const { lines, isWhole, rival, isDecided } = learnt.contradicted;
  const of = (indices: readonly number[] = []) =>
    indices.flatMap((i) => learnt.lines[i] ?? []).toSorted((a, b) => Math.abs(b.outlying) - Math.abs(a.outlying));
  const [first, ...others] = of(lines);
  const [other] = of(rival);
  return first && { lines: [first, ...others], isWhole, isDecided, ...(other && { rival: other }) };
}

/** Packs that have aged are reported as that. */
export const agedPacks = (build: Build) =>
  build.packs.flatMap(({ part }) => {
    const { first, last } = agedOf(packOverDays(build, part)) ?? {};
    return first && last && last.resistance >= THRESHOLDS.packAged.times * first.resistance
      ? [{ part, resistance: first.resistance }]
      : [];
  });

export const isOfAge = (build: Build, { reading, value }: Pick<LearntLine, 'reading' | 'value'>): boolean =>
  reading === 'cell_resistance' && agedPacks(build).some(({ resistance }) => value > resistance);

/** A build that is like another knows its lines as well: one message is enough. */
export const isOwnLine = ({ observations, benches }: Build, { source }: Pick<LearntLine, 'source'>): boolean =>
  observations.some(({ id }) => id === source) || benches.some((bench) => standId(bench) === source);
