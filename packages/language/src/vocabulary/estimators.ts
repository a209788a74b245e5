/**
 * What a missing figure is taken to be, with its scatter and standing: one table. Every estimate gives way to a declared figure.
 * Formulas work in SI and read other figures of the same part, so that whoever moves a kv moves the resistance estimated from it.
 */

import { type CoefficientEstimate, estimateCoefficients } from '../physics/propeller-estimate.ts';
import { CURRENT, equal } from '../units/dimension.ts';
import { keysOf, lookup } from '../units/lookup-table.ts';
import { unitNamed } from '../units/parse.ts';
import type { Dimension } from '../units/quantity.ts';
import { plugOf } from './plugs.ts';
import type { CellsName, FigureName, PartName, PropertyName, RangeName, SizeName, WordName } from './properties.ts';
import type { BlockKind, ClauseWord, SideName } from './schema.ts';

/** What is known of a part, declared or estimated; undefined where nothing is. */
export interface KnownFigures {
  /** SI. */
  number(path: FigurePath): number | undefined;
  word(property: WordName): string | undefined;
  /** Of a figure that people write in units of two sorts (`75C` or `45 A`). */
  dimension(property: FigureName): Dimension | undefined;
}

/** A figure; the side of a size (`stator.diameter`), an end of a range (`rated.high`), cells, or a figure of the part that is named (`plug.resistance`). */
type FigurePath =
  | FigureName
  | `${SizeName}.${SideName}`
  | `${RangeName}.${'low' | 'high'}`
  | `${CellsName}.${'series' | 'parallel'}`
  | `${PartName}.${FigureName<'plug'>}`;

/** How well an estimate is founded. */
type Standing = 'common practice' | 'unverified' | 'fit to open data';

/** One standard deviation; the ± that people see is twice as much. */
type Scatter = { readonly relative: number } | { readonly absolute: number };

export interface Estimator {
  /** Without these there is no estimate; it may read further ones where they are known. */
  readonly needs: readonly FigurePath[];
  /** SI; undefined when something it needs is missing. */
  value(known: KnownFigures): number | undefined;
  /** Of the formula itself, everything it reads being exact. `absolute` is in SI. */
  scatter(known: KnownFigures): Scatter;
  readonly standing: Standing;
  /** One sentence. */
  readonly because: string;
  /** The next best, for when something this one needs is missing. */
  readonly otherwise?: Estimator;
}

type Needed<Names extends readonly FigurePath[]> = { readonly [Index in keyof Names]: number };

interface Description<Names extends readonly FigurePath[]> {
  readonly needs: Names;
  readonly formula: (needed: Needed<Names>, known: KnownFigures) => number;
  readonly scatter: Scatter | ((known: KnownFigures) => Scatter);
  readonly standing: Standing;
  readonly because: string;
}

const areKnown = <Names extends readonly FigurePath[]>(
  values: readonly (number | undefined)[],
): values is Needed<Names> & readonly number[] => values.every((value) => value !== undefined);

function estimator<const Names extends readonly FigurePath[]>(
  { needs, formula, scatter, standing, because }: Description<Names>,
  otherwise?: Estimator,
): Estimator {
  return {
    needs,
    value: (known) => {
      const needed = needs.map((path) => known.number(path));
      if (!areKnown<Names>(needed)) return undefined;
      const value = formula(needed, known);
      return Number.isFinite(value) ? value : undefined;
    },
    scatter: (known) => (typeof scatter === 'function' ? scatter(known) : scatter),
    standing,
    because,
    ...(otherwise ? { otherwise } : {}),
  };
}

/** The same whatever else is known. */
function constant(value: number, scatter: Scatter, standing: Standing, because: string): Estimator {
  return estimator({ needs: [], formula: () => value, scatter, standing, because });
}

/** A factor between which and its inverse the truth lies (k = 2), as one standard deviation. */
function withinFactor(factor: number): Scatter {
  return { relative: Math.log(factor) / 2 };
}

