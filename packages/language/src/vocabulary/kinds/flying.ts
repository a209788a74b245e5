/** How it is flown, what is required of it, and what was seen: rules, builds, observations, benches. */
import {
  ANGLE,
  CHARGE,
  CURRENT,
  LENGTH,
  MASS,
  NONE,
  ROTATIONAL_SPEED,
  SPEED,
  TEMPERATURE_POINT,
  TIME,
  VOLTAGE,
} from '../../units/dimension.ts';
import type { Property } from '../schema.ts';
import { AT_POSITION, block, type Described, FOR_SECONDS, LOSS_RESISTANCE, RESERVE } from './common.ts';
import { ITEM_MASS } from './fittings.ts';

const AIR = {
  shape: 'air',
  dimension: TEMPERATURE_POINT,
  unit: 'degC',
  otherUnits: ['degF'],
  mistaken: { C: 'degC', deg: 'degC', F: 'degF' },
  plausible: [-40, 60],
  tolerance: { stated: { absolute: 3 }, measured: { absolute: 1 } },
  clauses: { at: { shape: 'quantity', dimension: LENGTH, unit: 'm' } },
  inBuild: 'replace',
  estimated: '15 ± 10 degC at sea level ± 200 m.',
  description: 'Air temperature, and height above the sea: `12 degC at 250 m`. Thin air costs thrust and minutes.',
} as const satisfies Described;

const FLOWN = {
  shape: 'flown',
  dimension: NONE,
  unit: '%',
  plausible: [0, 100],
  tolerance: { stated: { relative: 0.1 } },
  clauses: { at: { shape: 'quantity', dimension: NONE } },
  repeats: true,
  inBuild: 'replace',
  estimated: 'All of it hovering.',
  description:
    'A share of the flight at a multiple of hover thrust, on several lines that add up to 100 %: `25 % at 1.4 x hover`.',
} as const satisfies Described;

/** Rules have these, and a build may state them itself. */
const FLYING = {
  reserve: { ...RESERVE, inBuild: 'replace' },
  air: AIR,
  humidity: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    plausible: [0, 100],
    tolerance: { stated: { relative: 0.1 } },
    inBuild: 'replace',
    estimated: 'Dry air; at 30 degC full humidity makes it 2 % thinner.',
    description: 'Relative humidity of the air.',
  },
  flown: FLOWN,
  burst: {
    shape: 'multiple',
    dimension: NONE,
    plausible: [1, 12],
    tolerance: { stated: { relative: 0 } },
    clauses: { for: FOR_SECONDS },
    inBuild: 'replace',
    estimated: '2.5 times hover thrust for 1 s.',
    description: 'What counts as a burst: `2.5 x hover for 1 s`, at most full duty.',
  },
  ground: {
    shape: 'quantity',
    dimension: TIME,
    unit: 'min',
    otherUnits: ['s'],
    mistaken: { m: 'min' },
    plausible: [0, 60],
    tolerance: { stated: { relative: 0.2 } },
    inBuild: 'replace',
    estimated: 'None.',
    description: 'Time on the ground before take-off, electronics running.',
  },
  tilt: {
    shape: 'quantity',
    dimension: ANGLE,
    unit: 'deg',
    mistaken: { '%': 'deg', degC: 'deg' },
    plausible: [5, 80],
    tolerance: { stated: { relative: 0 } },
    inBuild: 'replace',
    estimated: '45 deg, to keep position against wind; 25 deg is usual while filming.',
    description: 'How far it may lean against the wind.',
  },
} as const satisfies Readonly<Record<string, Described>>;

export const RULES = block('rules', 'What a team requires of its craft, and how it flies them.', FLYING);

const FROM_RAIL = { shape: 'part', words: ['pack'], parts: ['rail', 'regulator', 'esc'] } as const;
const ALIAS = { shape: 'name' } as const;

