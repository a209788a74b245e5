/** When a load's supply falls below what it needs. */
import { packRestingVoltage } from '../../physics/chemistry.ts';
import type { Craft, Impossible, Load, OperatingPoint } from '../../physics/craft.ts';
import { type BusHolding, busHolding, type FlightPoint, hover, lastSafeCharge, weight } from '../../physics/flight.ts';
import { currentAtVoltage, sourceResistance } from '../../physics/operating-point.ts';
import { type Electronics, electronics, type LoadLevel, requiredBusVoltage } from '../../physics/rails.ts';
import { type Drive, drivesAtThrust } from '../../physics/rotor.ts';
import { once } from './once.ts';

/** The highest state of charge at which a load gets less than its minimum: 1 from the start, undefined never before empty. */
export interface BrownOut {
  readonly inHover: number | undefined;
  readonly inBurst: number | undefined;
  /** Hover at the charge at which a burst browns it out, if that is before the reserve: what a pilot reads then. */
  readonly hoverAtBurst?: OperatingPoint | Impossible;
  /** How fast the bus's margin rises with the charge there, V; undefined where something else than the voltage ends it. */
  readonly slopes: () => Slopes;
}

type Slopes = Readonly<Record<FlightPoint, number | undefined>>;

/** One a load. */
export function brownOutsOf(craft: Craft): BrownOut[] {
  const margins = marginsOf(craft);
  const holding = busHolding(craft);
  return craft.loads.map((load) => {
    const inHover = firstBelow(craft, load, 'hover', holding);
    const inBurst = firstBelow(craft, load, 'burst', holding);
    return {
      inHover,
      inBurst,
      ...reading(craft, inBurst),
      slopes: once(() => ({
        hover: slopeAt(inHover, margins(load, 'hover')),
        burst: slopeAt(inBurst, margins(load, 'burst')),
      })),
    };
  });
}

/** @param near the same of a craft that differs very little */
function reading(craft: Craft, inBurst: number | undefined, near?: BrownOut): Pick<BrownOut, 'hoverAtBurst'> {
  if (inBurst === undefined || inBurst <= craft.pack.reserve) return {};
  return { hoverAtBurst: hover(craft, inBurst, undefined, near?.hoverAtBurst) };
}

function firstBelow(
  craft: Craft,
  { from, minimumVoltage }: Load,
  point: FlightPoint,
  holding: BusHolding,
): number | undefined {
  if (minimumVoltage === undefined) return undefined;
  const lowestSafe = lastSafeCharge(craft, from, minimumVoltage, point, holding);
  if (lowestSafe === undefined) return 1;
  return lowestSafe === 0 ? undefined : lowestSafe;
}

/** A margin of less than this, V, is a bus at which the load just works; more, and something else ends it. */
const SETTLED = 1e-9;
const SLOPE_STEP = 1e-5;

function slopeAt(charge: number | undefined, margin: Margin | undefined): number | undefined {
  if (charge === undefined || charge === 1 || !margin || Math.abs(margin(charge)) > SETTLED) return undefined;
  return (margin(charge + SLOPE_STEP) - margin(charge - SLOPE_STEP)) / (2 * SLOPE_STEP);
}

/**
 * The same for a craft that differs so little from a known one that only the first order counts: the charge moves by the bus
 * voltage's margin over that margin's slope.
 */
export function brownOutsNear(craft: Craft, known: readonly BrownOut[]): readonly BrownOut[] {
  if (known.every(({ inHover, inBurst }) => inHover === undefined && inBurst === undefined)) return known;
  const margins = marginsOf(craft);
  const holding = once(() => busHolding(craft));
  const moved = (load: Load, charge: number | undefined, slope: number | undefined, point: FlightPoint) => {
    if (charge === undefined || charge === 1) return charge;
    const margin = slope === undefined ? undefined : margins(load, point);
    return margin && slope !== undefined ? charge - margin(charge) / slope : firstBelow(craft, load, point, holding());
  };
  return known.map((one, i) => {
    const { inHover, inBurst, slopes } = one;
    const load = craft.loads[i] as Load;
    const { hover: inHoverSlope, burst: inBurstSlope } = slopes();
    const inBurstNow = moved(load, inBurst, inBurstSlope, 'burst');
    return {
      inHover: moved(load, inHover, inHoverSlope, 'hover'),
      inBurst: inBurstNow,
      ...reading(craft, inBurstNow, one),
      slopes,
    };
  });
}

type Margin = (charge: number) => number;

/** By how much the bus is above what a load needs, V, over the state of charge; undefined where it is never enough. */
function marginsOf(craft: Craft): (load: Load, point: FlightPoint) => Margin | undefined {
  const inHover = once(() => surroundings(craft, 1, 'draw'));
  const inBurst = once(() => surroundings(craft, craft.burstMultiple, 'peak'));
  return ({ from, minimumVoltage }, point) => {
    const needed = minimumVoltage === undefined ? undefined : requiredBusVoltage(craft, from, minimumVoltage);
    if (needed === undefined || needed <= 0) return undefined;
    const { drives, supplied } = point === 'hover' ? inHover() : inBurst();
    const current = currentAtVoltage(craft, drives, needed, supplied);
    return (charge) => packRestingVoltage(craft.pack, charge) - current * sourceResistance(craft, charge) - needed;
  };
}

interface Surroundings {
  readonly drives: readonly Drive[];
  readonly supplied: Electronics;
}

const surroundings = (craft: Craft, hoverMultiple: number, level: LoadLevel): Surroundings => ({
  drives: drivesAtThrust(craft, hoverMultiple * weight(craft)),
  supplied: electronics(craft, level),
});