/** A half-width (k = 2), relative. */
function within(share: number): Scatter {
  return { relative: share / 2 };
}

const MILLIMETRE = 1e-3;
const MICRO = 1e-6;

// ---- Motors ----

/** Stator, in mm. */
interface Stator {
  readonly diameter: number;
  readonly height: number;
}

/** kg for each mm³ of diameter² · height, and kg on top: what motors of 1 to 80 g weigh, wires included. */
const MASS_OF_STATOR = 8.8e-6;
const MASS_BESIDE_STATOR = 0.5e-3;
/** Height over diameter of an ordinary stator. */
const STATOR_ASPECT = 0.35;
/** What either makes uncertain of the other, one standard deviation. */
const MASS_SCATTER = 0.2;

/** Diameter² · height, mm³. The lightest motors are not all wire. */
const volumeOfMass = (mass: number): number => Math.max(mass - MASS_BESIDE_STATOR, mass / 3) / MASS_OF_STATOR;

/** Diameter² · height of the stator, m³, in a motor of a mass in kg. */
export const statorVolumeOfMass = (mass: number): number => volumeOfMass(mass) * MILLIMETRE ** 3;

function statorOfMass(mass: number): Stator {
  const volume = volumeOfMass(mass);
  const diameter = Math.cbrt(volume / STATOR_ASPECT);
  return { diameter, height: STATOR_ASPECT * diameter };
}

/** m, of a motor of that mass in kg. */
export const usualStatorDiameter = (mass: number): number => statorOfMass(mass).diameter * MILLIMETRE;

function statorOfSides(diameter: number, height: number): Stator {
  return { diameter: diameter / MILLIMETRE, height: height / MILLIMETRE };
}

/** The stator whose winding would have that resistance at that kv. */
function statorOfResistance(resistance: number, kv: number): Stator {
  const aspect = STATOR_ASPECT ** RESISTANCE_HEIGHT_EXPONENT;
  const size = 1 / (resistance * kv ** 2 * RESISTANCE_CONSTANT * aspect);
  const diameter = size ** (1 / (RESISTANCE_DIAMETER_EXPONENT + RESISTANCE_HEIGHT_EXPONENT));
  return { diameter, height: STATOR_ASPECT * diameter };
}

function massOfStator({ diameter, height }: Stator): number {
  return MASS_BESIDE_STATOR + MASS_OF_STATOR * diameter ** 2 * height;
}

/**
 * Set on data-sheet figures (unverified) of eight windings from 0802 to 2812, which it meets within 16 %. The exponents are those
 * of geometry: flux goes as diameter · height, copper as diameter² over the length of a turn.
 */
const RESISTANCE_CONSTANT = 1.55e-10;
const RESISTANCE_DIAMETER_EXPONENT = 4.1;
const RESISTANCE_HEIGHT_EXPONENT = 1.05;

/** Line to line at 20 °C, ohm; kv in rad/s per V. */
function windingResistance({ diameter, height }: Stator, kv: number): number {
  const size = diameter ** RESISTANCE_DIAMETER_EXPONENT * height ** RESISTANCE_HEIGHT_EXPONENT;
  return 1 / (kv ** 2 * RESISTANCE_CONSTANT * size);
}

/** Line to line, H: both grow with the square of the turns, so the stator's volume decides. */
function windingInductance({ diameter, height }: Stator, kv: number): number {
  return 2300 / (kv ** 2 * diameter ** 2 * height);
}

/** W for each kg and rad/s: 0.018 W per gram and 1000 rpm. */
const IDLE_LOSS = 0.172;
/** Data-sheet figures are taken at about this voltage, or at the rated one where that is higher. */
export const IDLE_PAGE_VOLTAGE = 10;
/** V, of any chemistry. */
export const NOMINAL_CELL = 3.7;