export const BUILD = block('build', 'One craft: its parts, the packs it flies on, and what is required of it.', {
  rules: {
    shape: 'part',
    parts: ['rules'],
    repeats: true,
    inBuild: 'replace',
    description:
      'The rules it follows; a second line for further ones: all that they require applies, and of other figures the stricter one.',
  },
  airframe: {
    shape: 'part',
    parts: ['airframe'],
    requiredUnless: ['dry_mass'],
    inBuild: 'replace',
    description: 'Its frame.',
  },
  motors: {
    shape: 'part',
    parts: ['motor'],
    requiredUnless: ['upper_motors', 'lower_motors'],
    clauses: { with: { shape: 'part', parts: ['propeller'] } },
    repeats: true,
    inBuild: 'replace',
    description: 'Its motors and their propellers: `4 x M1606 with P3024x3`; a second line for motors that differ.',
  },
  upper_motors: {
    shape: 'part',
    parts: ['motor'],
    clauses: { with: { shape: 'part', parts: ['propeller'] } },
    repeats: true,
    inBuild: 'replace',
    description: 'The upper motors of coaxial pairs.',
  },
  lower_motors: {
    shape: 'part',
    parts: ['motor'],
    clauses: { with: { shape: 'part', parts: ['propeller'] } },
    repeats: true,
    inBuild: 'replace',
    description: 'The lower motors of coaxial pairs, in the wash of the upper ones.',
  },
  esc: {
    shape: 'part',
    parts: ['esc'],
    required: true,
    clauses: { as: ALIAS, at: AT_POSITION },
    repeats: true,
    inBuild: 'replace',
    description: 'Its speed controller; `as Top` gives one of several boards a name of its own.',
  },
  regulator: {
    shape: 'part',
    parts: ['regulator'],
    clauses: { from: FROM_RAIL, as: ALIAS, at: AT_POSITION },
    repeats: true,
    inBuild: 'add',
    description: 'A regulator and what feeds it: `Step5 from pack`.',
  },
  lead: {
    shape: 'part',
    parts: ['lead'],
    clauses: { at: AT_POSITION },
    repeats: true,
    inBuild: 'add',
    description: 'The lead between pack and board; `2 x` for two in parallel.',
  },
  load: {
    shape: 'part',
    parts: ['load'],
    clauses: {
      from: FROM_RAIL,
      on: { shape: 'part', parts: ['mount'] },
      as: ALIAS,
      at: AT_POSITION,
    },
    repeats: true,
    inBuild: 'add',
    description: 'A load, what feeds it and what it is mounted on: `LinkCam from Board35.video on Gel4`.',
  },
  item: {
    ...ITEM_MASS,
    shape: 'part',
    parts: ['item'],
    tolerance: { stated: { relative: 0.05 }, measured: { relative: 0.01 }, estimated: { relative: 0.3 } },
    clauses: { at: AT_POSITION },
    repeats: true,
    inBuild: 'add',
    description: 'What only weighs: a part, or a mass with a label, `2.4 g "solder, tape"`.',
  },
  mount: {
    shape: 'part',
    parts: ['mount'],
    clauses: { at: AT_POSITION },
    repeats: true,
    inBuild: 'add',
    description: 'A mount with no load of the list on it.',
  },
  spare: {
    shape: 'part',
    parts: ['motor', 'propeller', 'esc', 'regulator', 'pack', 'load', 'item', 'lead', 'mount', 'airframe'],
    repeats: true,
    inBuild: 'add',
    description:
      'What is bought with it and stays on the ground: `4 x P3024x3`. It counts in the price and in the list of parts.',
  },
  pack: {
    shape: 'part',
    parts: ['pack'],
    required: true,
    clauses: {
      with: { shape: 'part', parts: ['pack'] },
      duty: { shape: 'quantity', dimension: NONE, unit: '%' },
      in: { shape: 'word', words: ['parallel', 'series'] },
      as: ALIAS,
      at: AT_POSITION,
    },
    repeats: true,
    inBuild: 'add',
    description:
      'A pack it may fly on, one choice per line: `Round2600_3S duty 95 %`. `duty` is the duty limit: the cap on motor output set in the flight controller.',
  },
  flight: {
    shape: 'part',
    parts: ['flight'],
    clauses: { with: { shape: 'part', parts: ['pack'] } },
    repeats: true,
    inBuild: 'add',
    description:
      'A flight in legs that it is to make, on every pack or `with` one of them: `TowerRound with Mast1050_4S`.',
  },
  without: {
    shape: 'part',
    parts: ['load', 'item', 'regulator', 'lead', 'mount', 'pack', 'esc', 'flight'],
    repeats: true,
    inBuild: 'add',
    description: 'Takes away what the build it is `like` has.',
  },
  dry_mass: {
    shape: 'quantity',
    dimension: MASS,
    unit: 'g',
    otherUnits: ['kg', 'oz'],
    mistaken: { gf: 'g' },
    plausible: [5, 5000],
    tolerance: { stated: { relative: 0.01 }, measured: { relative: 0.005 }, claimed: { relative: 0.05 } },
    inBuild: 'replace',
    description:
      'All of it on the scale, without the pack, in place of the sum. What a build that is `like` this one adds and takes out then changes it; stated again, it replaces.',
  },
  ...FLYING,
});

