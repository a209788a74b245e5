/** From what a build was calibrated, and whether that contradicts itself. */
import type { Build } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import type { Assessment, LearntLine } from '../assessment.ts';
import { standId } from './stand-lines.ts';

export interface Calibration {
  readonly sources: readonly CalibrationSource[];
  /** Measurements that contradict each other, in words; every ± includes both sides. */
  readonly contradiction?: string;
}

interface CalibrationSource {
  /** Of an observation, or the name of a stand. */
  readonly title: string;
  /** Whose observation it is; undefined of a stand. */
  readonly build?: string;
  /** That build is another one. */
  readonly isOther?: true;
  readonly place: Place;
}

/** Undefined where nothing was learnt. */
export function calibrationOf({ build, learnt }: Pick<Assessment, 'build' | 'learnt'>): Calibration | undefined {
  if (!learnt) return undefined;
  // Of each the first line, in the order in which they were read.
  const titles = new Map<string, LearntLine>();
  for (const line of learnt.lines) if (!titles.has(line.source)) titles.set(line.source, line);
  return {
    sources: [...titles].map(([source, { from: title, place: line }]) => {
      const owner = ownerOf(build, source);
      const bench = build.benches.find((one) => standId(one) === source);
      return { title, place: bench?.part.place ?? line, ...owner };
    }),
    ...(learnt.doubts.length > 0 && { contradiction: learnt.doubts.map(({ figure }) => figure.label).join('; ') }),
  };
}

/** Whose observation it is. */
function ownerOf(build: Build, source: string): Omit<CalibrationSource, 'title'> | undefined {
  for (const one of [build, ...build.kin().map((kin) => kin.build)]) {
    const observation = one.observations.find(({ id }) => id === source);
    if (observation)
      return { build: one.name, place: observation.place, ...(one !== build && { isOther: true as const }) };
  }
  return undefined;
}