/** At the rated voltage where one is known; half of the loss torque is the same at all speeds, the other half grows with it. */
function noLoadCurrent(mass: number, kv: number, known: KnownFigures): number {
  const rated = (known.number('rated.high') ?? 0) * NOMINAL_CELL;
  return IDLE_LOSS * mass * kv * (0.5 + 0.5 * Math.max(1, rated / IDLE_PAGE_VOLTAGE));
}

/**
 * Windings of one size and kv differ by this factor either way (k = 2), in resistance and inductance alike: a maker who needs more
 * turns for a kv gets more of both. Compared with measured pairs, see `physics/motor.ts`.
 */
const WINDING_FACTOR = 2;
/** What is left to the inductance of a winding whose resistance gives its turns. */
const INDUCTANCE_FACTOR = 1.3;

/**
 * Inductance follows resistance where that is known or estimated, for both go with the square of the turns; within reason, since
 * a resistance may have thin wires in it.
 */
function inductanceBeside(stator: Stator, kv: number, known: KnownFigures): number {
  const usual = windingInductance(stator, kv);
  const resistance = known.number('resistance');
  if (resistance === undefined) return usual;
  const turns = resistance / windingResistance(stator, kv);
  return usual * Math.min(WINDING_FACTOR, Math.max(1 / WINDING_FACTOR, turns));
}

const RESISTANCE: Estimator = estimator(
  {
    needs: ['stator.diameter', 'stator.height', 'kv'],
    formula: ([diameter, height, kv]) => windingResistance(statorOfSides(diameter, height), kv),
    scatter: withinFactor(WINDING_FACTOR),
    standing: 'unverified',
    because: 'from stator size and kv: of three motors measured, one showed twice what its size suggests',
  },
  estimator({
    needs: ['mass', 'kv'],
    formula: ([mass, kv]) => windingResistance(statorOfMass(mass), kv),
    // The stator's volume to the power of 1.7, on top of the winding's own scatter.
    scatter: { relative: Math.hypot(Math.log(WINDING_FACTOR) / 2, 1.7 * MASS_SCATTER) },
    standing: 'unverified',
    because: 'from mass and kv, as the stator size is not stated',
  }),
);

const INDUCTANCE: Estimator = estimator(
  {
    needs: ['stator.diameter', 'stator.height', 'kv'],
    formula: ([diameter, height, kv], known) => inductanceBeside(statorOfSides(diameter, height), kv, known),
    scatter: withinFactor(INDUCTANCE_FACTOR),
    standing: 'unverified',
    because: 'from stator size and kv, above or below what is usual as its resistance is',
  },
  estimator(
    {
      needs: ['mass', 'kv'],
      formula: ([mass, kv], known) => inductanceBeside(statorOfMass(mass), kv, known),
      scatter: withinFactor(1.5),
      standing: 'unverified',
      because: 'from mass and kv, as the stator size is not stated',
    },
    estimator({
      needs: ['resistance', 'kv'],
      formula: ([resistance, kv]) => windingInductance(statorOfResistance(resistance, kv), kv),
      scatter: withinFactor(2.2),
      standing: 'unverified',
      because: 'from resistance and kv, as neither stator size nor mass is stated',
    }),
  ),
);

const NO_LOAD_CURRENT: Estimator = estimator(
  {
    needs: ['mass', 'kv'],
    formula: ([mass, kv], known) => noLoadCurrent(mass, kv, known),
    scatter: within(0.5),
    standing: 'unverified',
    because: 'from mass and kv: small motors lose about 0.018 W per gram and 1000 rpm',
  },
  estimator(
    {
      needs: ['stator.diameter', 'stator.height', 'kv'],
      formula: ([diameter, height, kv], known) =>
        noLoadCurrent(massOfStator(statorOfSides(diameter, height)), kv, known),
      scatter: within(0.6),
      standing: 'unverified',
      because: 'from stator size and kv: small motors lose about 0.018 W per gram and 1000 rpm',
    },
    estimator({
      needs: ['resistance', 'kv'],
      formula: ([resistance, kv], known) => noLoadCurrent(massOfStator(statorOfResistance(resistance, kv)), kv, known),
      scatter: within(0.7),
      standing: 'unverified',
      because: 'from resistance and kv, as neither stator size nor mass is stated',
    }),
  ),
);