const LEG_SPEED = { shape: 'quantity', dimension: SPEED, unit: 'm/s', plausible: [0.1, 60] } as const;
const WIND_SPEED = { ...LEG_SPEED, plausible: [0, 60] } as const;
const BARE = { shape: 'bare' } as const;

export const FLIGHT = block(
  'flight',
  'A flight in legs, one after the other: what each takes from the pack, where to turn back, and what is left at the end.',
  {
    leg: {
      shape: 'leg',
      dimension: TIME,
      unit: 'min',
      otherUnits: ['s', 'm', 'km'],
      required: true,
      repeats: true,
      clauses: {
        hover: BARE,
        climb: BARE,
        descent: BARE,
        home: BARE,
        release: { shape: 'part', parts: ['load', 'item'], counted: true },
        at: LEG_SPEED,
        against: WIND_SPEED,
        with: WIND_SPEED,
      },
      description:
        'One leg: `2 min hover`, `3 km at 14 m/s against 5 m/s`, `40 s climb at 3 m/s`, `release Crate`, `home at 9 m/s`. Speeds are through the air.',
    },
  },
);

const VOLTS = {
  shape: 'quantity',
  dimension: VOLTAGE,
  unit: 'V',
  otherUnits: ['V/cell'],
  mistaken: { A: 'V', S: 'V' },
  plausible: [0.8, 70],
  tolerance: { stated: { relative: 0.01 } },
} as const;

const AMPERES = {
  shape: 'quantity',
  dimension: CURRENT,
  unit: 'A',
  mistaken: { mAh: 'A', Ah: 'A', V: 'A' },
  plausible: [0.05, 1000],
  tolerance: { stated: { relative: 0.05 } },
} as const;

/** When hover was read: `at 60 %` of the charge, or `after 2 min` of hovering. */
const IN_HOVER = {
  at: { shape: 'quantity', dimension: NONE, unit: '%', plausible: [1, 100] },
  after: { shape: 'quantity', dimension: TIME, unit: 'min', plausible: [0, 180] },
} as const;

/** `at 60 % output`, where the burst was not full. */
const IN_BURST = {
  for: FOR_SECONDS,
  at: { shape: 'quantity', dimension: NONE, unit: '%', plausible: [10, 100] },
} as const;

const TURNS = {
  shape: 'quantity',
  dimension: ROTATIONAL_SPEED,
  unit: 'rpm',
  otherUnits: ['rps'],
  mistaken: { 'rpm/V': 'rpm', Hz: 'rps' },
  plausible: [500, 150_000],
  tolerance: { stated: { relative: 0.02 } },
} as const;

/** Of an observation: all but its day is a number, which has a unit and a ±. */
export type DescribedLine = Described & ({ readonly shape: 'date' } | Required<Pick<Property, 'unit' | 'tolerance'>>);

