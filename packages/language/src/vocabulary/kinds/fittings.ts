/** What is on board and what it is mounted on: loads, items, leads, mounts, airframes. */
import { AREA, CURRENT, FREQUENCY, LENGTH, MASS, NONE, POWER, STIFFNESS, VOLTAGE } from '../../units/dimension.ts';
import {
  BOARD_BOLTS,
  block,
  DRAWN,
  FOR_SECONDS,
  LOSS_RESISTANCE,
  MOTOR_BOLTS_CLAUSES,
  mass,
  OUTER_SIZE,
  PLUG,
  PLUG_WORDS,
  PLUS,
  PRICE,
} from './common.ts';

const DRAW = {
  shape: 'quantity',
  dimension: POWER,
  unit: 'W',
  otherUnits: ['mW', 'A', 'mA'],
  mistaken: { mAh: 'mA', Ah: 'A', Wh: 'W' },
} as const;

const CARRIES = {
  shape: 'quantity',
  dimension: CURRENT,
  unit: 'A',
  mistaken: { Ah: 'A', mAh: 'A', C: 'A' },
  plausible: [0.2, 500],
} as const;

export const LOAD = block('load', 'Anything electric that is not a motor: camera, receiver, lamp, sensor.', {
  draw: {
    ...DRAW,
    plausible: [0.001, 200],
    required: true,
    tolerance: { stated: { relative: 0.1 }, measured: { relative: 0.03 }, estimated: { relative: 0.3 } },
    clauses: { at: { shape: 'quantity', dimension: VOLTAGE, unit: 'V' } },
    description: 'What it draws: watts when it regulates itself (cameras do), amperes when it does not.',
  },
  peak: {
    ...DRAW,
    plausible: [0.001, 400],
    tolerance: { stated: { relative: 0.1 }, measured: { relative: 0.05 }, estimated: { relative: 0.3 } },
    clauses: { for: FOR_SECONDS },
    estimated: 'The same as `draw`.',
    description: 'The most it draws for a moment: `2 A for 2 s`.',
  },
  supply: {
    shape: 'range',
    dimension: VOLTAGE,
    unit: 'V',
    mistaken: { S: 'V' },
    plausible: [0.8, 70],
    description: 'Voltage it works from, lowest to highest: `9 V .. 26 V`. Below the lowest it browns out.',
  },
  bolts: BOARD_BOLTS,
  size: OUTER_SIZE,
  mass: mass(
    'load',
    [0.02, 2500],
    0.05,
    'From its size, one gram per cubic centimetre, to a factor of 2; else 2 g per watt, to a factor of 4.',
  ),
  price: PRICE,
});

export const ITEM = block('item', 'Anything that only weighs: a strap, a screw, a filter.', {
  size: OUTER_SIZE,
  mass: mass('item', [0.001, 2500], 0.05, 'From its size, one gram per cubic centimetre, to a factor of 3.'),
  price: PRICE,
});

export const LEAD = block('lead', 'The lead between plug and board.', {
  wire: {
    shape: 'quantity',
    dimension: AREA,
    unit: 'AWG',
    otherUnits: ['mm^2'],
    mistaken: { mm: 'mm^2', m: 'mm^2', A: 'AWG' },
    plausible: [4, 40],
    estimated: '20 AWG.',
    description: 'Copper of one core, by gauge or area: `20 AWG`, `0.5 mm²`.',
  },
  length: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    otherUnits: ['cm', 'in'],
    plausible: [3, 2000],
    tolerance: { stated: { relative: 0.1 }, measured: { relative: 0.02 } },
    estimated: '60 mm.',
    description: 'Plug to board, one way; current goes there and back.',
  },
  plug: PLUG,
  plus: PLUS,
  mass: mass('lead with its plug', [0.02, 200], 0.05, 'From copper and length, with a plug, to a factor of 1.6.'),
  price: PRICE,
});

export const PLUG_TYPE = block(
  'plug',
  'A type of plug that is not built in: what it connects to and what current it is rated for.',
  {
    mates: {
      shape: 'part',
      words: PLUG_WORDS,
      parts: ['plug'],
      estimated: 'Its own other half.',
      description: 'What it connects to: another plug, or a built-in type.',
    },
    continuous: {
      ...CARRIES,
      description: 'Continuous current of its contacts.',
    },
    burst: {
      ...CARRIES,
      clauses: { for: FOR_SECONDS },
      description: 'Burst current, for some seconds: `60 A for 10 s`.',
    },
    resistance: {
      ...LOSS_RESISTANCE,
      shape: 'quantity',
      plausible: [0.02, 200],
      tolerance: { stated: { relative: 0.3 }, measured: { relative: 0.1 } },
      description: 'Of one mated pair, both contacts in a row.',
    },
  },
);