const FEW_POLES = 12;
const MANY_POLES = 14;
/** m */
const FEW_POLES_UP_TO = 14.5e-3;

const POLES: Estimator = estimator(
  {
    needs: ['stator.diameter'],
    formula: ([diameter]) => (diameter < FEW_POLES_UP_TO ? FEW_POLES : MANY_POLES),
    scatter: { absolute: 0.7 },
    standing: 'common practice',
    because: '12 magnets up to a stator of 14 mm, 14 above',
  },
  estimator(
    {
      needs: ['mass'],
      formula: ([mass]) => (statorOfMass(mass).diameter * MILLIMETRE < FEW_POLES_UP_TO ? FEW_POLES : MANY_POLES),
      scatter: { absolute: 1 },
      standing: 'common practice',
      because: 'from the mass: 12 magnets in small motors, 14 in larger ones',
    },
    constant(MANY_POLES, { absolute: 1 }, 'common practice', '14 magnets, the usual number'),
  ),
);

// ---- Propellers ----

/** Declared pitch or the one usual at the diameter. */
function coefficients(diameter: number, blades: number, known: KnownFigures): CoefficientEstimate {
  const pitch = known.number('pitch');
  return estimateCoefficients({ diameter, blades, ...(pitch === undefined ? {} : { pitch }) });
}

function coefficientsOf(known: KnownFigures): CoefficientEstimate | undefined {
  const diameter = known.number('diameter');
  const blades = known.number('blades');
  return diameter === undefined || blades === undefined ? undefined : coefficients(diameter, blades, known);
}

/** Where nothing is known to narrow it. */
const UNKNOWN_PROPELLER: Scatter = { relative: 0.3 };

/** How the power coefficient follows when the thrust coefficient moves, both as relative changes: slope of the regression. */
function powerFollowsThrust({ correlation, powerUncertainty, thrustUncertainty }: CoefficientEstimate): number {
  return (correlation * powerUncertainty) / thrustUncertainty;
}

const THRUST_COEFFICIENT: Estimator = estimator({
  needs: ['diameter', 'blades'],
  formula: ([diameter, blades], known) => coefficients(diameter, blades, known).thrustCoefficient,
  scatter: (known) => {
    const estimate = coefficientsOf(known);
    return estimate ? { relative: estimate.thrustUncertainty } : UNKNOWN_PROPELLER;
  },
  standing: 'fit to open data',
  because: 'from diameter, pitch and blades: propellers of one label differ by some 20 % (one standard deviation)',
});

/** From the thrust coefficient, declared or estimated, so that a propeller that pulls more also takes more. */
const POWER_COEFFICIENT: Estimator = estimator({
  needs: ['thrust_coefficient', 'diameter', 'blades'],
  formula: ([thrustCoefficient, diameter, blades], known) => {
    const estimate = coefficients(diameter, blades, known);
    const excess = thrustCoefficient / estimate.thrustCoefficient;
    return estimate.powerCoefficient * excess ** powerFollowsThrust(estimate);
  },
  scatter: (known) => {
    const estimate = coefficientsOf(known);
    if (!estimate) return UNKNOWN_PROPELLER;
    return { relative: estimate.powerUncertainty * Math.sqrt(1 - estimate.correlation ** 2) };
  },
  standing: 'fit to open data',
  because: 'from diameter, pitch and blades, and as its thrust coefficient lies above or below the usual one',
});

// ---- Boards, rails and regulators ----

