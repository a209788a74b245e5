/**
 * Regulators and what they feed: every rail's voltage and current at a given bus voltage, chains included.
 *
 *   buck    V_out = min(output, V_in − drop-out); power through the efficiency
 *   boost   V_out = max(output, V_in): above its output the input passes through; power through the efficiency
 *   both    V_out = output; power through the efficiency
 *   linear  V_out = min(output, V_in − drop-out); the current passes through, the difference is heat
 *
 * plus each regulator's own draw. A load of constant power keeps it down to half the rail's rated output; below, it is the
 * resistance that it was there, since nothing draws without bound from a rail that has collapsed.
 * Sources: S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed., ch. 11 (linear, drop-out,
 * efficiency); R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, ch. 2–3 (switching). The collapse rule: ours.
 * Neglected: efficiency over load, start-up, current limits (judged afterwards, not enforced).
 */
import type { Craft, Rail, RailState, Source } from './craft.ts';

/** Which of a load's two figures applies. */
export type LoadLevel = 'draw' | 'peak';

/** The loads of one point: loads of constant current together, A, and loads of constant power together, W. */
interface Drawn {
  current: number;
  power: number;
}

/** A rail, its loads, and its state at the bus voltage last walked through. */
interface LoadedRail extends Rail {
  readonly drawn: Readonly<Drawn>;
  /** V */
  voltage: number;
  /** A */
  current: number;
  /** A */
  inputCurrent: number;
}

/** All that the bus feeds but the rotors and their controllers, at one load level: as a whole over the bus voltage, and rail by rail. */
export interface Electronics {
  readonly onBus: Readonly<Drawn>;
  readonly rails: readonly LoadedRail[];
  /**
   * Between these bus voltages every rail delivers its rated output and so draws a constant current from it; the bus then
   * sees A + W/V. Empty range: never.
   */
  readonly regulatedFrom: number;
  readonly regulatedTo: number;
  readonly constantCurrent: number;
  readonly constantPower: number;
}

interface Known {
  readonly rails: Craft['rails'];
  readonly levels: Partial<Record<LoadLevel, Electronics>>;
}

/** By the loads, on the rails that were computed last: craft that differ in a rotor or a pack share all this. */
const known = new WeakMap<Craft['loads'], Known>();

export function electronics(craft: Craft, level: LoadLevel): Electronics {
  const { rails, loads } = craft;
  let latest = known.get(loads);
  if (latest?.rails !== rails) {
    latest = { rails, levels: {} };
    known.set(loads, latest);
  }
  latest.levels[level] ??= gathered(craft, level);
  return latest.levels[level];
}

function gathered({ rails, loads }: Craft, level: LoadLevel): Electronics {
  const onBus: Drawn = { current: 0, power: 0 };
  const onRails = rails.map((): Drawn => ({ current: 0, power: 0 }));
  for (const { from, kind, [level]: amount } of loads) {
    const drawn = from === 'bus' ? onBus : (onRails[from] as Drawn);
    drawn[kind] += amount;
  }

  let regulatedFrom = 0;
  let regulatedTo = Number.MAX_VALUE;
  let constantCurrent = onBus.current;
  let constantPower = onBus.power;
  const current = onRails.map((drawn, i) => drawn.current + drawn.power / (rails[i] as Rail).output);
  for (let i = rails.length - 1; i >= 0; i--) {
    const rail = rails[i] as Rail;
    const drawn = current[i] as number;
    if (rail.from !== 'bus') {
      const source = (rails[rail.from] as Rail).output;
      if (outputVoltage(rail, source) !== rail.output) regulatedTo = 0;
      const input = regulatorInputCurrent(rail, source, rail.output, drawn);
      current[rail.from] = (current[rail.from] as number) + input;
      continue;
    }
    if (rail.type === 'boost') regulatedTo = Math.min(regulatedTo, rail.output);
    else if (rail.type !== 'buck_boost') regulatedFrom = Math.max(regulatedFrom, rail.output + rail.dropout);
    constantCurrent += rail.standbyCurrent;
    if (rail.type === 'linear') constantCurrent += drawn;
    else constantPower += (rail.output * drawn) / rail.efficiency;
  }
  const loaded = rails.map((rail, i) => loadedRail(rail, onRails[i] as Drawn));
  return { rails: loaded, onBus, regulatedFrom, regulatedTo, constantCurrent, constantPower };
}

/** Field by field: objects of one shape are walked through several times as fast. */
const loadedRail = ({ type, from, output, dropout, efficiency, standbyCurrent }: Rail, drawn: Drawn): LoadedRail => ({
  type,
  from,
  output,
  dropout,
  efficiency,
  standbyCurrent,
  drawn,
  voltage: 0,
  current: 0,
  inputCurrent: 0,
});