export const MOUNT = block('mount', 'What a camera or a board is mounted on: rubber, foam, a soft plate.', {
  stiffness: {
    shape: 'quantity',
    dimension: STIFFNESS,
    unit: 'N/mm',
    otherUnits: ['N/m'],
    mistaken: { N: 'N/mm', mm: 'N/mm' },
    plausible: [0.005, 1000],
    tolerance: { stated: { relative: 0.2 }, measured: { relative: 0.1 } },
    description: 'Force per millimetre of travel, all its feet together.',
  },
  sag: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    plausible: [0.001, 30],
    tolerance: { stated: { relative: 0.2 } },
    description: 'How far it yields under the mass on it, at rest.',
  },
  frequency: {
    shape: 'quantity',
    dimension: FREQUENCY,
    unit: 'Hz',
    mistaken: { rpm: 'Hz', kHz: 'Hz' },
    plausible: [2, 1000],
    tolerance: { stated: { relative: 0.1 }, measured: { relative: 0.05 } },
    description: 'At which it rings with its load on, from a tap test.',
  },
  damping: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    plausible: [0.5, 100],
    tolerance: { stated: { relative: 0.3 } },
    estimated: '15 ± 5 % for rubber.',
    description: 'Damping over critical damping: how fast it stops ringing.',
  },
  mass: mass('mount', [0.02, 500], 0.05, '1 g, to a factor of 3.'),
  price: PRICE,
});

export const AIRFRAME = block('airframe', 'Frame, ducts and arms.', {
  rotors: {
    shape: 'count',
    dimension: NONE,
    plausible: [1, 16],
    tolerance: { stated: { relative: 0 } },
    description: 'How many motors it takes; a coaxial pair counts as two.',
  },
  wheelbase: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    otherUnits: ['cm', 'in'],
    plausible: [30, 2000],
    tolerance: DRAWN,
    description: 'Motor to motor across the middle.',
  },
  guard_diameter: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    otherUnits: ['in'],
    plausible: [15, 700],
    tolerance: { stated: { relative: 0.005 } },
    description: 'Inner diameter of its ducts or guard rings.',
  },
  bay: {
    shape: 'size',
    dimension: LENGTH,
    unit: 'mm',
    sides: ['length', 'width', 'height'],
    plausible: [3, 600],
    description: 'Room for the pack: length, width and height.',
  },
  bolts: BOARD_BOLTS,
  motor_bolts: {
    shape: 'pattern',
    dimension: LENGTH,
    unit: 'mm',
    plausible: [3, 60],
    clauses: MOTOR_BOLTS_CLAUSES,
    description: 'Holes for a motor: how many, which thread, on which circle or rectangle, as in `3 x M1.4 on 6.6 mm`.',
  },
  arm_thickness: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    plausible: [0.3, 30],
    tolerance: { stated: { relative: 0.03 } },
    description: 'Thickness of the arm under a motor: what a screw passes before it reaches the motor.',
  },
  screw_length: {
    shape: 'quantity',
    dimension: LENGTH,
    unit: 'mm',
    plausible: [1, 60],
    tolerance: { stated: { relative: 0.03 } },
    description: 'Length of the motor screws, under the head.',
  },
  duct_gain: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    // An ideal straight duct gives 2^(1/3), 26 % (momentum theory).
    plausible: [-40, 26],
    tolerance: { stated: { absolute: 4 }, measured: { absolute: 3 }, estimated: { absolute: 8 } },
    estimated: '1 ± 9 % when it has ducts or guards, none when it is open.',
    description: 'Thrust that its ducts add at equal shaft power; a bare ring takes some away.',
  },
  coaxial: {
    shape: 'share',
    dimension: NONE,
    unit: '%',
    plausible: [50, 100],
    tolerance: { stated: { absolute: 4 }, measured: { absolute: 2 } },
    estimated: '87 ± 5 %, where motors are coaxial.',
    description: 'Thrust of a coaxial pair over that of its two rotors alone at the same speeds.',
  },
  drag_area: {
    shape: 'quantity',
    dimension: AREA,
    unit: 'cm^2',
    otherUnits: ['m^2'],
    mistaken: { cm: 'cm^2', mm: 'cm^2', m: 'cm^2' },
    plausible: [2, 3000],
    tolerance: { stated: { relative: 0.3 }, measured: { relative: 0.15 } },
    description:
      'Drag coefficient times area, tilted as it flies. Without it wind limits are computed only where a leg of a flight needs it, estimated from the mass.',
  },
  mass: mass('airframe with its screws', [0.5, 3000], 0.05, 'From the wheelbase, 31 g at 100 mm, to a factor of 2.'),
  price: PRICE,
});

/** In a build an `item:` may be a mass and a label instead of a part. */
export const ITEM_MASS = { dimension: MASS, unit: 'g', otherUnits: ['kg', 'oz'], plausible: [0.001, 2500] } as const;