const ESC_RESISTANCE: Estimator = estimator({
  needs: ['continuous'],
  formula: ([continuous]) => 0.14 / continuous,
  scatter: within(0.4),
  standing: 'common practice',
  because: 'from the rating: two switches of a board for 20 A have about 7 mohm together',
});

const ESC_BURST: Estimator = estimator({
  needs: ['continuous'],
  formula: ([continuous]) => 1.2 * continuous,
  scatter: within(0.1),
  standing: 'common practice',
  because: '1.2 times the continuous rating',
});

/** A: a flight controller of its own. */
const IDLE_WITHOUT_CHANNELS = 0.1;

const ESC_STANDBY: Estimator = estimator(
  {
    needs: ['channels'],
    formula: ([channels]) => (channels > 0 ? 0.02 * channels : IDLE_WITHOUT_CHANNELS),
    scatter: within(0.5),
    standing: 'common practice',
    because: '10 to 30 mA per channel, some 100 mA for a flight controller without any',
  },
  constant(0.05, { relative: 0.4 }, 'common practice', '10 to 30 mA per channel, where their number is not stated'),
);

const ESC_PWM_FREQUENCY = constant(48e3, { relative: 0.2 }, 'common practice', '48 kHz, the usual setting');

const DROPOUT: Readonly<Record<string, number>> = lookup({ buck: 0.5, linear: 0.7, boost: 0, buck_boost: 0 });

const REGULATOR_DROPOUT: Estimator = estimator({
  needs: [],
  formula: (_, known) => DROPOUT[known.word('type') ?? 'buck'] ?? 0,
  scatter: (known) => ({ absolute: (DROPOUT[known.word('type') ?? 'buck'] ?? 0) * 0.3 }),
  standing: 'common practice',
  because: '0.3 to 1.1 V for a linear one, about 0.5 V for a buck, none for one that steps up',
});

const REGULATOR_EFFICIENCY = constant(
  0.88,
  { absolute: 0.03 },
  'common practice',
  '82 to 94 % for small switching regulators',
);
const REGULATOR_STANDBY = constant(5e-3, { relative: 0.4 }, 'common practice', 'a few milliamperes');

// ---- Packs and leads ----

const AMPERE_HOUR = unitNamed('Ah').toSI(1);
const ONE_RATE = unitNamed('C').toSI(1);

/** Volts that a lipo cell of 25C to 50C loses at its claimed rate: resistance · capacity · rate. */
const VOLTS_AT_CLAIMED_RATE = 0.48;
/** Claims above this are not matched by lower resistance. */
const HIGHEST_TRUE_RATE = 120;
const LOWEST_CLAIM = 20;
/** Ohm · Ah of a cell for high current, round type. */
const ROUND_CELL = 0.06;
/**
 * Below this capacity, Ah, cells resist more than their claim states, up to the last factor: common practice. A single cell of some 250
 * mAh shows 42 to 50 mohm·Ah with its plug.
 */
const SMALL_CELL = 0.5;
const SMALL_CELL_EXPONENT = 1.1;
const SMALLEST_CELL_FACTOR = 4;

/** Of a claim by rate or by current, in C. */
function claimedRate(known: KnownFigures, capacity: number): number | undefined {
  const claim = known.number('discharge');
  if (claim === undefined) return undefined;
  const dimension = known.dimension('discharge');
  const rate = dimension && equal(dimension, CURRENT) ? claim / capacity : claim;
  return Math.min(HIGHEST_TRUE_RATE, Math.max(LOWEST_CLAIM, rate / ONE_RATE));
}

const USUAL_RATE = 50;

