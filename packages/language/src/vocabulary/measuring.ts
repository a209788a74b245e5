/** How a builder gets a figure that is only estimated: what an advice names instead of the property's name. */

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
  },
} as const satisfies Readonly<Record<string, Readonly<Record<string, string>>>>;

const BY_KIND: ReadonlyMap<string, Readonly<Record<string, string>>> = new Map(Object.entries(MEASURING));

/** What no part has, by the beginning of its id. */
const OF_THE_FLIGHT: readonly (readonly [RegExp, string])[] = [
  [/^default\.(air|altitude)|\.air(\.at)?$/, 'how warm the air is and how high above the sea, for an `air:` line'],
  [/^default\.flown|\.flown\[/, 'how it is flown, from a log, for its `flown:` lines'],
];

/**
 * Words for a figure; one without words of its own is named as it is.
 * @param id of the figure: `…#motor M1606.resistance`, `…#esc Board35.video.efficiency`, `…#pack Mast1050_4S.lead.of`
 * @param label of the figure: `resistance of M1606`
 */
export function howToMeasure({ id, label }: { readonly id: string; readonly label: string }): string {
  for (const [of, words] of OF_THE_FLIGHT) if (of.test(id)) return words;
  const [, kind = '', path = ''] = /#(\w+) ([\w.]+)$/.exec(id) ?? [];
  const names = path.replace(/\.(?:at|for|of)$/, '').split('.');
  const property = names.pop() ?? '';
  const part = names.join('.');
  if (part === '') return label;
  if (property === 'mass') return `${part} on a scale`;
  const ofKind = BY_KIND.get(kind === 'esc' && names.length > 1 ? 'rail' : kind);
  return ofKind?.[property]?.replace('{part}', part) ?? label;
}
