/**
 * Figures that no file states: what the model itself leaves out or takes for granted, each with its ± (k = 2 below), so that
 * results are no better known than the model. An observation may replace them.
 */

import type { Build, Figure, Part, Reading } from '../../model/build.ts';
import { declaredId, partId } from '../../model/identities.ts';
import type { Chemistry } from '../../physics/craft.ts';
import { AREA, NONE, TEMPERATURE_POINT, VOLTAGE } from '../../units/dimension.ts';
import { deviationOf, plusMinusOf } from '../../units/interval.ts';
import type { Dimension } from '../../units/quantity.ts';
import { MODEL_FORM_PREFIX } from './model-form-prefix.ts';

interface Term {
  readonly name: string;
  readonly label: string;
  readonly value: number;
  readonly plusMinus: number;
  readonly dimension?: Dimension;
  readonly unit?: string;
  readonly spread?: Figure['spread'];
  readonly because: string;
}

const term = ({ name, label, value, plusMinus, dimension = NONE, unit = '', spread, because }: Term): Figure => ({
  id: `${MODEL_FORM_PREFIX}${name}`,
  label,
  whose: { sort: 'model' },
  value,
  dimension,
  unit,
  standardUncertainty: deviationOf(plusMinus),
  ...(spread && { spread }),
  origin: 'default',
  because,
  conditions: {},
});

/** What the prediction of full-duty current rests on, weakest first. */
export type FullDutyBasis = 'size' | 'resistance';

const FULL_DUTY_TERMS: Readonly<Record<FullDutyBasis, { readonly plusMinus: number; readonly because: string }>> = {
  // See `physics/motor.ts`: ten measured pairs, predicted from stator size and kv.
  size: {
    plusMinus: 0.4,
    because:
      'ten measured motor and propeller pairs, predicted from stator size and kv, scatter by some 40 % in full-duty current until the resistance is known',
  },
  resistance: {
    plusMinus: 0.15,
    because: 'with the resistance known, predictions of full-duty current scatter by about 15 % (common practice)',
  },
};

/** Factor on currents at full duty. */
export const fullDutyAgreement = (basis: FullDutyBasis): Figure =>
  term({
    name: 'full_duty',
    label: 'agreement of the model with currents at full duty',
    value: 1,
    ...FULL_DUTY_TERMS[basis],
  });

/** Thrust of coaxial rotors over that of the same rotors alone at the same speeds. */
export const STACKED_PAIR = term({
  name: 'coaxial_pair',
  label: 'thrust of a coaxial pair over that of two single rotors',
  value: 0.87,
  plusMinus: 0.05,
  because: 'between the momentum bound of touching discs and what is flown (common practice)',
});

/** Charge at flying rates over the label's. */
export const FLYING_CAPACITY = term({
  name: 'flying_capacity',
  label: 'charge that a pack delivers at flying rates over its label',
  value: 0.95,
  plusMinus: 0.05,
  because: 'labels are measured at low current; at flying rates packs deliver some 5 % less (common practice)',
});

/**
 * On every cell's resting voltage below 90 % charge. Of round cells: the published nickel-cobalt cell of M. Ecker et al. (see
 * `physics/chemistry.ts`) rests up to 0.14 V above the curve, those with silicon in the anode below it.
 */
export const restingVoltageOffset = (chemistry: Chemistry): Figure =>
  chemistry === 'liion' ? ROUND_RESTING_VOLTAGE : POUCH_RESTING_VOLTAGE;

const POUCH_RESTING_VOLTAGE = term({
  name: 'resting_voltage',
  label: 'offset of a resting cell from the typical curve',
  value: 0,
  plusMinus: 0.036,
  dimension: VOLTAGE,
  unit: 'V',
  because: 'resting curves of cells of one chemistry differ by some 0.04 V in one place or another (common practice)',
});

const ROUND_RESTING_VOLTAGE = term({
  name: 'resting_voltage_liion',
  label: 'offset of a resting li-ion cell from the typical curve',
  value: 0,
  plusMinus: 0.12,
  dimension: VOLTAGE,
  unit: 'V',
  because:
    'resting curves of round cells differ by some 0.12 V, by what their electrodes are made of (ours, about what published cells show)',
});

