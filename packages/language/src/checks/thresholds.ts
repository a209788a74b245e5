/**
 * Every threshold of every check, with its standing: `common practice` of the trade, or `ours` (chosen by us, to be tuned).
 * Shares and ratios have no unit; voltages are volts a cell.
 */
export const THRESHOLDS = {
  // Charged to the brim, V a cell: what a "2S" rating means
  fullCell: { lipo: 4.2, lihv: 4.35, liion: 4.2, standing: 'common practice' },
  motorOvervoltage: {
    // duty limit × full pack voltage over rated cells × full cell voltage
    information: 1.1,
    warning: 1.25,
    error: 1.4,
    standing: 'ours',
  },
  motorOvercurrent: {
    // full duty over the short rating
    warning: 1.15,
    error: 1.5,
    // root mean square of the flight over the continuous rating
    lasting: 1,
    // continuous rating when only an unlabelled maximum is given
    continuousShareOfMaximum: 0.5,
    standing: 'ours',
  },
  escOvercurrent: { warning: 1, error: 1.3, lasting: 0.8, standing: 'ours' },
  packOvercurrent: { burstSag: 0.55, averageRate: 25, standing: 'ours' },
  packOversag: {
    lithiumPolymer: { warning: 3.3, error: 2.8, hoverAtReserve: 3.3 },
    lithiumIon: { warning: 2.8, error: 2.5, hoverAtReserve: 2.9 },
    standing: 'ours',
  },
  railOvercurrent: { shortShare: 1.2, standing: 'ours' },
  lowThrust: { information: 2, warning: 1.6, error: 1.3, standing: 'ours' },
  highHoverDuty: { warning: 0.7, error: 0.85, standing: 'ours' },
} as const;