const CELL_RESISTANCE: Estimator = estimator({
  needs: ['capacity'],
  formula: ([capacity], known) => {
    const ofCell = capacity / AMPERE_HOUR / (known.number('cells.parallel') ?? 1);
    if (known.word('chemistry') === 'liion') return ROUND_CELL / ofCell;
    const small = Math.min(SMALLEST_CELL_FACTOR, Math.max(1, SMALL_CELL / ofCell) ** SMALL_CELL_EXPONENT);
    return (VOLTS_AT_CLAIMED_RATE / (claimedRate(known, capacity) ?? USUAL_RATE) / ofCell) * small;
  },
  scatter: (known) => {
    if (known.word('chemistry') === 'liion') return withinFactor(1.6);
    const capacity = known.number('capacity');
    const ofCell = capacity === undefined ? SMALL_CELL : capacity / AMPERE_HOUR / (known.number('cells.parallel') ?? 1);
    return known.number('discharge') !== undefined && ofCell >= SMALL_CELL ? withinFactor(1.6) : withinFactor(2);
  },
  standing: 'fit to open data',
  because: 'from capacity and claimed rate, which is weak evidence: the charger shows the true one',
});

/** What builders take: cells for high current of 18 and 21 mm, 15 to 45 A of 2.5 to 4.5 Ah; those for high energy supply 2C to 3C. */
const ROUND_CELL_RATE = 7;

/** A lipo’s label contains too little for an estimate. */
const DISCHARGE: Estimator = estimator({
  needs: ['capacity'],
  formula: (_, known) => (known.word('chemistry') === 'liion' ? ROUND_CELL_RATE * ONE_RATE : Number.NaN),
  scatter: withinFactor(2),
  standing: 'common practice',
  because: 'from the chemistry: round cells of craft are rated for 3C to 12C; look it up in their data sheet',
});

const PACK_TEMPERATURE = constant(293.15, { absolute: 2.5 }, 'common practice', 'packs come out of a pocket or a bag');

/** kg for each joule of label energy (3.7 V per cell): 7.7 g/Wh with lead and plug; round li-ion cells 4.6 g/Wh. */
const MASS_OF_ENERGY = { pouch: 7.7e-3 / 3600, round: 4.6e-3 / 3600 };

const PACK_MASS: Estimator = estimator({
  needs: ['cells.series', 'capacity'],
  formula: ([series, capacity], known) =>
    series *
    NOMINAL_CELL *
    capacity *
    (known.word('chemistry') === 'liion' ? MASS_OF_ENERGY.round : MASS_OF_ENERGY.pouch),
  scatter: within(0.25),
  standing: 'common practice',
  because: 'from cells and capacity: packs of one label differ by grams between makes; weigh it',
});

const LEAD_LENGTH = constant(0.06, within(0.5), 'common practice', 'short leads of 40 to 90 mm are usual');

/** Copper that suits a capacity, m²: 0.5 mm² (20 AWG) at 450 mAh, 3.3 mm² (12 AWG) at 2200 mAh. */
const LEAD_COPPER: Estimator = estimator({
  needs: ['capacity'],
  formula: ([capacity]) => {
    const area = 0.52 * (capacity / AMPERE_HOUR / 0.45) ** 1.15;
    return Math.min(5.3, Math.max(0.08, area)) * MICRO;
  },
  scatter: withinFactor(1.6),
  standing: 'common practice',
  because: 'from the capacity: 20 AWG on packs of 450 mAh, 12 AWG on packs of 2200 mAh',
});

/** From one plug to the next, within three hundredths of where people change: a step would be a slope of anything where the capacity is moved. */
function between(share: number, before: number, after: number): number {
  const along = Math.min(1, Math.max(0, 0.5 + Math.log(share) / 0.06));
  return before * (after / before) ** along;
}

