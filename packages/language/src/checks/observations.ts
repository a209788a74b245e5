/** What the checks on observations have in common: which pack was on, and how far apart two numbers with a ± are. */
import { assess } from '../analysis/assess.ts';
import type { Assessment, Estimate } from '../analysis/assessment.ts';
import { expanded } from '../analysis/estimate.ts';
import type { Build, Figure, Observation } from '../model/build.ts';
import type { BuildSubject } from './check.ts';

const COVERAGE = 2;

/** An observation beside what was predicted for its pack, in its air. */
export interface Observed {
  readonly observation: Observation;
  readonly predicted: Assessment;
}

/** Those whose pack is known: named, or the only one. */
export function observedOn({ build }: Pick<BuildSubject, 'build'>): Observed[] {
  return build.observations.flatMap((observation) => {
    const option =
      observation.pack === undefined
        ? build.packs.length === 1
          ? build.packs[0]
          : undefined
        : build.packs.find(({ name }) => name === observation.pack);
    return option ? [{ observation, predicted: assess(inItsAir(build, observation), option) }] : [];
  });
}

const inOtherAir = new WeakMap<Observation, Build>();

/** The build in the air in which it was observed, where that is said. */
function inItsAir(build: Build, observation: Observation): Build {
  const air = observation.part.declared('air');
  if (!air) return build;
  const known = inOtherAir.get(observation);
  if (known) return known;
  const altitude = air.conditions.at ?? build.rules.altitude;
  const other = { ...build, rules: { ...build.rules, airTemperature: air, altitude } };
  inOtherAir.set(observation, other);
  return other;
}

export interface Comparison {
  /** Observed less predicted. */
  readonly difference: number;
  /** Of the difference, k = 2. */
  readonly plusMinus: number;
}

export function compare(observed: Figure, predicted: Estimate): Comparison {
  const own = COVERAGE * observed.standardUncertainty;
  return {
    difference: observed.value - predicted.value,
    plusMinus: Math.hypot(own, expanded(predicted)),
  };
}
