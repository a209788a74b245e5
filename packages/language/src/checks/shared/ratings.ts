/**
 * The ratings a build has to keep, side by side with what flows: what overcurrent checks and `keep … in reserve on …` both read.
 */

import type { Assessment, Estimate, RotorResults } from '../../analysis/assessment.ts';
import { drivingAmong } from '../../analysis/setup/craft-setup.ts';
import { packsInParallel } from '../../analysis/setup/pack-setup.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import type { Figure, PackOption, Part, Use } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { formatNumber } from '../../units/print.ts';
import type { RatingKey } from '../../vocabulary/limits.ts';
import type { FigureName } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { formatExact, percent } from './finding-numbers.ts';

export interface Limit {
  readonly key: RatingKey;
  /** The part that sets it. */
  readonly part: Part;
  /** Of limit and value. */
  readonly unit: 'A' | 'W';
  readonly limit: number;
  /** The figure the limit was read from. */
  readonly figure: Figure;
  /** What flows. */
  readonly value: Estimate;
}

/** The rating for a few seconds: `burst`, or an unlabelled maximum, which counts as a burst rating. */
export const burstRating = (part: Part): Figure | undefined => part.declared('burst') ?? part.declared('max');

/** A rating with the figure it was read from: what the file states is printed as it is, what is allowed beyond it with its reason. */
export function burstRatingWords(part: Part, { limit, figure }: { limit: number; figure: Figure }): string {
  if (part.declared('burst')) return `its burst rating of ${formatExact(limit, 'A')}`;
  if (part.declared('max')) return `its maximum of ${formatExact(limit, 'A')}`;
  return `the ${formatExact(limit, 'A')} allowed for seconds (${formatNumber(limit / figure.value)} × its continuous rating of ${formatExact(figure.value, 'A')})`;
}

export function continuousRatingWords(part: Part, { limit, figure }: { limit: number; figure: Figure }): string {
  if (part.declared('continuous')) return `its continuous rating of ${formatExact(limit, 'A')}`;
  return `the ${formatExact(limit, 'A')} allowed continuously (${percent(limit / figure.value)} of its maximum of ${formatExact(figure.value, 'A')})`;
}

/** The weakest board feeds the rotor that needs most; with one kind of board that is the board. */
export function weakestBoard(boards: readonly Use<'esc'>[], property: 'burst' | 'continuous'): Part<'esc'> | undefined {
  const rated = drivingAmong(boards)
    .map((board) => board.part)
    .filter((part) => part.declared(property) ?? part.declared('continuous'));
  const rating = (part: Part<'esc'>) =>
    (part.declared(property) ?? part.declared('continuous'))?.value ?? Number.POSITIVE_INFINITY;
  return rated.sort((a, b) => rating(a) - rating(b))[0];
}

/** Burst rating of one channel: declared, or by practice 1.2 times the continuous one. */
export function escShortRating(board: Part<'esc'>): { limit: number; figure: Figure } | undefined {
  const burst = burstRating(board);
  if (burst) return { limit: burst.value, figure: burst };
  const estimated = board.figure('burst');
  const continuous = board.declared('continuous');
  if (estimated && continuous) return { limit: estimated.value, figure: continuous };
  return undefined;
}

/** Continuous rating of a motor: declared, or half of an unlabelled maximum. */
export function motorContinuousRating(motor: Part<'motor'>): { limit: number; figure: Figure } | undefined {
  const continuous = motor.declared('continuous');
  if (continuous) return { limit: continuous.value, figure: continuous };
  const maximum = motor.declared('max');
  if (maximum) return { limit: maximum.value * THRESHOLDS.motorOvercurrent.continuousShareOfMaximum, figure: maximum };
  return undefined;
}

/** A pack's rating in amperes: written as a current, or as a rate (`75C`) times its capacity; packs in parallel share. */
export function packRating(
  option: PackOption,
  property: 'burst' | 'discharge',
): { limit: number; figure: Figure } | undefined {
  const { part } = option;
  const figure = part.declared(property);
  if (!figure) return undefined;
  const shared = packsInParallel(option);
  const current = ratedCurrent(part, figure);
  return current === undefined ? undefined : { limit: current * shared, figure };
}

/** A, of one pack. */
export function ratedCurrent(pack: Part<'pack'>, { unit, value }: Figure): number | undefined {
  if (unit !== 'C') return value;
  const capacity = pack.figure('capacity');
  return capacity && value * capacity.value;
}

