/** All results of a build: what is read off a solved setup under a public name, and how it is explained. */
import type { Build } from '../../model/build.ts';
import { isResultName, RAIL_RESULTS, RESULT_NAMES } from '../../vocabulary/results.ts';
import { RESULT_COMPUTATIONS } from './generated/results.ts';
import { RAIL_COMPUTATIONS } from './rail-results.ts';
import type { Measure } from './reading.ts';
import type { Explain } from './result.ts';

export interface NamedMeasure extends Measure {
  /** `all_up_weight`, `rail.video.burst_voltage` … */
  readonly name: string;
}

/** What is read off a setup, those of rails last; what is derived or searched for is not among them. */
export function resultMeasures({ rotors, rails }: Build): NamedMeasure[] {
  const overlapping = rotors.map(({ position }) => position === 'lower');
  const own = RESULT_NAMES.flatMap((name): NamedMeasure[] => {
    const { needs, of } = RESULT_COMPUTATIONS[name];
    return typeof of === 'string' ? [] : [{ name, needs, of: (evaluation) => of(evaluation, overlapping) }];
  });
  const ofRails = rails.flatMap((rail, i) =>
    RAIL_RESULTS.map((name) => ({ name: `rail.${rail.name}.${name}`, ...RAIL_COMPUTATIONS[name].measure(i) })),
  );
  return [...own, ...ofRails];
}

export function explanationOf(name: string): Explain | undefined {
  if (isResultName(name)) return RESULT_COMPUTATIONS[name].explain;
  const [, rail, asked] = /^rail\.(.+)\.(\w+)$/.exec(name) ?? [];
  const known = RAIL_RESULTS.find((one) => one === asked);
  if (rail === undefined || !known) return undefined;
  return (assessment) => RAIL_COMPUTATIONS[known].explain(rail, assessment);
}
