import { packCellResistance, packRestingVoltage } from '../../physics/chemistry.ts';
import { type Craft, isImpossible, type OperatingPoint } from '../../physics/craft.ts';
import { atRest, hover } from '../../physics/flight.ts';
import { pointAtDutyLimit, sourceResistance } from '../../physics/operating-point.ts';
import { type HeatPath, warmed } from '../../physics/windings.ts';
import type { Averages, FlightInLog } from '../log/flight-series.ts';
import { fullDutyWeight, mostOfRotors } from './flight-points.ts';
import type { MeasuredLogLine } from './log-readings.ts';

/**
 * Quick changes of the current meet less of the cells' resistance than lasting ones: the rest builds up, and fades at rest, within so many seconds.
 * Share and one standard deviation of it: cells differ widely (M. Chen and G. A. Rincón-Mora: less than half of a cell for low rates; ours, for cells that fly).
 */
export const QUICK = { share: 0.88, spread: 0.05, seconds: 20 };

/** Everything that the lines of one log need. */
export interface Logged {
  readonly craft: Craft;
  readonly heat: readonly (HeatPath | undefined)[];
  readonly airTemperature: number;
  readonly fullDutyFactor: number;
  /** All packs of the option, by their labels, C. */
  readonly label: number;
  /** Charge at the beginning, 0 … 1. */
  readonly start: number;
  /** Power of steady stretches over hovering. */
  readonly overHover: number;
  /** Mean power in the air over hovering. */
  readonly flownOverHover: number;
  /** V per cell, on the resting curve in the part that was flown. */
  readonly curve: number;
  /** Of the cells' resistance, what quick changes of the current meet. */
  readonly quick: number;
  readonly amperes: number;
  readonly volts: number;
  /** A */
  readonly zero: number;
  /** What was put back over what the charger reads. */
  readonly charger: number;
}

/** Outputs rise with the power of a stretch by this exponent, speeds by the other. */
const OUTPUT_EXPONENT = 0.4;
const SPEED_EXPONENT = 1 / 3;

interface Solved {
  readonly craft: Craft;
  readonly points: (OperatingPoint | undefined)[];
}

const solved = new WeakMap<Logged, Solved>();

export function predictionsOf(
  numbers: Logged,
  lines: readonly MeasuredLogLine[],
  flight: FlightInLog,
  back: number | undefined,
  near: Logged | undefined,
): (number | undefined)[] {
  const known = near && solved.get(near);
  const { heat, airTemperature, fullDutyFactor, overHover, amperes, volts, zero } = numbers;
  const isSameCraft =
    known !== undefined &&
    near?.craft === numbers.craft &&
    near.heat === heat &&
    near.airTemperature === airTemperature;
  const heated = heat.some((path) => path !== undefined);
  const craft = isSameCraft ? known.craft : heated ? warmed(numbers.craft, heat, airTemperature).craft : numbers.craft;
  const isSameCharge =
    isSameCraft &&
    near?.start === numbers.start &&
    near.amperes === amperes &&
    near.zero === zero &&
    near.overHover === overHover &&
    near.quick === numbers.quick;
  const pack = new LoggedPack(craft, numbers, flight);
  const points: (OperatingPoint | undefined)[] = [];
  solved.set(numbers, { craft, points });
  const point = (i: number, solve: () => ReturnType<typeof hover>): OperatingPoint | undefined => {
    const made = isSameCharge && known ? known.points[i] : solve();
    const found = made && !isImpossible(made) ? made : undefined;
    points[i] = found;
    return found;
  };
  const predicted = ({ kind, at }: MeasuredLogLine, i: number): number | undefined => {
    const charge = pack.chargeAt(at);
    const hovering = () => point(i, () => hover(craft, charge, undefined, known?.points[i]));
    const resting = () => point(i, () => atRest(craft, charge, undefined, known?.points[i]));
    switch (kind) {
      case 'rested_before':
      case 'rested': {
        const left = kind === 'rested' ? pack.restingChargeAt(at) : charge;
        const landed = kind === 'rested' ? pack.departure - pack.stillFallen(left) : 0;
        return volts * (packRestingVoltage(craft.pack, left) + landed);
      }
      case 'rest_current': {
        const found = resting();
        return found && amperes * found.packCurrent + zero;
      }
      case 'logged_voltage': {
        if (at.current !== undefined) return volts * pack.voltageUnder(at.current, charge);
        const found = hovering();
        const current = found && found.packCurrent * overHover;
        return current === undefined
          ? undefined
          : volts *
              (packRestingVoltage(craft.pack, charge) + pack.departure - current * sourceResistance(craft, charge));
      }
      case 'sag':
        return (volts / amperes) * pack.quickResistance(pack.middleCharge());
      case 'hover_current': {
        const found = hovering();
        return found && amperes * found.packCurrent * overHover + zero;
      }
      case 'hover_output': {
        const found = hovering();
        return found && mostOfRotors(found, ({ duty }) => duty) * overHover ** OUTPUT_EXPONENT;
      }
      case 'hover_speed': {
        const found = hovering();
        return found && mostOfRotors(found, ({ speed }) => speed) * overHover ** SPEED_EXPONENT;
      }
      case 'flown_power': {
        const middle = pack.middleCharge();
        const found = point(i, () => hover(craft, middle, undefined, known?.points[i]));
        const steadily = found && found.packCurrent * found.busVoltage * numbers.flownOverHover * amperes * volts;
        return steadily && steadily + (flight.burstPower ?? 0);
      }
      case 'burst_current': {
        const output = Math.min(1, at.output ?? 1);
        const limit = { ...pack.inBurst(charge), dutyLimit: output };
        const found = point(i, () => pointAtDutyLimit(limit, charge, 'peak', undefined, known?.points[i]));
        return found && amperes * found.packCurrent * fullDutyFactor ** fullDutyWeight(output) + zero;
      }
      case 'burst_voltage': {
        const quick = pack.inBurst(charge);
        if (at.current !== undefined) return volts * pack.voltageUnder(at.current, charge, quick);
        const limit = { ...quick, dutyLimit: Math.min(1, at.output ?? 1) };
        const found = point(i, () => pointAtDutyLimit(limit, charge, 'peak', undefined, known?.points[i]));
        return found && volts * found.busVoltage;
      }
      case 'counted':
        return back === undefined ? undefined : back * numbers.charger * amperes + zero * (flight.charge?.seconds ?? 0);
    }
  };
  return lines.map(predicted);
}

