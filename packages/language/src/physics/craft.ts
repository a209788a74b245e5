/**
 * What the computation needs to know of one craft on one pack: plain numbers in SI units, no syntax tree, no ±.
 * `analysis` fills it from a `Build`; everything in this room reads it.
 * Stable: fields may be added, none renamed.
 */

/** A named reason why no operating point exists, with how much is missing. Never NaN, never a silent clamp. */
export interface Impossible {
  readonly impossible:
    | 'thrust' // the rotors cannot give the demanded thrust even at the duty limit; shortfall in newtons
    | 'power'; // the pack cannot deliver the demanded power at any voltage; shortfall in watts
  readonly shortfall: number;
}

export const isImpossible = <T extends object>(result: T | Impossible): result is Impossible => 'impossible' in result;

export const possible = <T extends object>(result: T | Impossible | undefined): T | undefined =>
  result === undefined || isImpossible(result) ? undefined : result;

export interface Air {
  /** kg/m³ */
  readonly density: number;
  /** m/s */
  readonly speedOfSound: number;
}

export interface Motor {
  /** Unloaded speed per volt, rad/s per V. */
  readonly speedConstant: number;
  /** Winding resistance line to line at working temperature, ohm. */
  readonly resistance: number;
  /** Commutation drop per speed and current, X(ω) = slope · ω, ohm per (rad/s); about 1.05 · pole pairs · L / 2. */
  readonly commutationSlope: number;
  /** Share of the commutation drop that is lost as heat, 0 … 1. */
  readonly commutationLossShare: number;
  /** Inductance line to line, H (ripple). */
  readonly inductance: number;
  /** No-load current at `noLoadSpeed`, A. */
  readonly noLoadCurrent: number;
  /** Speed at which `noLoadCurrent` applies, rad/s. */
  readonly noLoadSpeed: number;
}

export interface Propeller {
  /** m */
  readonly diameter: number;
  /** T = C_T ρ n² D⁴ */
  readonly thrustCoefficient: number;
  /** P = C_P ρ n³ D⁵ */
  readonly powerCoefficient: number;
  /** How the coefficients change over speed; constant without it. */
  readonly course?: CoefficientCourse;
}

/** Coefficients over speed: a power of it, and departures from that where somebody measured; see `coefficient-course.ts`. */
export interface CoefficientCourse {
  /** At which the coefficients apply, rad/s. */
  readonly speed: number;
  /** C_T ∝ speed^exponent */
  readonly thrustExponent: number;
  /** C_P ∝ speed^exponent */
  readonly powerExponent: number;
  /** Weights of the departures at their knots; none where nothing was measured over speed. */
  readonly thrustWeights: readonly number[];
  readonly powerWeights: readonly number[];
}

export interface EscChannel {
  /** Both conducting switches, ohm. */
  readonly resistance: number;
  /** Hz */
  readonly pwmFrequency: number;
}

/** Rotors that are alike and run at the same duty. */
export interface RotorGroup {
  readonly count: number;
  readonly motor: Motor;
  readonly propeller: Propeller;
  readonly esc: EscChannel;
  /** Total thrust over bare-rotor thrust at equal shaft power (duct or guard); 1 when open or when measured in the duct. */
  readonly thrustGain: number;
  /** Thrust at equal speed over that of a lone rotor: 1, or the coaxial pair's factor. */
  readonly coaxialFactor: number;
}

export interface Pack {
  readonly cellsInSeries: number;
  readonly chemistry: Chemistry;
  /** Resistance of one position in series (all its parallel cells together) at 60 % charge and working temperature, ohm. */
  readonly positionResistance: number;
  /** Pack lead and plug pair, ohm. */
  readonly leadResistance: number;
  /** Charge at flying rates, coulomb. */
  readonly capacity: number;
  /** Added to the resting voltage of every cell up to 90 % charge, V (has the curve's ±). */
  readonly restingOffset: number;
  /** Added to the resting voltage of every full cell, V, fading to nothing at 90 % charge: where its charger stops (has that ±). */
  readonly chargeOffset: number;
  /** How much of the typical growth of the resistance away from 60 % charge there is: 1, with its ±. */
  readonly resistanceGrowthShare: number;
  /** Share of the charge not flown. */
  readonly reserve: number;
}

