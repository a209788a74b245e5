/** How quantities are read off a solved setup. Numbers in SI; undefined where a point does not exist. */
import { STANDARD_GRAVITY } from '../../physics/air.ts';
import { packRestingVoltage } from '../../physics/chemistry.ts';
import { type Craft, isImpossible, type OperatingPoint, possible, type RotorState } from '../../physics/craft.ts';
import type { Endurance } from '../../physics/discharge.ts';
import { discArea, tipSpeedAt } from '../../physics/propeller.ts';
import type { WindCase } from '../../physics/wind.ts';
import type { CraftEvaluation, Evaluation, Point } from '../evaluate/evaluation.ts';
import type { WindSetup } from '../setup/setup.ts';

/** What has to exist for a measure to have a value; the reason it has none follows from this. */
export type Need =
  | 'dryMass'
  | 'packMass'
  | 'speedConstant'
  | 'pack'
  | 'full'
  | 'fullAtReserve'
  | 'rest'
  | 'escBurst'
  | 'hover'
  | 'hoverAtReserve'
  | 'burst'
  | 'burstAtReserve'
  | 'hoverTime'
  | 'flightTime'
  | 'hoverAtLandBy'
  | 'wind'
  | 'heat'
  | 'mount'
  | 'balance'
  | 'frontRotors'
  | 'legs';

export interface Measure {
  readonly needs: readonly Need[];
  readonly of: (evaluation: Evaluation) => number | undefined;
}

export const G = STANDARD_GRAVITY;

/** A point of a whole craft, with what belongs to it. */
export interface At {
  readonly point: OperatingPoint;
  readonly craft: Craft;
  readonly evaluation: Evaluation;
  /** The same point of the evaluation that this one is near. */
  readonly near?: () => At | undefined;
}

export interface AtFull extends At {
  /** Currents, powers: as the factor on full duty; thrust follows power to ⅔ and speed to ⅓, sag follows current. */
  readonly factor: number;
  readonly busVoltage: number;
  readonly cellVoltage: number;
}

export const weightOf = (evaluation: Evaluation): number | undefined => {
  const { dryMass, packMass } = evaluation.setup;
  return dryMass === undefined || packMass === undefined ? undefined : (dryMass + packMass) * G;
};

/** A quantity read from one point of the flight. */
export const inFlight =
  (
    which: 'hover' | 'hoverAtReserve' | 'burst' | 'burstAtReserve' | 'hoverAtLandBy',
    of: (at: At) => number | undefined,
  ) =>
  (evaluation: Evaluation): number | undefined => {
    const at = solvedAt(evaluation, ({ flight }) => flight?.[which]);
    return at && of(at);
  };

export function solvedAt(evaluation: Evaluation, which: (craft: CraftEvaluation) => Point | undefined): At | undefined {
  const { craft } = evaluation;
  const point = craft && possible<OperatingPoint>(which(craft));
  if (!craft || !point) return undefined;
  const { near } = evaluation;
  const at = { point, craft: craft.craft, evaluation };
  return near ? { ...at, near: () => solvedAt(near, which) } : at;
}

/** The same where a burst that is full duty has full duty's factor. */
export const inBurst =
  (which: 'burst' | 'burstAtReserve', of: (at: AtFull) => number) =>
  (evaluation: Evaluation): number | undefined => {
    const { craft } = evaluation;
    const point = possible<OperatingPoint>(craft?.flight?.[which]);
    if (!point || !craft) return undefined;
    const charge = which === 'burst' ? 1 : craft.craft.pack.reserve;
    const factor = point.atDutyLimit ? evaluation.setup.fullDutyFactor : 1;
    return of(withFactor(evaluation, craft, point, charge, factor));
  };

export const atFull =
  <T>(which: 'full' | 'fullAtReserve', of: (at: AtFull) => T | undefined) =>
  (evaluation: Evaluation): T | undefined => {
    const { craft } = evaluation;
    const point = possible<OperatingPoint>(craft?.[which]);
    if (!point || !craft) return undefined;
    const charge = which === 'full' ? 1 : craft.craft.pack.reserve;
    const { near, setup } = evaluation;
    const at = withFactor(evaluation, craft, point, charge, setup.fullDutyFactor);
    return of(near ? { ...at, near: () => solvedAt(near, (other) => other[which]) } : at);
  };

function withFactor(
  evaluation: Evaluation,
  { craft }: CraftEvaluation,
  point: OperatingPoint,
  charge: number,
  factor: number,
): AtFull {
  const { pack } = craft;
  const { busVoltage, cellVoltage } = point;
  if (factor === 1) return { evaluation, craft, point, factor, busVoltage, cellVoltage };
  const resting = packRestingVoltage(pack, charge);
  const restingCell = resting / pack.cellsInSeries;
  return {
    evaluation,
    craft,
    point,
    factor,
    busVoltage: resting - (resting - busVoltage) * factor,
    cellVoltage: restingCell - (restingCell - cellVoltage) * factor,
  };
}

export const thrustFactorOf = (at: AtFull): number => at.factor ** (2 / 3);

export const speedFactorOf = (at: AtFull): number => at.factor ** (1 / 3);

/** Of the rotor line that has most of something: mixed craft are judged by their hardest worked motor. */
export function mostOfLines(at: At, of: (rotor: RotorState, line: number, at: At) => number): number {
  const { rotors } = at.point;
  const line = rotors.length > 1 ? hardestOf(at.near?.() ?? at, of) : 0;
  const rotor = rotors[line];
  return rotor ? of(rotor, line, at) : 0;
}

function hardestOf(at: At, of: (rotor: RotorState, line: number, at: At) => number): number {
  return hardest(
    at.point.rotors.map((rotor, line) => of(rotor, line, at)),
    at.craft,
  );
}