/** On every cell's voltage when it is full. */
export const CHARGED_VOLTAGE = term({
  name: 'charged_voltage',
  label: 'offset of a full cell from its nominal voltage',
  value: 0,
  plusMinus: 0.02,
  dimension: VOLTAGE,
  unit: 'V',
  because: 'chargers stop within 10 to 20 mV of the nominal voltage per cell, 0.5 % (common practice)',
});

/**
 * How much of the typical growth of a cell's resistance away from 60 % charge a cell has. The rows of one pouch cell at 0.5C and 2C (W. Ai et al.,
 * see `physics/chemistry.ts`) lie between 0.85 and 1.35; cells differ more than the rates of one.
 */
export const RESISTANCE_GROWTH = term({
  name: 'resistance_growth',
  label: 'growth of the cells’ resistance towards empty, as a share of the typical growth',
  value: 1,
  plusMinus: 0.6,
  because: 'cells of one chemistry differ in how steeply their resistance grows when nearly empty (ours)',
});

/** Copper is measured cold and works warm. */
export const WINDING_TEMPERATURE = term({
  name: 'winding_temperature',
  label: 'temperature of the windings in flight',
  value: 273.15 + 70,
  plusMinus: 30,
  dimension: TEMPERATURE_POINT,
  unit: 'degC',
  because: 'small motors settle between 40 and 100 °C in flight (common practice)',
});

/** Share of the commutation drop that heats the motor. */
export const COMMUTATION_LOSS_SHARE = term({
  name: 'commutation_loss_share',
  label: 'share of the commutation drop that is lost as heat',
  value: 0.55,
  plusMinus: 0.3,
  spread: 'share',
  because: 'measured motor and propeller pairs with speed give 0.2 to 0.97, about 0.55 on average',
});

/** Induced power over the ideal one. */
export const INDUCED_FACTOR = term({
  name: 'induced_factor',
  label: 'induced power over that of an even inflow',
  value: 1.15,
  plusMinus: 0.1,
  because: '1.1 to 1.25 for rotors in hover and in slow forward flight (J. G. Leishman 2006, sec. 2.8)',
});

/** Factor on the rotors' power in forward flight over that in hover. */
export const LEVEL_FLIGHT = term({
  name: 'level_flight',
  label: 'agreement of the model with power in level flight',
  value: 1,
  plusMinus: 0.08,
  because: 'measured power of two quadcopters from 2 to 10 m/s lies within 5 % of it, with their drag known',
});

/** m² at a mass, kg: what the measured tilts of the quadcopter above leave for its body. */
const DRAG_AREA = { area: 0.035, mass: 3.7 };

/**
 * Of a craft whose airframe states no drag area: area goes as mass to ⅔ for craft of one shape. It has the airframe's own identity, so
 * that the figure that replaces it is the one to measure.
 */
export function estimatedDragArea({ airframe, uri, name }: Build, mass: (read: Reading) => number): Figure {
  const owner = airframe?.part;
  const of = owner ? partId(owner) : declaredId(uri, 'build', name);
  const whose = { sort: 'property', property: 'drag_area' } as const;
  const estimate = (read: Reading) => DRAG_AREA.area * (mass(read) / DRAG_AREA.mass) ** (2 / 3);
  const value = estimate((figure) => figure.value);
  return {
    id: `${of}.drag_area`,
    label: `drag area of ${owner?.name ?? name}`,
    whose: owner ? { ...whose, kind: 'airframe', part: owner.name } : { ...whose, kind: 'build', part: name },
    value,
    dimension: AREA,
    unit: 'cm^2',
    standardUncertainty: 0.35 * value,
    spread: 'log',
    origin: 'estimated',
    recompute: estimate,
    because: 'from the mass: a published quadcopter of 3.7 kg has some 350 cm²; craft differ by a factor of two (ours)',
    conditions: {},
  };
}

/** Solder, wire, screws and tape, as a share of everything else that is not pack. */
export const SMALL_THINGS = term({
  name: 'small_things',
  label: 'small things (solder, wire, screws, tape) over the rest of the dry mass',
  value: 0.02,
  plusMinus: 0.02,
  spread: 'plain',
  because: 'a craft ready to fly weighs up to 4 % more than its listed parts (common practice)',
});

/** Share of the charge to land with, where no rule states it. */
export const reserve = (chemistry: Chemistry): Figure =>
  term({
    name: `reserve_${chemistry}`,
    label: 'reserve',
    value: chemistry === 'liion' ? 0.12 : 0.2,
    plusMinus: 0,
    unit: '%',
    because: '20 % for lipo and lihv, 12 % for liion (common practice)',
  });