export type Chemistry = 'lipo' | 'lihv' | 'liion';

/** A point that feeds loads: index into `Craft.rails`, or the pack's own bus. */
export type Source = number | 'bus';

export interface Rail {
  readonly from: Source;
  readonly type: 'buck' | 'boost' | 'buck_boost' | 'linear';
  /** V */
  readonly output: number;
  /** Input must exceed the output by this, V. */
  readonly dropout: number;
  /** 0 … 1, of the switching types. */
  readonly efficiency: number;
  /** Own draw from its source, A. */
  readonly standbyCurrent: number;
}

export interface Load {
  readonly from: Source;
  readonly kind: 'power' | 'current';
  /** W or A, at rest and in hover. */
  readonly draw: number;
  /** W or A, in a burst and at full duty. */
  readonly peak: number;
  /** Below this supply it browns out, V; a flight ends there at the latest. Absent: unknown. */
  readonly minimumVoltage?: number;
}

/** A share of the flight at a multiple of hover thrust. */
export interface FlightPhase {
  readonly share: number;
  readonly hoverMultiple: number;
}

export interface Craft {
  /** kg */
  readonly mass: number;
  readonly air: Air;
  readonly rotors: readonly RotorGroup[];
  readonly pack: Pack;
  /** A source is declared before what it feeds. */
  readonly rails: readonly Rail[];
  readonly loads: readonly Load[];
  /** ESC boards' own draw from the bus, A. */
  readonly escStandbyCurrent: number;
  /** 0 … 1 */
  readonly dutyLimit: number;
  /** Burst as a multiple of hover thrust (at most full duty). */
  readonly burstMultiple: number;
  /** Shares add to 1. */
  readonly flown: readonly FlightPhase[];
  /** Time on the ground before take-off with electronics running, s. */
  readonly groundTime: number;
  /**
   * Model-form factor on the rotors' electrical power at part duty; 1 unless an observation gives another.
   * It acts as 1 + (factor − 1)·4·d·(1 − d): whole at half duty, nothing at full duty, as PWM losses do.
   */
  readonly partDutyPowerFactor: number;
}

/** One group's rotor, each. */
export interface RotorState {
  /** rad/s */
  readonly speed: number;
  /** 0 … 1 */
  readonly duty: number;
  /** Average-value motor voltage, V. */
  readonly motorVoltage: number;
  /** Winding current, A. */
  readonly motorCurrent: number;
  /** Drawn from the bus by this channel, A. */
  readonly busCurrent: number;
  /** W */
  readonly shaftPower: number;
  /** Installed thrust of one rotor (gain and stacking included), N. */
  readonly thrust: number;
  /** Part of the electrical power lost to current ripple, W. */
  readonly rippleLoss: number;
}

export interface OperatingPoint {
  /** At the ESC, behind lead and plug, V. */
  readonly busVoltage: number;
  /** At the cell, V. */
  readonly cellVoltage: number;
  /** A */
  readonly packCurrent: number;
  /** One entry per rotor group. */
  readonly rotors: readonly RotorState[];
  /** One entry a rail. */
  readonly rails: readonly RailState[];
  /** N */
  readonly thrust: number;
  /** At least one group runs at the duty limit. */
  readonly atDutyLimit: boolean;
}

export interface RailState {
  /** V */
  readonly voltage: number;
  /** Delivered to its loads and to the rails it feeds, A. */
  readonly current: number;
  /** Drawn from its source, A. */
  readonly inputCurrent: number;
  /** The source no longer delivers the rated output. */
  readonly droppedOut: boolean;
}