type PackNumbers = Pick<Logged, 'start' | 'amperes' | 'zero' | 'label' | 'curve' | 'quick'>;

/** A pack over a log: what the recorder read, set right by its scale and zero, drawn from the charge at the beginning. */
export class LoggedPack {
  readonly #craft: Craft;
  readonly #numbers: PackNumbers;
  readonly #flight: FlightInLog;
  #hovering: number | undefined;

  constructor(craft: Craft, numbers: PackNumbers, flight: FlightInLog) {
    this.#craft = craft;
    this.#numbers = numbers;
    this.#flight = flight;
  }

  /** 0 … 1 */
  chargeAt(at: Averages): number {
    return this.#left(this.usedBy(at), this.#craft.pack.capacity);
  }

  /** At rest all of the label's charge counts. */
  restingChargeAt(at: Averages): number {
    return this.#left(this.usedBy(at), this.#numbers.label);
  }

  middleCharge(): number {
    const { whole, charge } = this.#flight;
    const middle: Averages = { ...whole, ...(charge && { used: charge.whole / 2 }) };
    return this.chargeAt(middle);
  }

  /** C from the beginning of the log; without a current as much as hovering would have used. */
  usedBy({ used, from, to }: Averages): number {
    const { amperes, zero } = this.#numbers;
    const { whole, legs } = this.#flight;
    const middle = (from + to) / 2;
    if (used !== undefined) return (used - zero * (middle - whole.from)) / amperes;
    this.#hovering ??= currentInHover(this.#craft, this.#numbers.start);
    const airborne = legs.reduce((sum, leg) => sum + Math.max(0, Math.min(middle, leg.to) - leg.from), 0);
    return this.#hovering * airborne;
  }

  /** V at the board under a logged current, A, before the scale of the recorder's volts. */
  voltageUnder(logged: number, charge: number, craft = this.#craft): number {
    const { amperes, zero } = this.#numbers;
    const current = (logged - zero) / amperes;
    return packRestingVoltage(craft.pack, charge) + this.departure - current * sourceResistance(craft, charge);
  }

  /** V of the whole pack: the resting curve in the part that was flown, off what holds elsewhere. */
  get departure(): number {
    return this.#craft.pack.cellsInSeries * this.#numbers.curve;
  }

  /** V of the whole pack that have not come back by the middle of the rest after landing. */
  stillFallen(charge: number): number {
    const after = this.#flight.restAfter?.after ?? Number.POSITIVE_INFINITY;
    return this.#slowFall(charge) * Math.exp(-after / QUICK.seconds);
  }

  /** Ohm of the whole pack, leads included, for changes that are over before the cells have given way as far as they would. */
  quickResistance(charge: number): number {
    const slow = (1 - this.#numbers.quick) * packCellResistance(this.#craft.pack, charge);
    return sourceResistance(this.#craft, charge) - slow;
  }

  /** A burst is over before the cells have given way as far as they would; what flew before has settled. */
  inBurst(charge: number): Craft {
    const { pack } = this.#craft;
    return {
      ...this.#craft,
      pack: {
        ...pack,
        positionResistance: this.#numbers.quick * pack.positionResistance,
        restingOffset: pack.restingOffset - this.#slowFall(charge) / pack.cellsInSeries,
      },
    };
  }

  /** V of the whole pack by which steady flight has made its cells fall slowly. */
  #slowFall(charge: number): number {
    const flown = this.#flight.charge ? this.#flight.charge.inAir / this.#flight.airborne / this.#numbers.amperes : 0;
    return (1 - this.#numbers.quick) * packCellResistance(this.#craft.pack, charge) * flown;
  }

  #left(used: number, capacity: number): number {
    return Math.min(1, Math.max(0.01, this.#numbers.start - used / capacity));
  }
}

function currentInHover(craft: Craft, charge: number): number {
  const point = hover(craft, charge);
  return isImpossible(point) ? 0 : point.packCurrent;
}