export interface BurstPackRating {
  /** A, of all packs side by side. */
  readonly limit: number;
  /** Of `limit`, A (k = 2); 0 for what the file states. */
  readonly plusMinus: number;
  readonly figure: Figure;
  /** "its burst rating of 40 A". */
  readonly words: () => string;
}

const { burstOverContinuous } = THRESHOLDS.packOvercurrent;

/** What a pack supplies for seconds: its burst rating, by practice twice its continuous one, of li-ion cells that state neither twice the usual. */
export function burstPackRating(option: PackOption): BurstPackRating | undefined {
  const burst = packRating(option, 'burst');
  if (burst) return { ...burst, plusMinus: 0, words: () => `its burst rating of ${formatExact(burst.limit, 'A')}` };
  const continuous = packRating(option, 'discharge');
  if (continuous) {
    const limit = burstOverContinuous * continuous.limit;
    const words = () =>
      `the ${formatExact(limit, 'A')} allowed for seconds (${burstOverContinuous} × its continuous rating of ${formatExact(continuous.limit, 'A')})`;
    return { figure: continuous.figure, limit, plusMinus: 0, words };
  }
  const usual = option.part.figure('discharge');
  const capacity = option.part.figure('capacity');
  if (!usual || !capacity) return undefined;
  const limit = burstOverContinuous * usual.value * capacity.value * packsInParallel(option);
  const plusMinus = plusMinusOf((usual.standardUncertainty * limit) / usual.value);
  const words = () =>
    `the ${formatMeasurable({ value: limit, plusMinus }, 'A')} that li-ion cells of its capacity usually supply for seconds (estimated)`;
  return { figure: usual, limit, plusMinus, words };
}

/** Of all `motors:` lines the one that draws most. */
export const hardestRotor = (
  rotors: readonly RotorResults[],
  value: (rotor: RotorResults) => Estimate | undefined,
): Estimate | undefined =>
  rotors
    .map(value)
    .filter((estimate) => estimate !== undefined)
    .sort((a, b) => b.value - a.value)[0];

export function limitsOf(assessment: Assessment): Limit[] {
  const limits: Limit[] = [];
  const add = (
    key: RatingKey,
    part: Part,
    rating: { limit: number; figure: Figure } | undefined,
    value: Estimate | undefined,
    unit: Limit['unit'] = 'A',
  ) => {
    if (rating && value) limits.push({ key, part, unit, ...rating, value });
  };
  const declared = <Kind extends BlockKind>(part: Part<Kind>, property: FigureName<Kind>) => {
    const figure = part.declared(property);
    return figure && { limit: figure.value, figure };
  };

  for (const rotor of assessment.rotors) {
    const { motor } = rotor.line;
    const short = burstRating(motor);
    add({ of: 'motor', rating: 'burst' }, motor, short && { limit: short.value, figure: short }, rotor.fullCurrent);
    add({ of: 'motor', rating: 'power' }, motor, declared(motor, 'power'), rotor.fullPower, 'W');
    add({ of: 'motor', rating: 'continuous' }, motor, motorContinuousRating(motor), rotor.mixCurrent);
  }

  const burstBoard = weakestBoard(assessment.build.escs, 'burst');
  const continuousBoard = weakestBoard(assessment.build.escs, 'continuous');
  if (burstBoard)
    add(
      { of: 'esc', rating: 'burst' },
      burstBoard,
      escShortRating(burstBoard),
      hardestRotor(assessment.rotors, (rotor) => rotor.fullCurrent),
    );
  if (continuousBoard)
    add(
      { of: 'esc', rating: 'continuous' },
      continuousBoard,
      declared(continuousBoard, 'continuous'),
      hardestRotor(assessment.rotors, (rotor) => rotor.mixCurrent),
    );

  const { option } = assessment;
  add({ of: 'pack', rating: 'discharge' }, option.part, packRating(option, 'discharge'), assessment.pack.mixCurrent);
  const full = assessment.results.get('full_current')?.estimate;
  const short = burstPackRating(option);
  // What follows from the continuous rating is worth a line where full duty passes it.
  const isStated = packRating(option, 'burst') !== undefined;
  if (short && full && (isStated || (short.plusMinus === 0 && full.value > short.limit)))
    add({ of: 'pack', rating: 'burst' }, option.part, short, full);

  for (const { rail, hoverCurrent, peakCurrent } of assessment.rails) {
    const addRail = (rating: 'continuous' | 'burst', current: Estimate | undefined) =>
      add({ of: 'rail', rail: rail.name, rating }, rail.part, declared(rail.part, rating), current);
    addRail('continuous', hoverCurrent);
    addRail('burst', peakCurrent);
  }
  return limits;
}