const OBSERVED_LINES = {
  on: {
    shape: 'date',
    description: 'The day of it: `2026-10-04`. With it the resistance of a pack is followed over the year.',
  },
  air: AIR,
  scale: {
    shape: 'quantity',
    dimension: MASS,
    unit: 'g',
    otherUnits: ['kg', 'oz'],
    mistaken: { gf: 'g' },
    plausible: [5, 6000],
    tolerance: { stated: { relative: 0.005 } },
    description: 'All of it on the scale, ready to fly, the pack in.',
  },
  airborne: {
    shape: 'quantity',
    dimension: TIME,
    unit: 'min',
    otherUnits: ['s'],
    mistaken: { m: 'min' },
    plausible: [0.1, 180],
    tolerance: { stated: { relative: 0.02 } },
    description: 'Time in the air, hovering unless `flown` states otherwise: `3 min 10 s`.',
  },
  flown: FLOWN,
  put_back: {
    shape: 'quantity',
    dimension: CHARGE,
    unit: 'mAh',
    otherUnits: ['Ah'],
    mistaken: { mA: 'mAh', A: 'Ah' },
    plausible: [1, 40_000],
    tolerance: { stated: { relative: 0.03 } },
    description: 'What the charger returned afterwards.',
  },
  counted: {
    shape: 'quantity',
    dimension: CHARGE,
    unit: 'mAh',
    otherUnits: ['Ah'],
    mistaken: { mA: 'mAh', A: 'Ah' },
    plausible: [1, 40_000],
    tolerance: { stated: { relative: 0.03 } },
    description:
      'What the recorder counted in flight; compared with `put_back` it shows the error of its current sensor.',
  },
  rested: {
    ...VOLTS,
    description: 'Voltage of the pack some minutes after landing.',
  },
  hover_voltage: {
    ...VOLTS,
    clauses: IN_HOVER,
    description: 'Voltage of the pack in a steady hover: `14.6 V at 60 %` of the charge, or `after 2 min`.',
  },
  hover_current: {
    ...AMPERES,
    clauses: IN_HOVER,
    description: 'Current in a steady hover, all of it: `6.4 A at 60 %` of the charge, or `after 2 min`.',
  },
  hover_output: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    plausible: [1, 100],
    tolerance: { stated: { absolute: 3 } },
    clauses: IN_HOVER,
    description: 'Average motor output in a steady hover, as logged.',
  },
  hover_speed: {
    ...TURNS,
    clauses: IN_HOVER,
    description: 'Speed of the rotors in a steady hover.',
  },
  burst_voltage: {
    ...VOLTS,
    clauses: IN_BURST,
    description:
      'Lowest voltage of the pack in a burst, full unless `at` states otherwise: `7.28 V for 2 s`, `7.6 V at 60 %`.',
  },
  burst_current: {
    ...AMPERES,
    clauses: IN_BURST,
    description: 'Highest current in a burst, all of it, full unless `at` states otherwise.',
  },
  burst_speed: {
    ...TURNS,
    clauses: IN_BURST,
    description: 'Speed of the rotors in a burst, full unless `at` states otherwise.',
  },
  motor_temperature: {
    shape: 'quantity',
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    otherUnits: ['degF'],
    mistaken: { C: 'degC', deg: 'degC', F: 'degF' },
    plausible: [-20, 200],
    tolerance: { stated: { absolute: 5 } },
    description: 'Temperature of a motor bell right after landing.',
  },
  cell_resistance: {
    ...LOSS_RESISTANCE,
    shape: 'quantity',
    plausible: [0.1, 1000],
    tolerance: { stated: { relative: 0.1 } },
    clauses: { at: { shape: 'quantity', dimension: TEMPERATURE_POINT, unit: 'degC', plausible: [-20, 60] } },
    description:
      'Resistance of one cell as the charger shows it, the mean of all: `14 mohm at 22 degC`. Of cells side by side (`2P`) it is that of the group.',
  },
} satisfies Readonly<Record<string, DescribedLine>>;

/** What a line of an observation may be; what is learnt from those that were read is in `analysis/learn/flight-readings.ts`. */
export type ObservedLine = keyof typeof OBSERVED_LINES;

export const OBSERVED = block(
  'observed',
  'What was seen in one flight or on the scale; figures here count as measured. What agrees with the prediction corrects the estimates, for all packs of the build; what does not is a finding.',
  OBSERVED_LINES,
);

export const BENCH = block(
  'bench',
  'Rows measured on a test stand: one motor, one propeller, one board. Builds with that propeller use them, where the bench is in the folder of the build, of one that it is `like`, or of the propeller, or in a folder that these open.',
  {
    motor: {
      shape: 'part',
      parts: ['motor'],
      required: true,
      description: 'The motor under test.',
    },
    propeller: {
      shape: 'part',
      parts: ['propeller'],
      required: true,
      description: 'The propeller on it.',
    },
    esc: {
      shape: 'part',
      parts: ['esc'],
      description: 'The board that drove it.',
    },
    airframe: {
      shape: 'part',
      parts: ['airframe'],
      description: 'The duct or guard around the rotor; leave it out for a bare rotor.',
    },
    air: AIR,
  },
);
