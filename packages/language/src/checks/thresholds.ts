/**
 * Every threshold of every check, with its standing: `common practice` of the trade, or `ours` (chosen by us, to be tuned).
 * Shares and ratios have no unit; voltages are volts per cell.
 */
export const THRESHOLDS = {
  // share of the ±: of a craft known from its data sheets alone sag is known to some tenths of a volt
  leeway: { sag: 0.25, standing: 'ours' },
  // share of the ± by which the charge that a flight takes is past what there is before that is likely at all
  flightTooLong: { leeway: 0.25, standing: 'ours' },
  // Charged to the brim, V per cell: what a "2S" rating means
  fullCell: { lipo: 4.2, lihv: 4.35, liion: 4.2, standing: 'common practice' },
  motorOvervoltage: {
    // duty limit × full pack voltage over rated cells × full cell voltage
    information: 1.1,
    warning: 1.25,
    error: 1.4,
    standing: 'ours',
  },
  motorOvercurrent: {
    // full duty over the burst rating
    warning: 1.15,
    error: 1.5,
    // root mean square of the flight over the continuous rating
    continuous: 1,
    // continuous rating when only an unlabelled maximum is given
    continuousShareOfMaximum: 0.5,
    standing: 'ours',
  },
  escOvercurrent: { warning: 1, error: 1.3, continuous: 0.8, standing: 'ours' },
  packOvercurrent: {
    burstSag: 0.55,
    averageRate: 25,
    // full duty over the rating for seconds
    warning: 1.15,
    error: 1.5,
    // rating for seconds over the continuous one when only that is stated; common practice, and what labels with both state
    burstOverContinuous: 2,
    standing: 'ours',
  },
  packOversag: {
    // floor: where a cell counts as empty, under load too (common practice; of round cells the cut-off of their data sheets)
    lithiumPolymer: { warning: 3.3, error: 2.8, hoverAtReserve: 3.3, floor: 3 },
    lithiumIon: { warning: 2.8, error: 2.5, hoverAtReserve: 2.9, floor: 2.5 },
    // V below the floor, full duty at the reserve
    farBelowFloor: 0.5,
    standing: 'ours',
  },
  railOvercurrent: { burstShare: 1.2, standing: 'ours' },
  lowThrust: { information: 2, warning: 1.6, error: 1.3, standing: 'ours' },
  // m, and share of what it climbs: a flight that ends higher leaves its way down out
  endsAloft: { height: 10, share: 0.25, standing: 'ours' },
  highHoverDuty: { warning: 0.7, error: 0.85, standing: 'ours' },
  // full-duty power over the burst rating
  motorOverpower: { warning: 1.15, error: 1.5, standing: 'ours' },
  motorOverspeed: {
    // tip speed over the speed of sound: from here on loud, and thrust falls behind
    tipMach: 0.75,
    // full-duty speed over the propeller's declared limit; its pull on the hub grows with the square
    warning: 1,
    error: 1.2,
    standing: 'ours',
  },
  motorOverheat: {
    // °C: a bell that is too hot to touch for a second has a winding of about 100 °C
    winding: 100,
    // K past a declared limit
    errorPast: 20,
    standing: 'common practice',
  },
  // m, on a side of the pattern: holes have play, and patterns are quoted to a tenth of a millimetre
  boltMismatch: { play: 0.3e-3, standing: 'ours' },
  // m: play between a shaft and its bore
  shaftMismatch: { play: 0.15e-3, standing: 'ours' },
  propellerClose: {
    // gap between two discs: share of the diameter, and m
    shareOfDiameter: 0.02,
    gap: 2e-3,
    // m between a blade's tip and its guard
    guardGap: 0.4e-3,
    standing: 'common practice',
  },
  // W of heat in a linear regulator from which on it needs copper to get rid of it
  regulatorOverheat: { linearLoss: 1, standing: 'ours' },
  leadOvercurrent: {
    // average of the flight over the continuous rating
    average: 1,
    // K of a burst without any cooling: silicone withstands 200 °C, solder and shrink tube less
    burstRise: 60,
    standing: 'ours',
  },
  plugOvercurrent: { average: 1, standing: 'ours' },
  // share of the resting voltage lost in the leads in a burst, by cells in series; the last for all above
  leadDrop: { bySeries: [0.06, 0.05, 0.04, 0.03], standing: 'ours' },
  packHeavy: {
    // of the all-up weight; round cells are taken for long flights, which an ideal pack makes longest at two thirds
    fraction: 0.5,
    roundCellFraction: 0.65,
    // what counts as about the best: share of the longest hover
    nearlyBest: 0.97,
    standing: 'ours',
  },
  // scale against ledger: kg, and share of the scale's reading
  massUnexplained: { mass: 1e-3, share: 0.02, standing: 'ours' },
  // standard deviations that one line lies off what was predicted of it before anything was measured: of many some lie two or more off
  estimateGivesWay: { farLine: 3, standing: 'ours' },
  // resistance of a cell over that of an earlier day
  packAged: { times: 2, standing: 'common practice' },
  // ripple loss over hover power
  pwmLow: { share: 0.1, standing: 'ours' },
  mountResonance: {
    transmissibility: 1,
    // speed in a steady descent over hover speed
    descent: 0.8,
    standing: 'ours',
  },
  claimsDisagree: {
    // rpm, unloaded: the smallest motors reach half of it
    fastest: 200_000,
    // m/s of the magnets past the stator, unloaded on a full pack: motors of 1 to 80 g reach 20 to 80
    fastestRim: 130,
    slowestRim: 10,
    // a motor's resistance or no-load current over its estimate, either way: more than three standard deviations
    offEstimate: { warning: 3.5, error: 5 },
    // power over current × voltage of the rated cells: within these, short of the lowest and beyond the highest
    powerLow: 0.6,
    powerHigh: 1.4,
    // V: resting cell less its claimed rate × resistance
    lowestCell: 2,
    // Wh a kilogram of a pack with its leads: an old hard case, and beyond the best cells there are
    leastEnergy: 25,
    mostEnergy: 500,
    // the same by chemistry: the most of pouch packs, and what packs of round cells lie between
    usualEnergy: { pouch: 200, round: [100, 320] },
    // C: of round cells, continuous; no cell on the market is rated for more
    roundCellRate: { warning: 30, error: 60 },
    // dry mass over that of the parts that state theirs
    leastOfListed: 0.8,
    standing: 'ours',
  },
} as const;
