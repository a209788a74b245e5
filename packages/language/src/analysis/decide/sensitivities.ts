/** What a step of each knob does to a result: which one to turn. */
import type { Build, PackOption } from '../../model/build.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { assess, assessShifted } from '../assess.ts';
import type { Assessment } from '../assessment.ts';
import { difference, measurable } from '../uncertainty/estimate.ts';
import { type Knob, knobsOf } from './knobs.ts';

export interface Turn {
  readonly knob: Knob;
  /** By how much it was turned, SI. */
  readonly step: number;
  /** SI; ± k = 2. Undefined where there is no such result any more. */
  readonly effect?: { readonly value: number; readonly plusMinus: number };
}

/** Relative to the result: nobody turns what moves it by less. Ours. */
const NOTHING = 1e-3;

/** Steps that move a result, the strongest first; those that end it before all. Undefined where there is no such result. */
export function sensitivities(result: ResultId, build: Build, option: PackOption): Turn[] | undefined {
  const now = assess(build, option);
  const level = now.results.get(result)?.estimate.value;
  if (level === undefined) return undefined;
  const read = new Set(now.inputs.map(({ id }) => id));
  const declared = knobsOf(build, option, (id) => read.has(id)).filter((knob) => isChosen(knob, now));
  return declared
    .map((knob) => turned(knob, result, build, now))
    .filter(({ effect }) => !effect || Math.abs(effect.value) > NOTHING * Math.abs(level))
    .sort((a, b) => strength(b) - strength(a));
}

const strength = ({ effect }: Turn): number => (effect ? Math.abs(effect.value) : Number.POSITIVE_INFINITY);

function turned(knob: Knob, result: ResultId, build: Build, now: Assessment): Turn {
  const [low, high] = knob.range;
  const forth = knob.now + knob.step;
  // What is at its end is changed downwards.
  const step = forth < low || forth > high ? -knob.step : knob.step;
  const then = assessShifted(build, knob.at(knob.now + step));
  const apart = difference(result, then, now);
  return { knob, step, ...(apart && { effect: measurable(apart) }) };
}

/** Nobody turns what was estimated; the payload represents the mass of every part. */
function isChosen(knob: Knob, { inputs }: Assessment): boolean {
  if (knob.isMass) return false;
  const figure = inputs.find(({ id }) => id === knob.figure?.id);
  return figure === undefined || (figure.origin !== 'estimated' && figure.recompute === undefined);
}
