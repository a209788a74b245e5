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
import type { Craft, Load, Rail, RailState, Source } from './craft.ts';

/** Which of a load's two figures holds. */
export type LoadLevel = 'draw' | 'peak';

/** All that the bus feeds but the rotors, at one load level: as a whole over the bus voltage, and rail by rail. */
export interface Electronics {
  readonly craft: Craft;
  readonly level: LoadLevel;
  /**
   * Between these bus voltages every rail carries its rated output and so draws a constant current from it; the bus then
   * sees A + W/V. Empty range: never.
   */
  readonly regulatedFrom: number;
  readonly regulatedTo: number;
  readonly constantCurrent: number;
  readonly constantPower: number;
  /** Rails at the bus voltage last walked through. */
  readonly voltage: number[];
  readonly current: number[];
  readonly inputCurrent: number[];
}

export function electronics(craft: Craft, level: LoadLevel): Electronics {
  const { rails, loads } = craft;
  let regulatedFrom = 0;
  let regulatedTo = Number.MAX_VALUE;
  const current = rails.map(() => 0);
  let constantCurrent = craft.escIdleCurrent;
  let constantPower = 0;

  for (const load of loads) {
    const amount = load[level];
    if (load.from === 'bus') {
      if (load.kind === 'power') constantPower += amount;
      else constantCurrent += amount;
    } else {
      const output = (rails[load.from] as Rail).output;
      current[load.from] = (current[load.from] as number) + (load.kind === 'power' ? amount / output : amount);
    }
  }
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
    else if (rail.type !== 'both') regulatedFrom = Math.max(regulatedFrom, rail.output + rail.dropout);
    constantCurrent += rail.idleCurrent;
    if (rail.type === 'linear') constantCurrent += drawn;
    else constantPower += (rail.output * drawn) / rail.efficiency;
  }
  const zeros = () => rails.map(() => 0);
  return {
    craft,
    level,
    regulatedFrom,
    regulatedTo,
    constantCurrent,
    constantPower,
    voltage: zeros(),
    current: zeros(),
    inputCurrent: zeros(),
  };
}

/** Drawn from the bus, A, at a bus voltage (V, above zero). */
export function electronicsCurrent(electronics: Electronics, busVoltage: number): number {
  const { regulatedFrom, regulatedTo, constantCurrent, constantPower } = electronics;
  const regulated = busVoltage >= regulatedFrom && busVoltage <= regulatedTo;
  return regulated ? constantCurrent + constantPower / busVoltage : walkRails(electronics, busVoltage);
}

/** Every rail at a bus voltage (V, above zero); returns what the bus gives, A. */
function walkRails(electronics: Electronics, busVoltage: number): number {
  const { craft, level, voltage, current, inputCurrent } = electronics;
  let total = craft.escIdleCurrent;

  for (let i = 0; i < craft.rails.length; i++) {
    const rail = craft.rails[i] as Rail;
    const source = rail.from === 'bus' ? busVoltage : (voltage[rail.from] as number);
    voltage[i] = outputVoltage(rail, source);
    current[i] = 0;
  }
  for (const load of craft.loads) {
    if (load.from === 'bus') {
      total += loadCurrent(load, level, busVoltage, 0);
    } else {
      const rated = (craft.rails[load.from] as Rail).output;
      const drawn = loadCurrent(load, level, voltage[load.from] as number, rated);
      current[load.from] = (current[load.from] as number) + drawn;
    }
  }
  // Backwards: a rail's own draw burdens the one that feeds it.
  for (let i = craft.rails.length - 1; i >= 0; i--) {
    const rail = craft.rails[i] as Rail;
    const source = rail.from === 'bus' ? busVoltage : (voltage[rail.from] as number);
    const drawn = regulatorInputCurrent(rail, source, voltage[i] as number, current[i] as number);
    inputCurrent[i] = drawn;
    if (rail.from === 'bus') total += drawn;
    else current[rail.from] = (current[rail.from] as number) + drawn;
  }
  return total;
}

/** Every rail at a bus voltage (V, above zero). */
export function railStates(electronics: Electronics, busVoltage: number): RailState[] {
  walkRails(electronics, busVoltage);
  const { voltage, current, inputCurrent } = electronics;
  return electronics.craft.rails.map((rail, i) => ({
    voltage: voltage[i] as number,
    current: current[i] as number,
    inputCurrent: inputCurrent[i] as number,
    droppedOut: (voltage[i] as number) < rail.output,
  }));
}

/** V, from a source voltage in V. */
export function outputVoltage(rail: Rail, source: number): number {
  switch (rail.type) {
    case 'buck':
    case 'linear':
      return Math.max(0, Math.min(rail.output, source - rail.dropout));
    case 'boost':
      return source > 0 ? Math.max(rail.output, source) : 0;
    case 'both':
      return source > 0 ? rail.output : 0;
  }
}

/** Drawn from the source, A, for an output voltage and current. */
export function regulatorInputCurrent(rail: Rail, source: number, output: number, current: number): number {
  if (source <= 0) return 0;
  const through = rail.type === 'linear' ? current : (output * current) / (rail.efficiency * source);
  return through + rail.idleCurrent;
}

/** Heat in a regulator, W. */
export function regulatorLoss(state: RailState, source: number): number {
  return source * state.inputCurrent - state.voltage * state.current;
}

function loadCurrent(load: Load, level: LoadLevel, voltage: number, rated: number): number {
  const asked = load[level];
  if (voltage <= 0) return 0;
  const collapsed = rated / 2;
  if (load.kind === 'power') return voltage >= collapsed ? asked / voltage : (asked * voltage) / collapsed ** 2;
  return voltage >= collapsed ? asked : (asked * voltage) / collapsed;
}

/**
 * Lowest bus voltage, V, at which a point still carries `minimum` volts: 0 where a regulator holds it from any input,
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
    case 'both':
      return regulated ? requiredBusVoltage(craft, rail.from, 0) : undefined;
  }
}