const PLUG_RESISTANCE: Estimator = estimator({
  needs: ['capacity'],
  formula: ([capacity], known) => {
    const own = known.number('plug.resistance');
    if (own !== undefined) return own;
    const plug = plugOf(known.word('plug'));
    if (plug) return plug.resistance;
    const ampereHours = capacity / AMPERE_HOUR;
    const [small, middle, large] = [12e-3, 2e-3, 0.6e-3];
    return ampereHours < 0.6 ? between(ampereHours / 0.35, small, middle) : between(ampereHours, middle, large);
  },
  scatter: (known) => {
    // Its own ± belongs to the plug.
    if (known.number('plug.resistance') !== undefined) return { relative: 0 };
    return plugOf(known.word('plug')) ? withinFactor(1.5) : withinFactor(3);
  },
  standing: 'common practice',
  because: 'from the plug, or from what is usual at its capacity',
});

const TWENTY_GAUGE = constant(unitNamed('AWG').toSI(20), withinFactor(1.6), 'common practice', '20 AWG');

// ---- Airframes and mounts ----

/** Moulded ducts with a lip 3 ± 8 %, bare rings −3 ± 4 %: without knowing which, both. */
const DUCT_GAIN: Estimator = estimator({
  needs: ['guard_diameter'],
  formula: () => 0.01,
  scatter: { absolute: 0.045 },
  standing: 'common practice',
  because: 'moulded ducts with a lip add 3 ± 8 %, bare guard rings take 3 ± 4 %',
});

const MOUNT_DAMPING = constant(
  0.15,
  { absolute: 0.025 },
  'common practice',
  'rubber damps with 10 to 20 % of the critical value',
);

// ---- Masses ----

/** kg/m³ of a part of which only the outer size is known. */
const USUAL_DENSITY = 1e3;

const massOfSize = (factor: number): Description<readonly ['size.length', 'size.width', 'size.height']> => ({
  needs: ['size.length', 'size.width', 'size.height'],
  formula: ([length, width, height]) => USUAL_DENSITY * length * width * height,
  scatter: withinFactor(factor),
  standing: 'common practice',
  because: 'from its size: about one gram per cubic centimetre; weigh it',
});

const MOTOR_MASS: Estimator = estimator({
  needs: ['stator.diameter', 'stator.height'],
  formula: ([diameter, height]) => massOfStator(statorOfSides(diameter, height)),
  scatter: { relative: MASS_SCATTER },
  standing: 'common practice',
  because: 'from stator size; weigh it',
});

const PROPELLER_MASS: Estimator = estimator({
  needs: ['diameter', 'blades'],
  formula: ([diameter, blades]) => 0.56e-3 * (diameter / 51e-3) ** 2.2 * (blades / 3) ** 0.85,
  scatter: withinFactor(1.5),
  standing: 'common practice',
  because: 'from diameter and blades: 0.56 g at 51 mm and three blades; weigh it',
});

const ESC_MASS: Estimator = estimator(
  {
    needs: ['continuous'],
    formula: ([continuous], known) => 1.5e-3 + 0.09e-3 * continuous * (known.number('channels') ?? 1),
    scatter: withinFactor(2),
    standing: 'common practice',
    because: 'from rating and channels: four channels of 20 A weigh some 9 g, the plate and wires vary; weigh it',
  },
  constant(6e-3, withinFactor(2), 'common practice', 'flight controllers weigh 4 to 10 g; weigh it'),
);

const REGULATOR_MASS = constant(1.5e-3, withinFactor(2), 'common practice', 'small regulators weigh 1 to 2.5 g');

/** V, for a load that is given in amperes. */
const USUAL_SUPPLY = 5;

const LOAD_MASS: Estimator = estimator(
  massOfSize(2),
  estimator({
    needs: ['draw'],
    formula: ([draw], known) => {
      const dimension = known.dimension('draw');
      return 2e-3 * draw * (dimension && equal(dimension, CURRENT) ? USUAL_SUPPLY : 1);
    },
    scatter: withinFactor(4),
    standing: 'common practice',
    because: 'from what it draws: small cameras and lamps weigh 1 to 3 g per watt, others ten times that; weigh it',
  }),
);

const ITEM_MASS = estimator(massOfSize(3));

