/** What the results of level flight have in common: the craft as `physics/forward-flight.ts` takes it, and what flying costs compared with hovering. */
import type { Build } from '../../model/build.ts';
import { type Best, bestSpeed, type LevelFlight, levelPower, profileInHover } from '../../physics/forward-flight.ts';
import { massFlow } from '../../physics/wind.ts';
import type { Assessment } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { airTerms, pointAt } from '../explain/derivation-points.ts';
import { ofFigure, ofNumber, ofResult, type Terms } from '../explain/derivation-terms.ts';
import { INDUCED_FACTOR, LEVEL_FLIGHT } from '../uncertainty/model-form.ts';
import { dragAreaIn } from './air-figures.ts';
import { fastestTip, ofFlight, solvedAt, windCaseOf } from './reading.ts';
import type { ResultComputation } from './result.ts';

interface Level {
  readonly flight: LevelFlight;
  /** Electrical power in hover with all loads, and that of the rotors in it, W. */
  readonly hoverPower: number;
  readonly rotorPower: number;
}

/** Several results are read off one. */
const levels = new WeakMap<Evaluation, Level | null>();
const bests = new WeakMap<Level, Map<string, number | undefined>>();

/** Undefined where something of it cannot be computed. */
export function levelOf(evaluation: Evaluation, overlapping: readonly boolean[]): Level | undefined {
  const known = levels.get(evaluation);
  if (known !== undefined) return known ?? undefined;
  const level = levelIn(evaluation, overlapping);
  levels.set(evaluation, level ?? null);
  return level;
}

function levelIn(evaluation: Evaluation, overlapping: readonly boolean[]): Level | undefined {
  const wind = windCaseOf(evaluation, overlapping);
  const at = solvedAt(evaluation, ({ flight }) => flight?.hover);
  const { wind: setup } = evaluation.setup;
  if (!wind || !at || !setup) return undefined;
  const { point, craft } = at;
  const sum = (of: (line: number) => number) =>
    craft.rotors.reduce((total, { count }, line) => total + count * of(line), 0);
  const hoverShaftPower = sum((line) => point.rotors[line]?.shaftPower ?? 0);
  const rotorPower = sum((line) => point.rotors[line]?.busCurrent ?? 0) * point.busVoltage;
  if (!(hoverShaftPower > 0 && rotorPower > 0)) return undefined;
  return {
    flight: {
      wind,
      hoverShaftPower,
      tipSpeed: fastestTip({ ...at, factor: 1, busVoltage: point.busVoltage, cellVoltage: point.cellVoltage }),
      inducedFactor: setup.inducedFactor,
    },
    hoverPower: point.packCurrent * point.busVoltage,
    rotorPower,
  };
}

/** Electrical power at a speed over that in hover; drives are as efficient as they are there. */
function powerRatio({ flight, hoverPower, rotorPower }: Level, speed: number, levelFlight: number): number {
  const ofRotors = (levelFlight * levelPower(flight, speed).total) / flight.hoverShaftPower;
  return (hoverPower - rotorPower + rotorPower * ofRotors) / hoverPower;
}

/** m/s. @param wind m/s from ahead */
export function bestOf(level: Level, best: Best, wind = 0): number | undefined {
  const { flight, hoverPower, rotorPower } = level;
  const known = bests.get(level) ?? new Map<string, number | undefined>();
  bests.set(level, known);
  const key = `${best} ${wind}`;
  if (!known.has(key))
    known.set(key, bestSpeed(flight, best, ((hoverPower - rotorPower) * flight.hoverShaftPower) / rotorPower, wind));
  return known.get(key);
}

/** Flying at a best speed from full to the reserve. */
export interface Cruise {
  /** m/s */
  readonly speed: number;
  /** s: the time in hover over the ratio of powers. */
  readonly time: number;
  readonly level: Level;
  readonly ratio: number;
}

export function cruiseAt(evaluation: Evaluation, overlapping: readonly boolean[], best: Best): Cruise | undefined {
  const level = levelOf(evaluation, overlapping);
  const speed = level && bestOf(level, best);
  const hovering = ofFlight('hoverTime', ({ time }) => time)(evaluation);
  const factor = evaluation.setup.wind?.levelFlight;
  if (!level || speed === undefined || hovering === undefined || factor === undefined) return undefined;
  const ratio = powerRatio(level, speed, factor);
  return { speed, time: hovering / ratio, level, ratio };
}

