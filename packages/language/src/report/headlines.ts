/** The results that a builder asks for first, in that order, with the short words that head a column. */
export const HEADLINES = [
  ['all_up_weight', 'all-up'],
  ['effective_kv', 'effective kV'],
  ['thrust_to_weight', 'thrust-to-weight'],
  ['hover_duty', 'hover duty'],
  ['hover_time', 'hover'],
  ['land_by_hover_voltage', 'land at (cell, in hover)'],
] as const;
