/** What measurements did to a result, and to the figures it rests on. */

import { teachingParts } from '../../model/arrangements.ts';
import type { Build, Figure } from '../../model/build.ts';
import { partKey } from '../../model/identities.ts';
import { piecesOf, slotsOf } from '../../model/slots.ts';
import { plusMinusOf } from '../../units/interval.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { assess } from '../assess.ts';
import type { Assessment, Estimate, Learnt, LearntLine } from '../assessment.ts';
import { withDeviations } from '../setup/template.ts';
import { standardUncertainty } from '../uncertainty/estimate.ts';
import { isModelForm } from '../uncertainty/sensitivity.ts';
import { spreadOf } from '../uncertainty/spread.ts';
import { beforeLearning } from './learn.ts';
import { narrowedContributions } from './narrowing.ts';
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
export function taughtOf(name: ResultId, { build, option, learnt }: Assessment): Taught | undefined {
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
    ...slotsOf(base, ['rotors']),
    ...packsObserved(base).flatMap(({ option }) => piecesOf(option)),
  ]);
  return [...new Set(observed.filter(({ part }) => !own.has(partKey(part))).map(({ part }) => part.name))];
}

/** A figure that measurements moved farther than its own ± (k = 2). */
export interface GivingWay {
  readonly figure: Figure;
  /** By what else is known now, SI: of an estimate what the figures that it rests on, as they are learnt, give. */
  readonly before: number;
  readonly beforePlusMinus: number;
  /** With what was measured; `plusMinus` is k = 2, SI. */
  readonly value: number;
  readonly plusMinus: number;
  readonly deviations: number;
}

/**
 * In standard deviations: beyond the ± that was shown before (k = 2). Several figures of a craft may be so far off by chance: at 2 every twelfth healthy
 * craft with rows of a stand has one, at 2.1 every sixteenth (simulated).
 */
export const FARTHER = 2.1;

/** Of parts and of the model, not of instruments or of a day; farthest first. */
export function givingWay(learnt: Learnt): GivingWay[] {
  const narrow = narrowedContributions(learnt, learnt.figures);
  return learnt.figures
    .flatMap((figure, i): GivingWay[] => {
      const deviations = learnt.deviations.get(figure.id) ?? 0;
      if (Math.abs(deviations) <= FARTHER || isModelForm(figure)) return [];
      const value = withDeviations(learnt.deviations)(figure);
      const others = new Map(learnt.deviations);
      others.delete(figure.id);
      const before = withDeviations(others)(figure);
      const left = standardUncertainty({ value, contributions: narrow(unit(learnt.figures.length, i)) });
      const scale = (size: number) =>
        (spreadOf(figure) === 'log' ? size / figure.value : 1) * figure.standardUncertainty;
      return [
        {
          figure,
          before,
          beforePlusMinus: 2 * scale(before),
          value,
          plusMinus: 2 * left * scale(value),
          deviations,
        },
      ];
    })
    .sort((a, b) => Math.abs(b.deviations) - Math.abs(a.deviations));
}

export interface TaughtFigure extends Omit<GivingWay, 'before' | 'beforePlusMinus'> {
  /** Of its own ± what is left, 0 … 1. */
  readonly left: number;
}

/** Of its ± so much less, or so many standard deviations farther: worth a line. */
const NARROWER = 0.9;
const MOVED = 0.5;

/** Figures of parts that measurements narrowed or moved; most narrowed first. */
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
      return [{ figure, value, plusMinus: plusMinusOf(left * figure.standardUncertainty * scale), deviations, left }];
    })
    .sort((a, b) => a.left - b.left);
}

const unit = (length: number, at: number): Float64Array => Float64Array.from({ length }, (_, i) => (i === at ? 1 : 0));

/** A figure that would explain best why a line contradicts, were it another; and what it would have to be, SI. */
export interface Suspect {
  readonly figure: Figure;
  readonly value: number;
  /** k = 2, SI. */
  readonly plusMinus: number;
}

/** What it explains, as a fall of the sum of squares: less is chance. */
const EXPLAINS = 4;

/** In standard deviations: farther off a figure is no more likely than anything else. */
const FARTHEST = 10;

/** Of what the line is off. */
const MOST_OF_IT = 0.5;

/**
 * By a score test: with one figure's prior moved by δ of its standard deviations the sum of squares falls most, by m²/(1 − l²), at δ = m/(1 − l²), where
 * the measurements moved it by m and left it l of its ±; among those that move the line most of the way. Figures of parts, instruments and the day; what only the model knows is no cause.
 */
export function suspectOf(
  learnt: Learnt,
  { slopes, value, otherwise, isPlain, error }: LearntLine,
): Suspect | undefined {
  const off = otherwise === undefined ? 0 : (isPlain ? value - otherwise : Math.log(value / otherwise)) / error;
  const narrow = narrowedContributions({ ...learnt, doubts: [] }, learnt.figures);
  const [best] = learnt.figures
    .flatMap((figure, i) => {
      if (figure.whose.sort === 'model') return [];
      const moved = learnt.deviations.get(figure.id) ?? 0;
      const left = Math.hypot(...narrow(unit(learnt.figures.length, i)));
      const known = Math.max(1e-3, 1 - left ** 2);
      const shift = moved / known;
      const share = ((slopes.get(figure.id) ?? 0) * shift) / off;
      return Math.abs(shift) > FARTHEST || !(share > MOST_OF_IT)
        ? []
        : [{ figure, shift, known, gain: moved ** 2 / known }];
    })
    .sort((a, b) => b.gain - a.gain);
  if (!best || best.gain < EXPLAINS) return undefined;
  const { figure, shift, known } = best;
  const then = withDeviations(new Map([[figure.id, shift]]))(figure);
  const scale = spreadOf(figure) === 'log' ? then / figure.value : 1;
  return { figure, value: then, plusMinus: (2 / Math.sqrt(known)) * figure.standardUncertainty * scale };
}