const COPPER_DENSITY = 8960;

const LEAD_MASS: Estimator = estimator({
  needs: ['wire', 'length'],
  // Both cores with their insulation, and a plug that grows with the copper.
  formula: ([wire, length]) => 1.6 * COPPER_DENSITY * 2 * wire * length + 0.3e-3 + 1e-3 * (wire / MICRO) ** 0.7,
  scatter: withinFactor(1.6),
  standing: 'common practice',
  because: 'from copper and length, with its plug; weigh it',
});

const MOUNT_MASS = constant(
  1e-3,
  withinFactor(3),
  'common practice',
  'soft mounts of small cameras weigh about a gram',
);

const AIRFRAME_MASS: Estimator = estimator({
  needs: ['wheelbase'],
  formula: ([wheelbase]) => 31e-3 * (wheelbase / 0.1) ** 1.6,
  scatter: withinFactor(2),
  standing: 'common practice',
  because: 'from the wheelbase: some 30 g at 100 mm, 110 g at 220 mm, ducts more; weigh it',
});

/** A figure, or what comes after a word behind it: `lead.of`. */
type EstimatedName<Kind extends BlockKind = BlockKind> = FigureName<Kind> | `${PropertyName<Kind>}.${ClauseWord}`;

type Estimates<Kind extends BlockKind = BlockKind> = Readonly<Partial<Record<EstimatedName<Kind>, Estimator>>>;

const ESTIMATORS: { readonly [Kind in BlockKind]?: Estimates<Kind> } = {
  motor: {
    resistance: RESISTANCE,
    inductance: INDUCTANCE,
    no_load_current: NO_LOAD_CURRENT,
    poles: POLES,
    mass: MOTOR_MASS,
  },
  propeller: { thrust_coefficient: THRUST_COEFFICIENT, power_coefficient: POWER_COEFFICIENT, mass: PROPELLER_MASS },
  esc: {
    resistance: ESC_RESISTANCE,
    burst: ESC_BURST,
    standby_current: ESC_STANDBY,
    pwm_frequency: ESC_PWM_FREQUENCY,
    mass: ESC_MASS,
  },
  rail: { dropout: REGULATOR_DROPOUT, efficiency: REGULATOR_EFFICIENCY, standby_current: REGULATOR_STANDBY },
  regulator: {
    dropout: REGULATOR_DROPOUT,
    efficiency: REGULATOR_EFFICIENCY,
    standby_current: REGULATOR_STANDBY,
    mass: REGULATOR_MASS,
  },
  pack: {
    mass: PACK_MASS,
    discharge: DISCHARGE,
    cell_resistance: CELL_RESISTANCE,
    temperature: PACK_TEMPERATURE,
    lead: LEAD_LENGTH,
    'lead.of': LEAD_COPPER,
    plug_resistance: PLUG_RESISTANCE,
  },
  load: { mass: LOAD_MASS },
  item: { mass: ITEM_MASS },
  lead: { wire: TWENTY_GAUGE, length: LEAD_LENGTH, mass: LEAD_MASS },
  airframe: { duct_gain: DUCT_GAIN, mass: AIRFRAME_MASS },
  mount: { damping: MOUNT_DAMPING, mass: MOUNT_MASS },
};

/** How a figure that is not declared is estimated. Undefined when it cannot be determined. */
export function estimateOf(kind: BlockKind, name: EstimatedName): Estimator | undefined {
  const ofKind: Estimates = ESTIMATORS[kind] ?? {};
  return ofKind[name];
}

/** All of them, for the reference pages and the tests. */
export function* allEstimates(): Iterable<{ kind: BlockKind; property: string; estimator: Estimator }> {
  for (const kind of keysOf(ESTIMATORS)) {
    const ofKind: Estimates = ESTIMATORS[kind] ?? {};
    for (const [property, estimator] of Object.entries(ofKind)) yield { kind, property, estimator };
  }
}