/** Of a build, as the measures take it. */
export const overlappingOf = ({ rotors }: Build): readonly boolean[] =>
  rotors.map(({ position }) => position === 'lower');

export const LEVEL_FLIGHT_SOURCE =
  'momentum theory with profile and body drag: H. Glauert, in Leishman 2006, sec. 2.14, 5.4 and 5.5; compared with T. A. Rodrigues et al., Scientific Data 8 (2021) 155';

export const LEVEL_FLIGHT_NEGLECTS =
  'wind and turns, rotors in the wake of others, lift of the body, drives that work better or worse than in hover; flight faster than a fifth of the tip speed';

/** Everything that the power in level flight is computed from. */
function levelTerms(assessment: Assessment, best: Best): Terms {
  const { build, evaluation } = assessment;
  const level = levelOf(evaluation, overlappingOf(build));
  const at = pointAt(assessment, 'hover');
  if (!level || !at) return [];
  const { flight, hoverPower, rotorPower } = level;
  const { wind } = flight;
  const speed = bestOf(level, best) ?? 0;
  const { thrust, inducedVelocity } = levelPower(flight, speed);
  return [
    ofResult('m', 'all_up_weight', assessment),
    ofFigure('C_dA', dragAreaIn(assessment)),
    ofNumber('k', 'share of the momentum of the air through the rotors that acts as drag', wind.momentumShare, ''),
    ofNumber('A', 'area of all discs', wind.discArea, 'cm^2'),
    ofNumber('σ', 'area of the wake over that of the discs', wind.wakeExpansion, ''),
    ofFigure('κ', INDUCED_FACTOR),
    ofNumber('P_s', 'power at the shafts of all rotors in hover', flight.hoverShaftPower, 'W'),
    ofNumber('P_o', 'of that, profile power: P_s − κ·m·g·v_h/(2·σ)', profileInHover(flight), 'W'),
    ofNumber('v_i', 'induced velocity at v', inducedVelocity, 'm/s'),
    ofNumber('ṁ', 'mass flow through the rotors at v', massFlow(wind, thrust, speed), 'kg/s'),
    ofNumber('v_t', 'speed of the fastest blade tip in hover', flight.tipSpeed, 'm/s'),
    ofNumber('P_r', 'electrical power of the rotors in hover', rotorPower, 'W'),
    ofNumber('P_l', 'electrical power of everything else', hoverPower - rotorPower, 'W'),
    ...airTerms(at),
  ];
}

/** How long one speed lasts, from what hovering takes. */
export function cruiseTerms(assessment: Assessment, best: Best): Terms {
  const cruise = cruiseAt(assessment.evaluation, overlappingOf(assessment.build), best);
  if (!cruise) return [];
  const { level, speed } = cruise;
  return [
    ofResult('t_h', 'hover_time', assessment),
    ofNumber('P_r', 'electrical power of the rotors in hover', level.rotorPower, 'W'),
    ofNumber('P_l', 'electrical power of everything else', level.hoverPower - level.rotorPower, 'W'),
    ofNumber('P_s', 'power at the shafts of all rotors in hover', level.flight.hoverShaftPower, 'W'),
    ofNumber('P_v', 'power at the shafts of all rotors at v', levelPower(level.flight, speed).total, 'W'),
    ofFigure('f', LEVEL_FLIGHT),
  ];
}

export const TIME_AT_SPEED = 't_h·(P_l + P_r) / (P_l + f·P_r·P_v/P_s)';

/** The speed at which power, or power over speed, is least. */
export const speedResult = (best: Best, description: string): ResultComputation => ({
  needs: ['dryMass', 'packMass', 'fullAtReserve', 'wind', 'hover'],
  of: (evaluation, overlapping) => {
    const level = levelOf(evaluation, overlapping);
    return level && bestOf(level, best);
  },
  explain: (assessment) => ({
    formula: `v where ${best === 'endurance' ? 'P_v' : 'P_v/v'} min with v ≤ v_max: P_v = κ·T·v_i/(2·σ) + P_o·(1 + 4.65·(v·m·g/(T·v_t))²) + D·v + P_l·P_s/P_r with D = ½·ρ·C_dA·v² + k·ṁ·v with T = √((m·g)² + D²)`,
    description,
    terms: [ofResult('v_max', 'wind_held', assessment), ...levelTerms(assessment, best)],
    source: LEVEL_FLIGHT_SOURCE,
    neglects: LEVEL_FLIGHT_NEGLECTS,
  }),
});
