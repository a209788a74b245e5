/** What a pilot would read through a flight that hovers from the full pack on: values alone, without their ±. */
import type { Build, PackOption } from '../../model/build.ts';
import { packRestingVoltage } from '../../physics/chemistry.ts';
import { type Craft, type Impossible, isImpossible, type OperatingPoint } from '../../physics/craft.ts';
import { integrateOverCharge } from '../../physics/discharge.ts';
import { burst, hover } from '../../physics/flight.ts';
import { requiredBusVoltage } from '../../physics/rails.ts';
import { prepare } from '../assess.ts';

export interface CurveMoment {
  /** State of charge, 1 = full. */
  readonly charge: number;
  /** C, out of the pack so far. */
  readonly used: number;
  /** s, hovering from the full pack. */
  readonly time: number;
  /** Volts per cell: resting, and at the board behind lead and plug; absent where there is no such point. */
  readonly resting: number;
  readonly hover?: number;
  readonly burst?: number;
}

/** A load needs this many volts per cell at the board; the highest of those that one source feeds. */
interface Need {
  readonly load: string;
  readonly voltage: number;
}

export interface FlightCurve {
  /** From full to the end of hovering. */
  readonly moments: readonly CurveMoment[];
  readonly needs: readonly Need[];
  /** Where the reserve begins, and where to be on the ground: the same, or earlier where a burst browns a load out. */
  readonly reserve: number;
  readonly landBy: number;
  /** Half of what may be flown is used. */
  readonly turnBack: CurveMoment;
  readonly landing: CurveMoment;
}

/** Charges at which the curve is read; closer where the cells' voltage bends. */
const CHARGES: readonly number[] = [
  ...[1, 0.97, 0.94, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5, 0.45, 0.4, 0.35, 0.3, 0.25, 0.2],
  ...[0.17, 0.14, 0.12, 0.1, 0.08, 0.06, 0.04, 0.02],
];

/** Undefined where it does not hover or cannot be computed. */
export function flightCurve(build: Build, option: PackOption): FlightCurve | undefined {
  const { craft: solved } = prepare(build, option).evaluation;
  if (!solved?.flight || isImpossible(solved.flight.hoverFresh)) return undefined;
  const { craft } = solved;
  const { landBy } = solved.flight;
  const { reserve } = craft.pack;
  const turnBackAt = (1 + landBy) / 2;
  const charges = [...new Set([...CHARGES, reserve, landBy, turnBackAt])].sort((a, b) => b - a);
  const moments = momentsAt(craft, charges);
  const at = (charge: number) => moments.find((moment) => moment.charge === charge);
  const [turnBack, landing] = [at(turnBackAt), at(landBy)];
  if (!turnBack || !landing) return undefined;
  return { moments, needs: needsOf(build, craft), reserve, landBy, turnBack, landing };
}

/** To where hovering ends. */
function momentsAt(craft: Craft, charges: readonly number[]): CurveMoment[] {
  const { capacity } = craft.pack;
  const secondsPerCoulomb = (charge: number): number => {
    const point = hover(craft, charge);
    return isImpossible(point) ? 0 : 1 / point.packCurrent;
  };
  const moments: CurveMoment[] = [];
  let time = 0;
  let before = 1;
  for (const charge of charges) {
    const hovering = voltage(craft, hover(craft, charge));
    if (hovering === undefined) break;
    const bursting = voltage(craft, burst(craft, charge));
    time += capacity * integrateOverCharge(secondsPerCoulomb, charge, before);
    before = charge;
    moments.push({
      charge,
      used: capacity * (1 - charge),
      time,
      resting: packRestingVoltage(craft.pack, charge) / craft.pack.cellsInSeries,
      hover: hovering,
      ...(bursting !== undefined && { burst: bursting }),
    });
  }
  return moments;
}

/** Volts per cell at the board. */
const voltage = (craft: Craft, point: OperatingPoint | Impossible): number | undefined =>
  isImpossible(point) ? undefined : point.busVoltage / craft.pack.cellsInSeries;

/** What each load with a stated minimum requires of the board, highest first. */
function needsOf(build: Build, craft: Craft): Need[] {
  return craft.loads
    .flatMap((load, i): Need[] => {
      const name = build.loads[i]?.name;
      if (load.minimumVoltage === undefined || name === undefined) return [];
      const needed = requiredBusVoltage(craft, load.from, load.minimumVoltage);
      return needed === undefined ? [] : [{ load: name, voltage: needed / craft.pack.cellsInSeries }];
    })
    .sort((a, b) => b.voltage - a.voltage || (a.load < b.load ? -1 : 1));
}
