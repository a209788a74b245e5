import { CHARGE, FREQUENCY, LENGTH, NONE, TEMPERATURE_POINT } from '../../units/dimension.ts';
import {
  block,
  COPPER_AREA,
  FOR_SECONDS,
  LOSS_RESISTANCE,
  mass,
  OUTER_SIZE,
  PLUG,
  PLUS,
  PRICE,
  RESERVE,
} from './common.ts';

const RATE = {
  shape: 'quantity',
  dimension: FREQUENCY,
  unit: 'C',
  otherUnits: ['A'],
  mistaken: { c: 'C', degC: 'C', mA: 'A', mAh: 'C', Hz: 'C' },
} as const;

export const PACK = block('pack', 'A battery pack.', {
  chemistry: {
    shape: 'word',
    words: ['lipo', 'lihv', 'liion'],
    estimated: 'lipo.',
    description:
      'What the cells are: `lipo` (4.20 V full), `lihv` (4.35 V full) or `liion` (round cells, 4.20 V full).',
  },
  cells: {
    shape: 'cells',
    dimension: NONE,
    unit: 'S',
    mistaken: { s: 'S', V: 'S', cell: 'S', cells: 'S' },
    plausible: [1, 14],
    required: true,
    description: 'Cells in series, and in parallel when there are: `2S`, `3S2P`.',
  },
  capacity: {
    shape: 'quantity',
    dimension: CHARGE,
    unit: 'mAh',
    otherUnits: ['Ah'],
    mistaken: { mA: 'mAh', A: 'Ah', Wh: 'Ah', mah: 'mAh', C: 'mAh' },
    plausible: [20, 30_000],
    required: true,
    tolerance: { stated: { relative: 0.05 }, measured: { relative: 0.02 } },
    description: 'Capacity on the label, of the whole pack.',
  },
  reserve: {
    ...RESERVE,
    estimated: 'What the build or its rules state; else 20 % for lipo and lihv, 12 % for liion.',
    description: 'Charge to land with on this pack, whatever build and rules state: `30 % of capacity`.',
  },
  discharge: {
    ...RATE,
    plausible: [1, 250],
    tolerance: { stated: { relative: 0.3 } },
    estimated: 'Of liion 7C, to a factor of 2; of lipo and lihv not at all.',
    description:
      'Continuous rate on the label, as a multiple of the capacity or in amperes: `75C`, `45 A`. Claims run high.',
  },
  burst: {
    ...RATE,
    plausible: [1, 500],
    tolerance: { stated: { relative: 0.3 } },
    clauses: { for: FOR_SECONDS },
    description: 'Rate for a few seconds, as on the label: `150C for 10 s`.',
  },
  cell_resistance: {
    ...LOSS_RESISTANCE,
    shape: 'quantity',
    plausible: [0.1, 1000],
    tolerance: { stated: { relative: 0.2 }, measured: { relative: 0.1 }, estimated: { relative: 0.5 } },
    clauses: { at: { shape: 'quantity', dimension: TEMPERATURE_POINT, unit: 'degC', plausible: [-20, 60] } },
    estimated: 'From chemistry, capacity and claimed rate, to a factor of 1.6: the charger shows it better.',
    description:
      'Of one cell, fresh and warm. A charger shows cells in parallel as one. State its temperature after it: `at 20 degC`, or `measured "charger, 20 degC"`.',
  },
  temperature: {
    shape: 'quantity',
    dimension: TEMPERATURE_POINT,
    unit: 'degC',
    otherUnits: ['degF'],
    mistaken: { C: 'degC', deg: 'degC', F: 'degF' },
    plausible: [-20, 60],
    tolerance: { stated: { absolute: 3 } },
    estimated: '20 ± 5 degC: packs come out of a pocket.',
    description: 'How warm its cells are at take-off. Cold cells sag.',
  },
  cycles: {
    shape: 'quantity',
    dimension: NONE,
    plausible: [0, 500],
    tolerance: { stated: { absolute: 30 } },
    estimated: 'None: as new.',
    description:
      'Charge cycles it has been through; each hundred makes its resistance half as large again (common practice).',
  },
  lead: {
    shape: 'run',
    dimension: LENGTH,
    unit: 'mm',
    otherUnits: ['cm', 'in'],
    plausible: [5, 1000],
    tolerance: { stated: { relative: 0.1 } },
    clauses: { of: COPPER_AREA },
    estimated: '60 mm, of copper that suits the capacity.',
    description: 'Its lead, cell to plug, one way: `60 mm of 20 AWG`.',
  },
  plug: PLUG,
  plus: PLUS,
  plug_resistance: {
    ...LOSS_RESISTANCE,
    shape: 'quantity',
    plausible: [0.05, 200],
    tolerance: { stated: { relative: 0.2 }, measured: { relative: 0.1 }, estimated: { relative: 0.5 } },
    estimated: 'From the plug, or what is usual at its capacity.',
    description: 'Of the plug and its counterpart, both contacts in a row.',
  },
  size: OUTER_SIZE,
  mass: {
    ...mass('pack with its lead and plug', [0.5, 3000], 0.04),
    estimated: 'From cells and capacity, within a quarter.',
  },
  price: PRICE,
});