/**
 * The line with the greatest value. Motors that differ may tie, such as in stall with equal resistances: then the fastest wound
 * counts, so that the order of the lines decides nothing.
 */
function hardest(values: readonly number[], { rotors }: Craft): number {
  const greatest = Math.max(...values);
  return indexOfGreatest(
    values.map((value, line) =>
      value >= greatest * (1 - TIE) ? (rotors[line]?.motor.speedConstant ?? 0) : Number.NEGATIVE_INFINITY,
    ),
  );
}

/** Relative: what solvers leave between equal rotors. */
const TIE = 1e-9;

/** The first of several; -1 of none. */
export const indexOfGreatest = (values: readonly number[]): number =>
  values.reduce((best, value, i) => (best < 0 || value > (values[best] as number) ? i : best), -1);

const diameterOf = (craft: Craft, line: number): number => craft.rotors[line]?.propeller.diameter ?? 0;

export const ofFlight =
  (which: 'hoverTime' | 'flightTime', of: (endurance: Endurance) => number) =>
  (evaluation: Evaluation): number | undefined => {
    const endurance = possible<Endurance>(evaluation.craft?.flight?.[which]);
    return endurance && of(endurance);
  };

export const thrustOverWeight = ({ point, evaluation }: AtFull, factor: number): number | undefined => {
  const weight = weightOf(evaluation);
  return weight === undefined ? undefined : (point.thrust * factor) / weight;
};

/** Area swept by the rotors seen from above, m²; a coaxial pair counts once. */
export function sweptArea(craft: Craft, overlapping: readonly boolean[]): number {
  return craft.rotors.reduce(
    (area, group, i) => (overlapping[i] ? area : area + group.count * discArea(group.propeller.diameter)),
    0,
  );
}

/** Winding current of a stalled rotor at hover's duty, A: only resistance is left to limit it. */
export function currentInStall(here: At): number {
  return mostOfLines(here, ({ duty }, line, { point, craft }) => {
    const group = craft.rotors[line];
    return group ? (duty * point.busVoltage) / (group.motor.resistance + group.esc.resistance) : 0;
  });
}

/** Of the motor that turns fastest for its volts. */
export function fastestConstant({ setup, near }: Evaluation): number | undefined {
  const decisive = (near?.setup ?? setup).speedConstants;
  return setup.speedConstants[indexOfGreatest(decisive.map((constant) => constant ?? 0))];
}

/** Ahead of the rotors' middle, m. */
export function centreOfMass({ dryMass, packMass, balance }: Evaluation['setup']): number | undefined {
  if (dryMass === undefined || packMass === undefined || !balance) return undefined;
  return (balance.othersMoment + packMass * balance.packPosition) / (dryMass + packMass);
}

/** With what the rotors still give at the reserve. */
export function windCaseOf(evaluation: Evaluation, overlapping: readonly boolean[]): WindCase | undefined {
  const { wind } = evaluation.setup;
  return wind && windCaseIn(evaluation, overlapping, wind);
}

/** The same in the air of flights in legs, where no wind is computed. */
export function windCaseIn(
  evaluation: Evaluation,
  overlapping: readonly boolean[],
  { dragArea, momentumShare, wakeExpansion, tiltLimit }: WindSetup,
): WindCase | undefined {
  const weight = weightOf(evaluation);
  if (weight === undefined) return undefined;
  return atFull(
    'fullAtReserve',
    (at): WindCase => ({
      dragArea,
      momentumShare,
      wakeExpansion,
      tiltLimit,
      mass: weight / G,
      airDensity: at.craft.air.density,
      discArea: sweptArea(at.craft, overlapping),
      availableThrust: at.point.thrust * thrustFactorOf(at),
    }),
  )(evaluation);
}

/** Of one rotor line's motor, K; the flight as flown, long enough to settle. Undefined without a thermal resistance, and when it runs away. */
export const settledWinding =
  (line: number) =>
  ({ craft }: Evaluation): number | undefined => {
    const temperature = craft?.windings[line];
    return temperature === 'runaway' ? undefined : temperature;
  };

export const motorPower = ({ motorVoltage, motorCurrent }: RotorState): number => motorVoltage * motorCurrent;

export const fastestTip = (at: AtFull): number =>
  speedFactorOf(at) * mostOfLines(at, ({ speed }, line, { craft }) => tipSpeedAt(diameterOf(craft, line), speed));

export const restingCell = (craft: Craft, charge: number): number =>
  packRestingVoltage(craft.pack, charge) / craft.pack.cellsInSeries;

export interface FlownPhase {
  readonly share: number;
  readonly point: OperatingPoint;
}

/** Over the phases of the flight as flown, at the middle charge. */
export const overFlight =
  <T>(of: (phases: readonly FlownPhase[], craft: Craft) => T | undefined) =>
  ({ craft }: Evaluation): T | undefined => {
    if (!craft?.flight || isImpossible(craft.flight.hover)) return undefined;
    const phases: FlownPhase[] = [];
    for (const [i, { share }] of craft.craft.flown.entries()) {
      const point = possible<OperatingPoint>(craft.flight.phases[i]);
      if (!point) return undefined;
      phases.push({ share, point });
    }
    return of(phases, craft.craft);
  };

/** A quantity read from the full pack at rest. */
export const ofRestingPack =
  (of: (point: OperatingPoint, craft: Craft) => number) =>
  ({ craft }: Evaluation): number | undefined => {
    const point = possible<OperatingPoint>(craft?.rest);
    return craft && point && of(point, craft.craft);
  };

/** A number of the setup itself. */
export const fromSetup =
  (of: (setup: Evaluation['setup']) => number | undefined) =>
  ({ setup }: Evaluation): number | undefined =>
    of(setup);
