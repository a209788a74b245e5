/** Everything computed for one build on one pack option. */
import type { Build, Figure, Flight, Leg, LoadUse, PackOption, Part, RailUse, RotorLine } from '../model/build.ts';
import type { Nameable } from '../model/named.ts';
import type { Impossible, OperatingPoint } from '../physics/craft.ts';
import type { Place } from '../syntax/place.ts';
import type { ResultId } from '../vocabulary/results.ts';
import type { Evaluation } from './evaluate/evaluation.ts';
import type { Flown } from './evaluate/flown-legs.ts';
import type { MeasuredLine } from './learn/scene.ts';
import type { Deviations } from './setup/template.ts';

/**
 * A value with first-order contributions of every input: contributions[i] = ∂value/∂input[i] · u(input[i]), in SI, in the order of
 * `Assessment.inputs`. Standard uncertainty = root of the sum of squares (JCGM 100, 5.1.2); the ± shown is k = 2.
 * Differences between two estimates of one build subtract contributions first: same part, same error.
 */
export interface Estimate {
  readonly value: number;
  readonly contributions: Float64Array;
}

export interface Result {
  /** `all_up_weight`, `rail.video.burst_voltage` … */
  readonly name: ResultId;
  /** What it is, in words. */
  readonly label: string;
  /** Unit in which the trade reads it. */
  readonly unit: string;
  readonly estimate: Estimate;
}

/** A result that does not exist, with the reason in words. */
export interface NoResult {
  readonly name: ResultId;
  readonly label: string;
  readonly reason: string;
  /** Of a price: the parts without one that the reason names. */
  readonly without?: readonly Part[];
}

export interface MassLine {
  readonly label: string;
  /** The part or the pack that the label names. */
  readonly of?: Nameable;
  readonly count: number;
  /** All of them together. */
  readonly mass: Figure;
  /** Where the mass is written, or the part that has it; none for what nobody named. */
  readonly place?: Place;
}

/** What checks compare with the limits of one `motors:` line's motor, propeller and ESC channel; each value of one rotor. */
export interface RotorResults {
  readonly line: RotorLine;
  /** Full duty on a fresh pack: winding current, A; electrical power of one motor, W; speed, rad/s. Undefined when there is no such point. */
  readonly fullCurrent?: Estimate;
  readonly fullPower?: Estimate;
  readonly fullSpeed?: Estimate;
  /** Root mean square of the winding current over the flight as flown, A. */
  readonly mixCurrent?: Estimate;
  /** Hovering with the pack half used: power lost to current ripple over the power into the channel. */
  readonly rippleShare?: Estimate;
  /** Of the winding over the flight as flown, long enough to settle, K; only with a declared thermal resistance, and where it settles. */
  readonly windingTemperature?: Estimate;
}

/** What one load sees, V. */
export interface LoadResults {
  readonly load: LoadUse;
  /** The highest: full pack, motors off. */
  readonly restVoltage?: Estimate;
  /** At the reserve. */
  readonly hoverVoltage?: Estimate;
  readonly burstVoltage?: Estimate;
  readonly fullVoltage?: Estimate;
  /** The first state of charge (1 = full) at which it sees less than its declared minimum; undefined when never before empty. */
  readonly hoverBrownOut?: Estimate;
  readonly burstBrownOut?: Estimate;
  /** Cell voltage in hover at `burstBrownOut`, V, where that is before the reserve: what to read so as to land before. */
  readonly landByHoverVoltage?: Estimate;
}

/** One rail's or regulator's output, A and V. */
export interface RailResults {
  readonly rail: RailUse;
  readonly hoverCurrent?: Estimate;
  readonly peakCurrent?: Estimate;
  /** Input voltage, full pack at rest: the highest it sees. */
  readonly restInputVoltage?: Estimate;
  /** At the reserve, where the part states what it works from. */
  readonly hoverInputVoltage?: Estimate;
  readonly burstInputVoltage?: Estimate;
  /** Its output drops in a burst at the reserve. */
  readonly dropsOut: boolean;
}

export interface PackResults {
  /** Average pack current over the flight as flown, A. */
  readonly mixCurrent?: Estimate;
  /** Fresh warm pack: how far each cell falls below its resting voltage in a burst, V. */
  readonly burstCellSag?: Estimate;
  /** A cell's voltage hovering at the reserve, V. */
  readonly reserveHoverCellVoltage?: Estimate;
  /** Where it cannot deliver what hover needs, with the pack half used and at the reserve: what is missing, W. */
  readonly hoverShortfall?: Estimate;
  readonly reserveHoverShortfall?: Estimate;
}

