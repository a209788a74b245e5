/** The results that builders look for first, in that order, with the short words that head a column. */
export const HEADLINES = [
  ['all_up_weight', 'all-up'],
  ['effective_kv', 'effective kV'],
  ['thrust_to_weight', 'thrust-to-weight'],
  ['hover_duty', 'hover duty'],
  ['hover_time', 'hover'],
  ['land_by_hover_voltage', 'land at (per cell, in hover)'],
] as const;

/** Those worth a column for these options: without a duty limit the effective kV only repeats the motor's. */
export const headlinesOf = (options: readonly { readonly dutyLimit: number }[]) =>
  options.some(({ dutyLimit }) => dutyLimit < 1) ? HEADLINES : HEADLINES.filter(([name]) => name !== 'effective_kv');
