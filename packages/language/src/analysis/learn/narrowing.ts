/**
 * What is left of an error once measurements have narrowed it. Contributions of inputs, each in its prior standard deviations, lose a share of what lies
 * along each direction that was learnt; where measurements contradict each other, each such doubt is one more input.
 */
import type { Figure } from '../../model/build.ts';
import type { Assessment, Learnt } from '../assessment.ts';
import type { Deviations } from '../setup/template.ts';

interface Narrowed {
  readonly along: Float64Array;
  readonly share: number;
}

/** A change along inputs, as measurements leave it. */
function narrowedAlong(directions: readonly Narrowed[], slopes: ArrayLike<number>): Float64Array {
  const result = Float64Array.from(slopes);
  for (const { along, share } of directions) {
    let dot = 0;
    for (let i = 0; i < along.length; i++) dot += (along[i] ?? 0) * (result[i] ?? 0);
    for (let i = 0; i < along.length; i++) result[i] = (result[i] ?? 0) - share * dot * (along[i] ?? 0);
  }
  return result;
}

type Input = Pick<Figure, 'id'>;

const directionsAmong = ({ narrowings }: Learnt, inputs: readonly Input[]): Narrowed[] =>
  narrowings.map(({ along, share }) => ({ along: Float64Array.from(inputs, ({ id }) => along.get(id) ?? 0), share }));

/** The doubts that contradictions leave, among some inputs. */
const doubtsAmong = ({ doubts }: Learnt, inputs: readonly Input[]) =>
  doubts.map(({ figure, along }) => ({
    index: inputs.findIndex(({ id }) => id === figure.id),
    along: Float64Array.from(inputs, ({ id }) => along.get(id) ?? 0),
  }));

/** Contributions of all inputs, as measurements leave them. Inputs that only they have come last. */
export function narrowedContributions(
  learnt: Learnt,
  inputs: readonly Input[],
): (contributions: Float64Array) => Float64Array {
  const directions = directionsAmong(learnt, inputs);
  const doubts = doubtsAmong(learnt, inputs);
  return (contributions) => {
    const all = new Float64Array(inputs.length);
    all.set(contributions);
    const result = narrowedAlong(directions, all);
    for (const { index, along } of doubts)
      if (index >= 0) result[index] = all.reduce((sum, value, i) => sum + value * (along[i] ?? 0), 0);
    return result;
  };
}

/** Deviation of an assessment's figures when its inputs deviate, each in its standard deviations. */
export function deviationsOf({ inputs, learnt }: Assessment, deviations: Float64Array): Deviations {
  if (!learnt) return new Map(inputs.map(({ id }, i) => [id, deviations[i] ?? 0]));
  const spread = narrowedAlong(directionsAmong(learnt, inputs), deviations);
  const doubts = doubtsAmong(learnt, inputs);
  const doubted = (i: number) =>
    doubts.reduce((sum, { index, along }) => sum + (deviations[index] ?? 0) * (along[i] ?? 0), 0);
  return new Map(inputs.map(({ id }, i) => [id, (spread[i] ?? 0) + doubted(i) + (learnt.deviations.get(id) ?? 0)]));
}