/** Drawn from the bus, A, at a bus voltage (V, above zero). */
export function electronicsCurrent(electronics: Electronics, busVoltage: number): number {
  const { regulatedFrom, regulatedTo, constantCurrent, constantPower } = electronics;
  const regulated = busVoltage >= regulatedFrom && busVoltage <= regulatedTo;
  return regulated ? constantCurrent + constantPower / busVoltage : walkRails(electronics, busVoltage);
}

/** Every rail at a bus voltage (V, above zero); returns what the bus gives, A. */
function walkRails({ rails, onBus }: Electronics, busVoltage: number): number {
  for (const rail of rails) {
    rail.voltage = outputVoltage(rail, sourceVoltage(rails, rail, busVoltage));
    rail.current = drawnAt(rail.drawn, rail.voltage, rail.output);
  }
  let total = onBus.current + onBus.power / busVoltage;
  // Backwards: a rail's own draw burdens the one that feeds it.
  for (let i = rails.length - 1; i >= 0; i--) {
    const rail = rails[i] as LoadedRail;
    const source = sourceVoltage(rails, rail, busVoltage);
    rail.inputCurrent = regulatorInputCurrent(rail, source, rail.voltage, rail.current);
    if (rail.from === 'bus') total += rail.inputCurrent;
    else (rails[rail.from] as LoadedRail).current += rail.inputCurrent;
  }
  return total;
}

const sourceVoltage = (rails: readonly LoadedRail[], { from }: LoadedRail, busVoltage: number): number =>
  from === 'bus' ? busVoltage : (rails[from] as LoadedRail).voltage;

/** Every rail at a bus voltage (V, above zero). */
export function railStates(electronics: Electronics, busVoltage: number): RailState[] {
  walkRails(electronics, busVoltage);
  return electronics.rails.map(({ voltage, current, inputCurrent, output }) => ({
    voltage,
    current,
    inputCurrent,
    droppedOut: voltage < output,
  }));
}

/** V at a source, at a bus voltage in V: a rail's voltage depends on what feeds it alone. */
export function supplyVoltage(rails: readonly Rail[], source: Source, busVoltage: number): number {
  const rail = source === 'bus' ? undefined : rails[source];
  return rail ? outputVoltage(rail, supplyVoltage(rails, rail.from, busVoltage)) : busVoltage;
}

/** V, from a source voltage in V. */
function outputVoltage(rail: Rail, source: number): number {
  switch (rail.type) {
    case 'buck':
    case 'linear':
      return Math.max(0, Math.min(rail.output, source - rail.dropout));
    case 'boost':
      return source > 0 ? Math.max(rail.output, source) : 0;
    case 'buck_boost':
      return source > 0 ? rail.output : 0;
  }
}

/** Drawn from the source, A, for an output voltage and current. */
function regulatorInputCurrent(rail: Rail, source: number, output: number, current: number): number {
  if (source <= 0) return 0;
  const through = rail.type === 'linear' ? current : (output * current) / (rail.efficiency * source);
  return through + rail.standbyCurrent;
}

/** V: below it, the load of a rail of a rated output (V) acts as the resistance that it has there. */
export const collapseVoltage = (rated: number): number => rated / 2;

/** Current, A, of what a rail supplies at a voltage, V; the rail is rated for another one. */
function drawnAt({ current, power }: Readonly<Drawn>, voltage: number, rated: number): number {
  if (voltage <= 0) return 0;
  const collapsed = collapseVoltage(rated);
  if (voltage >= collapsed) return current + power / voltage;
  return (current * voltage) / collapsed + (power * voltage) / collapsed ** 2;
}

/**
 * Lowest bus voltage, V, at which a point still has `minimum` volts: 0 where a regulator keeps it from any input,
 * undefined where none does. A rail's voltage depends on its source's voltage alone, so the chain can be walked back.
 */
export function requiredBusVoltage(craft: Craft, source: Source, minimum: number): number | undefined {
  if (source === 'bus') return Math.max(0, minimum);
  const rail = craft.rails[source];
  if (!rail) return undefined;
  const regulated = minimum <= rail.output;
  switch (rail.type) {
    case 'buck':
    case 'linear':
      return regulated ? requiredBusVoltage(craft, rail.from, minimum + rail.dropout) : undefined;
    case 'boost':
      return requiredBusVoltage(craft, rail.from, regulated ? 0 : minimum);
    case 'buck_boost':
      return regulated ? requiredBusVoltage(craft, rail.from, 0) : undefined;
  }
}
