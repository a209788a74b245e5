/** How a builder gets a figure that is only estimated: what an advice names instead of the property's name. */
import type { PropertyName } from './properties.ts';
import type { BlockKind, Whose } from './schema.ts';

/** With which a build is measured as a whole. */
export const MEASURING_TOOLS = [
  'scale',
  'charger',
  'stopwatch',
  'voltmeter',
  'recorder',
  'tachometer',
  'stand',
] as const;
export type MeasuringTool = (typeof MEASURING_TOOLS)[number];

const PART = '{part}';
/** What no part has. */
const FLIGHT = {
  air: 'how warm the air is and how high above the sea, for an `air:` line',
  flown: 'how it is flown, from a log, for its `flown:` lines',
};
const STAND = 'thrust, watts and speed of {part} at one point on a test stand, for its coefficients';
const REGULATOR = {
  dropout: 'the input voltage at which the output of {part} starts to fall',
  efficiency: 'the watts into {part} and out of it',
  standby_current: 'the current into {part} with nothing on it',
  output: 'the output of {part}, with a voltmeter',
};

/**
 * By kind and property; `{part}` is the part's name. Each is a property that a file may state, so that what was measured has a place:
 * a test sees to it.
 */
export const MEASURING = {
  motor: {
    kv: 'the speed of {part} without its propeller, at a known voltage',
    resistance: 'the resistance of {part} between two of its wires, with a milliohm meter',
    inductance: 'the inductance of {part} between two of its wires, with an LCR meter',
    no_load_current: 'the current of {part} without its propeller, at a known voltage',
    poles: 'the magnets of {part}, by counting them',
  },
  propeller: {
    diameter: '{part} with callipers',
    pitch: 'the pitch of {part}',
    thrust_coefficient: STAND,
    power_coefficient: STAND,
  },
  esc: {
    resistance: 'the volts that a channel of {part} loses at a known current, for its resistance',
    burst: 'the burst rating of {part}, on its data sheet',
    standby_current: 'the current of {part} with its motors at rest',
    pwm_frequency: 'the PWM frequency that {part} is set to',
  },
  rail: REGULATOR,
  regulator: REGULATOR,
  pack: {
    capacity: 'the capacity of {part}, as the charger counts it',
    discharge: 'the rate that {part} claims, on its label',
    cell_resistance: 'the cell resistance of {part}, as the charger shows it',
    temperature: 'how warm {part} is at take-off',
    cycles: 'how often {part} has been charged',
    lead: 'the lead of {part}, its length and its gauge',
    plug_resistance: 'the volts that the plug of {part} loses at a known current, for its resistance',
  },
  lead: {
    wire: 'the gauge of {part}',
    length: '{part} with a ruler',
  },
  load: {
    draw: 'the watts of {part} in use',
    peak: 'the watts of {part} at their highest',
  },
  airframe: {
    duct_gain: 'the thrust of a rotor in {part} and outside of it, at equal watts',
    guard_diameter: '{part} with callipers',
    drag_area: 'the strongest wind in which {part} keeps its position, for its drag',
  },
  mount: {
    frequency: 'the frequency at which {part} rings when tapped',
    damping: 'how fast {part} stops ringing when tapped',
    stiffness: 'how far {part} gives under a known weight',
  },
  build: {
    dry_mass: '{part} without its pack on a scale',
    ...FLIGHT,
  },
  rules: FLIGHT,
} as const satisfies { readonly [Kind in BlockKind]?: Readonly<Partial<Record<PropertyName<Kind>, string>>> };

const BY_KIND: ReadonlyMap<string, Readonly<Record<string, string>>> = new Map(Object.entries(MEASURING));

/** Words for a figure; one without words of its own is named as it is. */
export function howToMeasure({ whose, label }: { readonly whose: Whose; readonly label: string }): string {
  if (whose.sort !== 'property') return label;
  const { kind, part, property } = whose;
  const words = property === 'mass' ? `${PART} on a scale` : BY_KIND.get(kind)?.[property];
  return words === undefined || (part === '' && words.includes(PART)) ? label : words.replace(PART, () => part);
}