/** The state at the end of one leg of a flight. */
export interface LegResults {
  readonly leg: Leg;
  /** s from take-off, C from the full pack. */
  readonly time?: Estimate;
  readonly charge?: Estimate;
  /** Of one cell in the air and with the motors off, V; undefined where the pack does not feed the leg. */
  readonly cellVoltage?: Estimate;
  readonly restingVoltage?: Estimate;
  /** A */
  readonly current?: Estimate;
  /** kg */
  readonly mass?: Estimate;
  /** Of a way: the speed through the air at which a metre over the ground takes least, m/s. */
  readonly cheapest?: Estimate;
}

/** A flight in legs on this pack; its named results are among the others. */
export interface FlightResults {
  readonly flight: Flight;
  readonly legs: readonly LegResults[];
  /** Charge taken over what may be taken, where that is most; above 1 where the pack is too small. */
  readonly demand?: Estimate;
  /** Of a leg that cannot be flown: the most of its speed that can, m/s. */
  readonly limit?: Estimate;
  /** As solved; undefined where the craft does not hover. */
  readonly flown?: Flown;
}

/** What measurements have taught of a build; see `learn/learn.ts`. */
export interface Learnt {
  /** Titles of the observations and names of the stands that count. */
  readonly from: readonly string[];
  /** Deviation of figures from what is stated or estimated, in their own standard deviations, by their ids. */
  readonly deviations: Deviations;
  /** Those whose ± is narrower for it. */
  readonly figures: readonly Figure[];
  /** At right angles to each other. */
  readonly narrowings: readonly Narrowing[];
  /** Worst first. */
  readonly doubts: readonly Doubt[];
  readonly contradicted?: Contradicted;
  readonly lines: readonly LearntLine[];
  readonly powers: readonly StandPower[];
}

/** Measurements contradict each other: every ± that rests on them includes both sides. */
export interface Doubt {
  /** One of the learnt figures; no number rests on it, only what a ± is made of. */
  readonly figure: Figure;
  /** Of each input, by id, how far it moves with one standard deviation of the doubt, in its own. */
  readonly along: ReadonlyMap<string, number>;
  /** One side, by the places of its lines among all: a single one, or all of a flight or a stand. */
  readonly lines: readonly number[];
  readonly isWhole: boolean;
}

/** What is likeliest wrong, by the places of lines among all. */
export interface Contradicted extends Pick<Doubt, 'lines' | 'isWhole'> {
  /** What it contradicts, where that is one line, flight or stand. */
  readonly rival?: readonly number[];
  /** Else nothing shows which of the two is wrong. */
  readonly isDecided: boolean;
}

/** Power that a motor takes with its propeller on a stand, for the thrust and speed of its rows: motor and propeller share in it. */
export interface StandPower {
  /** Its first row. */
  readonly line: MeasuredLine;
  /** What was read over what all else predicts, as a logarithm, on average over the rows; and one standard deviation. */
  readonly difference: number;
  readonly deviation: number;
}

/** One line that was measured, before and after all of them were taken together. */
export interface LearntLine extends MeasuredLine {
  /** Predicted without any measurement, and with all of them, SI; undefined where there is no such point. */
  readonly before: number | undefined;
  readonly after: number | undefined;
  /** One standard deviation of `before`, of its logarithm or SI where the line is plain. */
  readonly beforeDeviation: number;
  /** How much the prediction without any measurement moves with each input, over the line's own `error`, by ids. */
  readonly slopes: ReadonlyMap<string, number>;
  /** What everything but this line predicts, SI, and one standard deviation of that, as `beforeDeviation`. */
  readonly otherwise: number | undefined;
  readonly otherwiseDeviation: number;
  /** What is left of it, over what the fit should leave: past 3 it contradicts the others. */
  readonly outlying: number;
  /** Less what the other measurements alone make of it, in standard deviations; undefined where they make little of it. */
  readonly offMeasured?: number;
}

/** Contributions lose a share of what lies along a direction, one direction after the other. */
interface Narrowing {
  /** By the ids of figures. */
  readonly along: ReadonlyMap<string, number>;
  readonly share: number;
}

export interface Assessment {
  readonly build: Build;
  readonly option: PackOption;
  /** Every figure that went in, estimates included. */
  readonly inputs: readonly Figure[];
  readonly results: ReadonlyMap<ResultId, Result>;
  readonly learnt?: Learnt;
  readonly missing: ReadonlyMap<ResultId, NoResult>;
  readonly masses: readonly MassLine[];
  readonly rotors: readonly RotorResults[];
  readonly loads: readonly LoadResults[];
  readonly rails: readonly RailResults[];
  readonly pack: PackResults;
  readonly flights: readonly FlightResults[];
  /** The numbers that went into the physics, and all that was solved: what explanations are read off. */
  readonly evaluation: Evaluation;
  /** Absent while the build states too little to solve them. */
  readonly points: {
    readonly hover?: OperatingPoint | Impossible;
    readonly hoverAtReserve?: OperatingPoint | Impossible;
    readonly full?: OperatingPoint | Impossible;
    readonly fullAtReserve?: OperatingPoint | Impossible;
  };
}
