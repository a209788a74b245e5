/**
 * Windings that settle at a temperature over the flight as flown, solved together with the circuit: warm copper resists more, and
 * more resistance makes more heat. At a given thrust the winding current does not depend on the resistance, so that one look is
 * nearly enough; where a phase runs at the duty limit it does, and the root is searched.
 *
 * Sources: `heat.ts`. The flight is taken as long enough to settle, at the charge half way; what is computed at full duty then has
 * windings as warm as in flight.
 */
import { type Craft, isImpossible, type OperatingPoint } from './craft.ts';
import { atHoverMultiple, flownPhase, middleCharge } from './flight.ts';
import { windingTemperature } from './heat.ts';
import { copperFactor } from './lead.ts';
import { motorLoss } from './motor.ts';

export interface HeatPath {
  /** From the winding to the air, K/W. */
  readonly thermalResistance: number;
  /** Of the winding at 20 °C, ohm. */
  readonly coldResistance: number;
}

export interface WarmCraft {
  /** With windings at the resistance they settle at; where they run away, as they were. */
  readonly craft: Craft;
  /** K, one per rotor group; undefined without a thermal resistance. */
  readonly windings: readonly (number | 'runaway' | undefined)[];
}

/** K. Nothing that is hotter turns. */
const HOTTEST = 1000;
const STEPS = 60;
/** K; far below what any slope is taken over. */
const SETTLED = 1e-9;
/** Groups touch each other only through the bus: each is settled in turn. */
const TURNS = 4;

/**
 * @param paths one per rotor group
 * @param airTemperature K
 * @returns the craft as it is where it does not fly
 */
export function warmed(craft: Craft, paths: readonly (HeatPath | undefined)[], airTemperature: number): WarmCraft {
  const flies = phaseOf(craft, 1) !== undefined;
  const groups = flies ? paths.flatMap((path, group) => (path ? [group] : [])) : [];
  let warm = craft;
  const windings: WarmCraft['windings'][number][] = paths.map(() => undefined);
  for (let turn = 0; turn < (groups.length > 1 ? TURNS : 1); turn++) {
    for (const group of groups) {
      const path = paths[group] as HeatPath;
      const temperature = settled(warm, group, path, airTemperature);
      windings[group] = temperature;
      if (typeof temperature === 'number') warm = withResistance(warm, group, resistanceAt(path, temperature));
    }
  }
  return { craft: warm, windings };
}

const resistanceAt = (path: HeatPath, temperature: number): number => path.coldResistance * copperFactor(temperature);

function withResistance(craft: Craft, group: number, resistance: number): Craft {
  const rotors = craft.rotors.map((rotors, i) =>
    i === group ? { ...rotors, motor: { ...rotors.motor, resistance } } : rotors,
  );
  return { ...craft, rotors };
}

/** Undefined where the craft does not fly its phases. */
function settled(craft: Craft, group: number, path: HeatPath, airTemperature: number): number | 'runaway' | undefined {
  /** Where a winding taken as so warm would settle, no hotter than anything gets. */
  const settling = (temperature: number): number | undefined => {
    const losses = lossesOverFlight(withResistance(craft, group, resistanceAt(path, temperature)), group);
    if (!losses) return undefined;
    const { thermalResistance, coldResistance: resistance } = path;
    const found = windingTemperature({ airTemperature, thermalResistance, resistance, ...losses });
    return found === 'runaway' ? HOTTEST : Math.min(HOTTEST, found);
  };
  let [cold, hot] = [airTemperature, HOTTEST];
  let temperature = settling(airTemperature);
  let older: { temperature: number; excess: number } | undefined;
  for (let step = 0; step < STEPS; step++) {
    if (temperature === undefined) return undefined;
    const next = settling(temperature);
    if (next === undefined) return undefined;
    const excess = next - temperature;
    if (Math.abs(excess) <= SETTLED) break;
    if (excess > 0) cold = temperature;
    else hot = temperature;
    // A secant where there is one that stays between what is too cold and what is too hot.
    const slope = older && (excess - older.excess) / (temperature - older.temperature);
    const along = slope ? temperature - excess / slope : next;
    older = { temperature, excess };
    temperature = along > cold && along < hot ? along : (cold + hot) / 2;
  }
  return temperature !== undefined && temperature < HOTTEST - 1 ? temperature : 'runaway';
}

/** Root mean square current of one motor of a group, A, and its mean losses outside the copper, W. */
export function lossesOverFlight(craft: Craft, group: number): { current: number; otherLosses: number } | undefined {
  const motor = craft.rotors[group]?.motor;
  let square = 0;
  let otherLosses = 0;
  for (const { share, hoverMultiple } of craft.flown) {
    const rotor = phaseOf(craft, hoverMultiple)?.rotors[group];
    if (!motor || !rotor) return undefined;
    const copper = rotor.motorCurrent ** 2 * motor.resistance;
    square += share * rotor.motorCurrent ** 2;
    otherLosses += share * (motorLoss(motor, rotor.speed, rotor.motorCurrent) - copper + rotor.rippleLoss);
  }
  return { current: Math.sqrt(square), otherLosses };
}

/** Half way to the reserve; a phase that demands more than full duty gets full duty. */
function phaseOf(craft: Craft, hoverMultiple: number): OperatingPoint | undefined {
  const point = (hoverMultiple > 1 ? flownPhase : atHoverMultiple)(craft, middleCharge(craft), hoverMultiple);
  return isImpossible(point) ? undefined : point;
}
