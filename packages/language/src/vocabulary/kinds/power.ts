/** Boards, rails and regulators: what comes between the pack and its users. */
import { CURRENT, FREQUENCY, NONE, VOLTAGE } from '../../units/dimension.ts';
import {
  BOARD_BOLTS,
  block,
  type Described,
  FOR_SECONDS,
  HEAT_RESISTANCE,
  LOSS_RESISTANCE,
  MAX_TEMPERATURE,
  mass,
  OUTER_SIZE,
  PRICE,
} from './common.ts';

const SUPPLY = {
  shape: 'range',
  dimension: VOLTAGE,
  unit: 'V',
  mistaken: { S: 'V', mAh: 'V' },
  plausible: [0.8, 70],
  description: 'Voltage it works from, lowest to highest: `9 V .. 26 V`.',
} as const satisfies Described;

const RATING = {
  shape: 'quantity',
  dimension: CURRENT,
  unit: 'A',
  otherUnits: ['mA'],
  mistaken: { Ah: 'A', mAh: 'mA', C: 'A', W: 'A' },
} as const;

const OWN_DRAW = {
  shape: 'quantity',
  dimension: CURRENT,
  unit: 'mA',
  otherUnits: ['A'],
  mistaken: { mAh: 'mA' },
  plausible: [0, 2000],
  tolerance: { stated: { relative: 0.1 }, measured: { relative: 0.05 }, estimated: { relative: 0.5 } },
  clauses: { at: { shape: 'quantity', dimension: VOLTAGE, unit: 'V' } },
  description: 'What it draws for itself, motors stopped and no load connected.',
} as const satisfies Described;

export const ESC = block('esc', 'A speed controller: a board with one or more channels, often with rails of its own.', {
  channels: {
    shape: 'count',
    dimension: NONE,
    plausible: [0, 12],
    tolerance: { stated: { relative: 0 } },
    estimated: 'As many as the build has motors, shared among its boards.',
    description: 'How many motors it drives; 0 for a flight controller or another board that drives none.',
  },
  cells: {
    shape: 'range',
    dimension: NONE,
    unit: 'S',
    mistaken: { s: 'S', V: 'S', cell: 'S', cells: 'S', P: 'S' },
    plausible: [1, 14],
    description: 'Packs it is made for, by cell count: `2S .. 4S`.',
  },
  supply: SUPPLY,
  continuous: {
    ...RATING,
    plausible: [0.5, 300],
    required: true,
    unlessZero: 'channels',
    description: 'Continuous current of one channel.',
  },
  burst: {
    ...RATING,
    plausible: [0.5, 400],
    clauses: { for: FOR_SECONDS },
    estimated: '1.2 times the continuous rating.',
    tolerance: { stated: { relative: 0 }, estimated: { relative: 0.1 } },
    description: 'Burst current of one channel, for some seconds: `42 A for 8 s`.',
  },
  max: {
    ...RATING,
    plausible: [0.5, 400],
    clauses: { for: FOR_SECONDS },
    description: 'A maximum without a stated time; it counts as the burst rating.',
  },
  resistance: {
    ...LOSS_RESISTANCE,
    shape: 'quantity',
    plausible: [0.2, 200],
    tolerance: { stated: { relative: 0.2 }, measured: { relative: 0.1 }, estimated: { relative: 0.4 } },
    estimated: 'From the continuous rating: 140 mohm divided by the amperes.',
    description: 'Of one channel, both conducting switches in a row.',
  },
  standby_current: {
    ...OWN_DRAW,
    estimated: '20 mA per channel; 100 mA for a board without any.',
    description: 'What the board draws for itself, motors stopped: `120 mA at 8 V`.',
  },
  pwm_frequency: {
    shape: 'quantity',
    dimension: FREQUENCY,
    unit: 'kHz',
    otherUnits: ['Hz'],
    mistaken: { rpm: 'kHz', C: 'kHz' },
    plausible: [8, 200],
    tolerance: { stated: { relative: 0 }, estimated: { relative: 0.5 } },
    estimated: '48 kHz.',
    description: 'Frequency of the pulse-width modulation that drives the motors. A low one heats small motors.',
  },
  thermal_resistance: HEAT_RESISTANCE,
  max_temperature: MAX_TEMPERATURE,
  bolts: BOARD_BOLTS,
  size: OUTER_SIZE,
  mass: mass('board with its wires', [0.2, 500], 0.05, 'From rating and channels, to a factor of 2.'),
  price: PRICE,
});

/** A separate regulator and the rail of a board have the same vocabulary. */
const CONVERTER = {
  type: {
    shape: 'word',
    words: ['buck', 'boost', 'buck_boost', 'linear'],
    estimated: 'A buck, the usual one.',
    description:
      'How it makes its voltage: down (`buck`), up (`boost`), either way (`buck_boost`), or by burning the rest (`linear`).',
  },
  output: {
    shape: 'quantity',
    dimension: VOLTAGE,
    unit: 'V',
    mistaken: { S: 'V', A: 'V', W: 'V' },
    plausible: [0.8, 60],
    required: true,
    tolerance: { stated: { relative: 0.03 }, measured: { relative: 0.01 } },
    description: 'Its output voltage.',
  },
  supply: SUPPLY,
  dropout: {
    shape: 'quantity',
    dimension: VOLTAGE,
    unit: 'V',
    otherUnits: ['mV'],
    plausible: [0, 5],
    tolerance: { stated: { relative: 0.3 }, measured: { relative: 0.1 }, estimated: { relative: 0.6 } },
    estimated: 'By type: 0.5 V for a buck, 0.7 V for a linear one, none for one that steps up.',
    description: 'By how much its input must exceed its output. A buck that lacks it simply follows its input.',
  },
  efficiency: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    plausible: [30, 99],
    tolerance: { stated: { relative: 0.05 }, measured: { relative: 0.02 }, estimated: { relative: 0.08 } },
    estimated: '88 %; a linear one loses in proportion to its voltages.',
    description: 'Power out over power in.',
  },
  continuous: {
    ...RATING,
    plausible: [0.01, 50],
    description: 'Current it delivers for minutes.',
  },
  burst: {
    ...RATING,
    plausible: [0.01, 60],
    clauses: { for: FOR_SECONDS },
    description: 'Current it delivers for a moment: `1.6 A for 2 s`.',
  },
  max: {
    ...RATING,
    plausible: [0.01, 60],
    clauses: { for: FOR_SECONDS },
    description: 'A maximum without a stated time; it counts as the burst rating.',
  },
  standby_current: {
    ...OWN_DRAW,
    estimated: '5 mA.',
  },
  thermal_resistance: HEAT_RESISTANCE,
  max_temperature: MAX_TEMPERATURE,
} as const satisfies Readonly<Record<string, Described>>;

export const RAIL = block('rail', 'One output of a board: the voltage that it supplies to loads, and what feeds it.', {
  from: {
    shape: 'part',
    words: ['pack'],
    parts: ['rail', 'regulator'],
    estimated: 'The pack.',
    description: 'What feeds it: `pack`, or another rail of the same board.',
  },
  ...CONVERTER,
});

export const REGULATOR = block('regulator', 'A voltage regulator of its own, fed in the build by `from`.', {
  ...CONVERTER,
  size: OUTER_SIZE,
  mass: mass('regulator', [0.1, 300], 0.05, '1.5 g, to a factor of 2.'),
  price: PRICE,
});
