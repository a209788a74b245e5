/** What measurements did to a result, and to the figures it rests on. */

import { partKey, teachingParts } from '../../model/arrangements.ts';
import type { Build, Figure } from '../../model/build.ts';
import { assess } from '../assess.ts';
import type { Assessment, Estimate, Learnt, LearntLine } from '../assessment.ts';
import { withDeviations } from '../setup/template.ts';
import { standardUncertainty } from '../uncertainty/estimate.ts';
import { isModelForm } from '../uncertainty/sensitivity.ts';
import { spreadOf } from '../uncertainty/spread.ts';
import { beforeLearning, narrowedContributions } from './learn.ts';
import { packsObserved } from './observed-lines.ts';

export interface Taught {
  /** The result before anything was measured. */
  readonly before: Estimate;
  /** What taught it most, first; each with the part of the variance before that it would have taken away alone. */
  readonly by: readonly { readonly line: LearntLine; readonly share: number }[];
  /** Names of parts that were on the craft when it was observed, and are not on this one: what concerned them does not count here. */
  readonly forgets: readonly string[];
}

/** Below this part of the variance a line is not worth a word. */
const WORTH_NAMING = 0.03;

/** Undefined where nothing was learnt, or the result did not exist before. */
export function taughtOf(name: string, { build, option, learnt }: Assessment): Taught | undefined {
  if (!learnt) return undefined;
  const prior = assess(beforeLearning(build), option);
  const before = prior.results.get(name)?.estimate;
  const variance = before && standardUncertainty(before) ** 2;
  if (!before || !variance) return undefined;
  const shareOf = ({ slopes }: LearntLine): number => {
    let along = 0;
    let square = 0;
    for (const slope of slopes.values()) square += slope ** 2;
    for (const [i, { id }] of prior.inputs.entries()) along += (before.contributions[i] ?? 0) * (slopes.get(id) ?? 0);
    return along ** 2 / (1 + square) / variance;
  };
  const by = learnt.lines
    .map((line) => ({ line, share: shareOf(line) }))
    .filter(({ share }) => share >= WORTH_NAMING)
    .sort((a, b) => b.share - a.share);
  return { before, by, forgets: exchanged(build) };
}

/** Motors, propellers and packs of observed builds that this one is like, which it has exchanged. */
function exchanged(build: Build): string[] {
  const own = new Set(teachingParts(build).map(partKey));
  const bases = build.kin().filter(({ isBase }) => isBase);
  const observed = bases.flatMap(({ build: base }) => [
    ...base.rotors.flatMap(({ motor, propeller }) => [motor, propeller]),
    ...packsObserved(base).map(({ option }) => option.part),
  ]);
  return [...new Set(observed.filter((part) => !own.has(partKey(part))).map(({ name }) => name))];
}

/** A figure that measurements moved farther than its own ± (k = 2). */
export interface GivingWay {
  readonly figure: Figure;
  /** With what was measured; `plusMinus` is k = 2, SI. */
  readonly value: number;
  readonly plusMinus: number;
  readonly deviations: number;
}

/** In standard deviations: the ± that was shown before. */
const FARTHER = 2;

/** Of parts and of the model, not of instruments or of a day; farthest first. */
export function givingWay(learnt: Learnt): GivingWay[] {
  const narrow = narrowedContributions(learnt, learnt.figures);
  return learnt.figures
    .flatMap((figure, i): GivingWay[] => {
      const deviations = learnt.deviations.get(figure.id) ?? 0;
      if (Math.abs(deviations) <= FARTHER || isModelForm(figure)) return [];
      const value = withDeviations(learnt.deviations)(figure);
      const left = standardUncertainty({ value, contributions: narrow(unit(learnt.figures.length, i)) });
      const scale = spreadOf(figure) === 'log' ? value / figure.value : 1;
      return [{ figure, value, plusMinus: 2 * left * figure.standardUncertainty * scale, deviations }];
    })
    .sort((a, b) => Math.abs(b.deviations) - Math.abs(a.deviations));
}

export interface TaughtFigure extends GivingWay {
  /** Of its own ± what is left, 0 … 1. */
  readonly left: number;
}

/** Of its ± so much less, or so many standard deviations farther: worth a line. */
const NARROWER = 0.9;
const MOVED = 0.5;

/** Figures of parts that measurements made surer or moved; most narrowed first. */
export function taughtFigures(learnt: Learnt): TaughtFigure[] {
  const narrow = narrowedContributions(learnt, learnt.figures);
  return learnt.figures
    .flatMap((figure, i): TaughtFigure[] => {
      if (isModelForm(figure)) return [];
      const deviations = learnt.deviations.get(figure.id) ?? 0;
      const left = Math.hypot(...narrow(unit(learnt.figures.length, i)));
      if (left > NARROWER && Math.abs(deviations) < MOVED) return [];
      const value = withDeviations(learnt.deviations)(figure);
      const scale = spreadOf(figure) === 'log' ? value / figure.value : 1;
      return [{ figure, value, plusMinus: 2 * left * figure.standardUncertainty * scale, deviations, left }];
    })
    .sort((a, b) => a.left - b.left);
}

const unit = (length: number, at: number): Float64Array => Float64Array.from({ length }, (_, i) => (i === at ? 1 : 0));