/**
 * Stators up to the first volume, diameter² · height in m³ (11 x 8 mm), take more at part duty than an ideal PWM stage with its ripple;
 * it fades to nothing at the second (17 x 7 mm).
 */
const SMALL_STATOR = { volume: 1000e-9, excess: 0.2, plusMinus: 0.3 };
const LARGE_STATOR_VOLUME = 2000e-9;

/** N of thrust per rotor at which the part-duty term is 20 %, and at which it has come down to 3 %. */
const SMALL_ROTOR = { thrust: 0.245, plusMinus: 0.2 };
const LARGE_ROTOR = { thrust: 1.96, plusMinus: 0.03 };
const LARGEST_PART_DUTY_TERM = 0.3;

const PART_DUTY = 'part_duty';
/** Its width depends on the craft, its identity does not. */
export const PART_DUTY_ID = `${MODEL_FORM_PREFIX}${PART_DUTY}`;

/**
 * Factor on the rotors' electrical power at part duty: published tests of small drives take up to half as much again as an
 * ideal PWM stage would, and the excess fades with size (from memory). Straight in logarithms between the anchors.
 * @param thrust of one rotor in hover, N
 * @param statorVolume of one motor, diameter² · height, m³; undefined where nobody knows
 */
export function partDuty(thrust: number, statorVolume = LARGE_STATOR_VOLUME): Figure {
  const smallness = Math.log(LARGE_STATOR_VOLUME / statorVolume) / Math.log(LARGE_STATOR_VOLUME / SMALL_STATOR.volume);
  const small = Math.min(1, Math.max(0, smallness));
  const slope =
    Math.log(LARGE_ROTOR.plusMinus / SMALL_ROTOR.plusMinus) / Math.log(LARGE_ROTOR.thrust / SMALL_ROTOR.thrust);
  const between = SMALL_ROTOR.plusMinus * (thrust / SMALL_ROTOR.thrust) ** slope;
  return term({
    name: PART_DUTY,
    label: 'agreement of the model with power at part duty',
    value: 1 + small * SMALL_STATOR.excess,
    plusMinus: Math.min(
      LARGEST_PART_DUTY_TERM,
      Math.max(LARGE_ROTOR.plusMinus, between, small * SMALL_STATOR.plusMinus),
    ),
    because:
      'small drives at part duty lose more than ideal PWM: up to half more power with stators of 11 x 8 mm and below (unverified); ±20 % at 25 g of thrust per rotor, ±3 % above 200 g',
  });
}

/** Exponents of a propeller's coefficients over its speed. */
export const coefficientExponents = (
  propeller: Part<'propeller'>,
): { readonly thrust: Figure; readonly power: Figure } => ({
  thrust: term({
    name: `thrust_exponent ${partId(propeller)}`,
    label: `exponent of the thrust coefficient of ${propeller.name} over speed`,
    value: 0.05,
    plusMinus: 0.1,
    spread: 'plain',
    because: 'in the open data thrust coefficients rise by some 8 % over a propeller’s range of speeds',
  }),
  power: term({
    name: `power_exponent ${partId(propeller)}`,
    label: `exponent of the power coefficient of ${propeller.name} over speed`,
    value: -0.05,
    plusMinus: 0.1,
    spread: 'plain',
    because: 'in the open data power coefficients fall by some 7 % over a propeller’s range of speeds',
  }),
});

/** One of the independent numbers, each ± 1 (one standard deviation), that a departure of coefficients from a power law is made of. */
export const departureOf = (propeller: Part<'propeller'>, which: 'thrust' | 'power', index: number): Figure =>
  term({
    name: `${which}_departure_${index} ${partId(propeller)}`,
    label: `departure of the ${which} coefficient of ${propeller.name} from a power of speed`,
    value: 0,
    plusMinus: plusMinusOf(1),
    spread: 'plain',
    because: 'rows at several speeds lie about a power law by some 4 % in thrust and 5 % in shaft power (ours)',
  });

/** What the resistances of packs of one sort have in common, where they are estimated: claims run high for all. */
export const PACK_RESISTANCE = term({
  name: 'pack_resistance',
  label: 'resistance of packs over what capacity and claimed rate suggest',
  value: 1,
  plusMinus: 0.4,
  because: 'what one pack resists above its claims, a similar one does as well (ours)',
});
