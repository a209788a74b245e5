/** Everything that the results of one build on one pack option are computed from: plain SI numbers, as read from its figures. */
import type { Craft } from '../../physics/craft.ts';
import type { FlownLeg } from '../../physics/flown-leg.ts';
import type { HeatPath } from '../../physics/windings.ts';

export interface Setup {
  /** kg; absent when a part's mass is unknown. */
  readonly dryMass?: number;
  /** All packs of the option, kg. */
  readonly packMass?: number;
  /** 0 … 1 */
  readonly dutyLimit: number;
  /** Share of the charge not flown. */
  readonly reserve: number;
  /** Unloaded speed per volt of each rotor line's motor, rad/s per V, where known. */
  readonly speedConstants: readonly (number | undefined)[];
  /** Of the full pack at rest, V. */
  readonly fullVoltage?: number;
  /** Absent when anything that the circuit needs is unknown; its mass counts only where both masses above are known. */
  readonly craft?: Craft;
  /** Burst rating of the weakest ESC channel, A. */
  readonly escBurst?: number;
  /** K */
  readonly airTemperature: number;
  readonly wind?: WindSetup;
  readonly flights?: FlightsSetup;
  /** One per rotor line. */
  readonly heat: readonly (HeatPath | undefined)[];
  readonly mount?: MountSetup;
  readonly balance?: BalanceSetup;
  /** Factor on currents at full duty; 1 until a burst was observed. Its ± represents what the model leaves out there. */
  readonly fullDutyFactor: number;
}

/** Distances ahead of the rotors' middle, m; what has no position is there. */
export interface BalanceSetup {
  /** Mass times distance of everything but the pack, kg m. */
  readonly othersMoment: number;
  readonly packPosition: number;
  /** Of the front motors; absent where the frame does not state it. */
  readonly frontRotors?: number;
}

export interface WindSetup {
  /** Drag coefficient times area, m². */
  readonly dragArea: number;
  /** Share of the through-flow's momentum that the rotors stop, 0 … 1. */
  readonly momentumShare: number;
  /** Wake over disc area. */
  readonly wakeExpansion: number;
  /** rad */
  readonly tiltLimit: number;
  /** Induced power over the ideal one. */
  readonly inducedFactor: number;
  /** Factor on the rotors' power in level flight. */
  readonly levelFlight: number;
}

/** Flights in legs on this pack, in the order of the build's lines. */
export interface FlightsSetup {
  readonly air: WindSetup;
  readonly plans: readonly { readonly legs: readonly FlownLeg[] }[];
}

/** The softest mount with its load on. */
export interface MountSetup {
  /** Hz */
  readonly frequency: number;
  /** Over critical. */
  readonly damping: number;
}
