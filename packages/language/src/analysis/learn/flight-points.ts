/** The operating points of an observed flight, solved again and again as its craft is moved about. */
import { type Craft, type Impossible, isImpossible, type OperatingPoint, possible } from '../../physics/craft.ts';
import { atRest, flownPhase, hover } from '../../physics/flight.ts';
import { pointAtDutyLimit } from '../../physics/operating-point.ts';
import { type HeatPath, warmed } from '../../physics/windings.ts';

/** Everything that the lines of one flight need. */
export interface FlightCircumstances {
  readonly craft: Craft;
  readonly heat: readonly (HeatPath | undefined)[];
  readonly airTemperature: number;
  readonly fullDutyFactor: number;
  /** All packs of the option, by their labels, C. */
  readonly label: number;
  /** As a charger shows it, ohm. */
  readonly chargerShows: number;
  /** Of the pack while hover was read, 0 … 1. */
  readonly charge: number;
  /** Of the cells' resistance, how much a burst so short meets. */
  readonly burstShare: number;
  /** Factors of instruments, one per line. */
  readonly scales: readonly number[];
}

/** What is not the day's average: exact numbers of the block. */
export interface Circumstances {
  /** s */
  readonly airborne?: number;
  /** C, by the charger. */
  readonly back?: number;
  /** C, by whoever counted. */
  readonly used?: number | undefined;
  /** Of the burst, 0 … 1; absent: full. */
  readonly output?: number;
  /** s of hovering before hover was read. */
  readonly after: number | undefined;
  /** Share, multiple of hover thrust. */
  readonly flown: readonly (readonly [number, number])[];
  readonly needs: { readonly hover: boolean; readonly burst: boolean };
}

type Point = OperatingPoint | Impossible | undefined;

interface Solved {
  readonly craft: Craft;
  readonly hover?: Point;
  readonly burst?: Point;
  readonly phases: readonly Point[];
}

/** Solved points of crafts that are being moved about: numbers outside the craft leave them as they are. */
const solved = new WeakMap<FlightCircumstances, Solved>();

/** What the prediction of a line is read off. */
export interface FlightPoints {
  /** Undefined where there is no such point. */
  readonly hover: OperatingPoint | undefined;
  readonly burst: OperatingPoint | undefined;
  /** On currents and sags of the burst: the model's own factor at full duty. */
  readonly fullDutyFactor: number;
  readonly craft: Craft;
  /** C out of the pack by landing, as predicted; undefined where nobody stated how long it flew. */
  readonly used: number | undefined;
  readonly numbers: FlightCircumstances;
  readonly circumstances: Circumstances;
}

export function flightPoints(
  numbers: FlightCircumstances,
  circumstances: Circumstances,
  near: FlightCircumstances | undefined,
): FlightPoints {
  const known = near && solved.get(near);
  const points = pointsOf(numbers, circumstances, near, known);
  solved.set(numbers, points);
  return {
    hover: possible(points.hover),
    burst: possible(points.burst),
    fullDutyFactor: numbers.fullDutyFactor ** fullDutyWeight(circumstances.output ?? 1),
    craft: points.craft,
    used: chargeUsed(numbers, circumstances, points),
    numbers,
    circumstances,
  };
}

/** How much of the model's own term for full duty counts at a duty; none up to half. */
export function fullDutyWeight(duty: number): number {
  const above = Math.max(0, Math.min(1, (duty - 0.5) / 0.5));
  return above ** 2;
}

/** Of the rotor that has the most. */
export const mostOfRotors = (point: OperatingPoint, of: (rotor: OperatingPoint['rotors'][number]) => number): number =>
  Math.max(...point.rotors.map(of));

function pointsOf(
  numbers: FlightCircumstances,
  circumstances: Circumstances,
  near: FlightCircumstances | undefined,
  known?: Solved,
): Solved {
  const isSameCraft =
    known &&
    near &&
    near.craft === numbers.craft &&
    near.heat === numbers.heat &&
    near.airTemperature === numbers.airTemperature;
  const { needs, used, airborne, flown, output, after } = circumstances;
  const hoverOf = (craft: Craft): Pick<Solved, 'hover'> =>
    needs.hover ? { hover: hoverRead(craft, numbers.charge, after, known?.hover) } : {};
  const burstOf = (craft: Craft): Pick<Solved, 'burst'> =>
    needs.burst ? { burst: burstRead(craft, numbers.burstShare, output, known?.burst) } : {};
  if (isSameCraft)
    return {
      ...known,
      ...(near.charge !== numbers.charge && hoverOf(known.craft)),
      ...(near.burstShare !== numbers.burstShare && burstOf(known.craft)),
    };
  const heated = numbers.heat.some((path) => path !== undefined);
  const { craft } = heated ? warmed(numbers.craft, numbers.heat, numbers.airTemperature) : numbers;
  const asFlown = flown.length > 0 ? flown : HOVERING;
  const middle = used === undefined ? MIDDLE : Math.max(0.05, 1 - used / (2 * craft.pack.capacity));
  const phases =
    airborne === undefined
      ? []
      : asFlown.map(([, multiple], i) =>
          multiple === 1
            ? hover(craft, middle, undefined, known?.phases[i])
            : flownPhase(craft, middle, multiple, known?.phases[i]),
        );
  return { craft, phases, ...hoverOf(craft), ...burstOf(craft) };
}

/** What was stated of the output is valid whatever the limit has been set to since. */
function burstRead(craft: Craft, share: number, output: number | undefined, near: Point): Point {
  const { pack } = craft;
  const bursting = { ...craft, pack: { ...pack, positionResistance: pack.positionResistance * share } };
  return pointAtDutyLimit(
    output === undefined ? bursting : { ...bursting, dutyLimit: output },
    1,
    'peak',
    undefined,
    near,
  );
}

const HOVERING: Circumstances['flown'] = [[1, 1]];
/** Charge half way through a flight of which nobody counted it. */
const MIDDLE = 0.6;

/** @param after s of hovering; `charge` is then what it is off from the charge by that time, plus 1 */
function hoverRead(craft: Craft, charge: number, after: number | undefined, near: Point): Point {
  if (after === undefined) return hover(craft, charge, undefined, near);
  const meanwhile = hover(craft, 1, undefined, near);
  if (isImpossible(meanwhile)) return meanwhile;
  const left = 1 - (after * meanwhile.packCurrent) / craft.pack.capacity + (charge - 1);
  return hover(craft, Math.max(0.02, Math.min(1, left)), undefined, near);
}

/** C out of the pack by landing, ground time included; undefined where nobody stated how long it flew. */
function chargeUsed(
  { craft }: FlightCircumstances,
  { airborne, flown }: Circumstances,
  { phases }: Solved,
): number | undefined {
  if (airborne === undefined) return undefined;
  const asFlown = flown.length > 0 ? flown : HOVERING;
  const whole = asFlown.reduce((sum, [share]) => sum + share, 0);
  let current = 0;
  for (const [i, [share]] of asFlown.entries()) {
    const point = possible(phases[i]);
    if (!point) return undefined;
    current += (share / whole) * point.packCurrent;
  }
  const ground = craft.groundTime > 0 ? possible(atRest(craft, 1)) : undefined;
  return current * airborne + (ground ? ground.packCurrent * craft.groundTime : 0);
}
