/** Everything computed for one build on one pack option. */
import type { Build, Figure, PackOption } from '../model/build.ts';
import type { Impossible, OperatingPoint } from '../physics/craft.ts';

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
  readonly name: string;
  /** What it is, in words. */
  readonly label: string;
  /** Unit in which the trade reads it. */
  readonly unit: string;
  readonly estimate: Estimate;
}

/** A result that does not exist, with the reason in words. */
export interface NoResult {
  readonly name: string;
  readonly label: string;
  readonly reason: string;
}

export interface MassLine {
  readonly label: string;
  readonly count: number;
  /** All of them together. */
  readonly mass: Figure;
}

export interface Assessment {
  readonly build: Build;
  readonly option: PackOption;
  /** Every figure that went in, estimates included. */
  readonly inputs: readonly Figure[];
  readonly results: ReadonlyMap<string, Result>;
  readonly missing: ReadonlyMap<string, NoResult>;
  readonly masses: readonly MassLine[];
  readonly points: {
    readonly hover: OperatingPoint | Impossible;
    readonly hoverAtReserve: OperatingPoint | Impossible;
    readonly burst: OperatingPoint | Impossible;
    readonly burstAtReserve: OperatingPoint | Impossible;
    readonly full: OperatingPoint | Impossible;
    readonly fullAtReserve: OperatingPoint | Impossible;
  };
}
