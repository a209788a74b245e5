/** From what a build was calibrated, and whether that contradicts itself. */
import type { Build } from '../../model/build.ts';
import type { Assessment } from '../assessment.ts';

export interface Calibration {
  readonly sources: readonly CalibrationSource[];
  /** Measurements that contradict each other, in words; every ± includes both sides. */
  readonly contradiction?: string;
}

interface CalibrationSource {
  /** Of an observation, or the name of a stand. */
  readonly title: string;
  /** Whose observation it is, where it is another build's. */
  readonly build?: string;
}

/** Undefined where nothing was learnt. */
export function calibrationOf({ build, learnt }: Pick<Assessment, 'build' | 'learnt'>): Calibration | undefined {
  if (!learnt) return undefined;
  const titles = new Map(learnt.lines.map(({ source, from }) => [source, from]));
  return {
    sources: [...titles].map(([source, title]) => {
      const owner = ownerOf(build, source);
      return owner === undefined ? { title } : { title, build: owner };
    }),
    ...(learnt.doubts.length > 0 && { contradiction: learnt.doubts.map(({ figure }) => figure.label).join('; ') }),
  };
}

/** Of another build that shares parts with this one. */
function ownerOf(build: Build, source: string): string | undefined {
  const observed = ({ observations }: Build) => observations.some(({ id }) => id === source);
  if (observed(build)) return undefined;
  return build.kin().find((kin) => observed(kin.build))?.build.name;
}
