/** Which results people look for first: by where they are shown, in the order there. */
import type { ResultName } from './results.ts';

export const HEADLINES = {
  /** Columns of a check and a review, one row per pack. */
  columns: ['all_up_weight', 'effective_kv', 'thrust_to_weight', 'hover_duty', 'hover_time', 'land_by_hover_voltage'],
  /** Columns of a site's index, one row per craft. */
  site: ['all_up_weight', 'thrust_to_weight', 'hover_time', 'land_by_hover_voltage'],
  /** Columns of a review that touches many builds, one row per build. */
  review: ['all_up_weight', 'hover_time', 'thrust_to_weight'],
  /** In large figures at the top of a sheet, per pack: of the two times the one as flown where that differs from hovering. */
  glance: ['hover_time', 'flight_time', 'thrust_to_weight', 'land_by_hover_voltage', 'all_up_weight'],
  /** First rows of a sheet's results. */
  sheet: ['flight_time', 'hover_time', 'thrust_to_weight', 'land_by_hover_voltage', 'all_up_weight'],
  /** Beyond the columns, rows that a sheet shows without a click. */
  sheetAtOnce: [
    'charge_used',
    'hover_current',
    'full_current',
    'reserve_thrust_to_weight',
    'wind_held',
    'gram_cost_time',
  ],
  /** Rows of a build's hover, above its worst finding and below it. */
  hover: ['hover_time', 'thrust_to_weight', 'land_by_hover_voltage', 'all_up_weight'],
  hoverBelow: ['hover_duty', 'effective_kv'],
  /** Behind a pack's line. */
  inlay: ['all_up_weight', 'thrust_to_weight', 'hover_time'],
  /** What the note on estimates is about. */
  estimates: ['hover_time', 'thrust_to_weight', 'full_current'],
  /** What the measurement that a hover proposes is for: the first that one narrows. */
  measure: ['hover_time', 'thrust_to_weight', 'all_up_weight'],
  /** Before and with the log of a flight. */
  observe: ['hover_power', 'hover_time', 'full_current', 'thrust_to_weight', 'land_by_hover_voltage'],
  /** What a step of each figure changes. */
  sensitivity: ['hover_time', 'thrust_to_weight'],
} as const satisfies Readonly<Record<string, readonly ResultName[]>>;

export type Headline<Use extends keyof typeof HEADLINES> = (typeof HEADLINES)[Use][number];

export const COLUMN_HEADS: Readonly<Record<Headline<'columns'>, string>> = {
  all_up_weight: 'all-up',
  effective_kv: 'effective kV',
  thrust_to_weight: 'thrust-to-weight',
  hover_duty: 'hover duty',
  hover_time: 'hover',
  land_by_hover_voltage: 'land at (per cell, in hover)',
};

/** Below the large figures of a sheet. */
export const GLANCE_LABELS: Readonly<Record<Headline<'glance'>, string>> = {
  hover_time: 'minutes in hover',
  flight_time: 'minutes as flown',
  thrust_to_weight: 'thrust-to-weight',
  land_by_hover_voltage: 'land at, per cell in hover',
  all_up_weight: 'all-up weight',
};

/** In a sentence of the note on estimates. */
export const ESTIMATES_WORDS: Readonly<Record<Headline<'estimates'>, string>> = {
  hover_time: 'minutes',
  thrust_to_weight: 'thrust-to-weight',
  full_current: 'full-duty current',
};

/** Without a duty limit the effective kV only repeats the motor's. */
export const worthShowing = <Name extends ResultName>(
  names: readonly Name[],
  options: readonly { readonly dutyLimit: number }[],
): readonly Name[] =>
  options.some(({ dutyLimit }) => dutyLimit < 1) ? names : names.filter((name) => name !== 'effective_kv');
