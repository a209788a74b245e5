/** Figures of one part, or rows about it, that cannot be true together. */

import type { LearntLine } from '../../analysis/assessment.ts';
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import {
  type BenchRow,
  coefficientsOfRow,
  faultOf,
  MOST_THRUST,
  rowsOf,
  unloadedSpeed,
} from '../../analysis/learn/stand-rows.ts';
import { declaredMass } from '../../analysis/setup/mass.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import type { Bench, Build, Part } from '../../model/build.ts';
import { figureOfMerit } from '../../physics/propeller.ts';
import type { Place } from '../../syntax/place.ts';
import { listed, upperFirst } from '../../vocabulary/phrasing.ts';
import type { BuildSubject, Check, Draft, OptionSubject } from '../check.ts';
import { type Claim, relatedTo } from '../shared/claim.ts';
import { boundNumber, exactNumber, formatExact, percent } from '../shared/finding-numbers.ts';
import { motorClaim, powerClaim } from '../shared/motor-claims.ts';
import { likeliestWrong } from '../shared/observations.ts';
import { energyClaim, rateClaim, roundCellClaim } from '../shared/pack-claims.ts';
import { packRating } from '../shared/ratings.ts';
import { THRESHOLDS } from '../thresholds.ts';

const {
  fastest,
  powerLow,
  powerHigh,
  lowestCell,
  leastEnergy,
  mostEnergy,
  usualEnergy,
  roundCellRate,
  leastOfListed,
  fastestRim,
  slowestRim,
  offEstimate,
} = THRESHOLDS.claimsDisagree;

export const claimsDisagree: Check = {
  id: 'claims-disagree',
  build: findDisagreements,
  option: slipsOfDigits,
  folds: [
    'motor-overvoltage',
    'motor-overcurrent',
    'motor-overpower',
    'motor-overspeed',
    'motor-overheat',
    'esc-overcurrent',
    'pack-overcurrent',
    'pack-oversag',
    'cannot-hover',
    'low-thrust',
    'high-hover-duty',
    'pack-heavy',
    'short-flight',
    'rail-undervoltage',
    'regulator-undervoltage',
    'regulator-dropout',
    'lead-overcurrent',
    'lead-drop',
    'plug-overcurrent',
    'pwm-low',
  ],
  page: {
    title: 'A part’s own figures contradict each other',
    cause:
      'A data sheet mixes windings, a prefix is wrong, or a bench counted the magnets wrongly: one of the figures belongs to another part, and what is computed from it is wrong.',
    criterion: `motor: unloaded, on the cells it is rated for, faster than ${fastest} rpm, or its magnets past the stator faster than ${fastestRim} m/s: error; slower than ${slowestRim} m/s where the craft does not lift itself: error. Its declared \`resistance\` or \`no_load_current\` off what is estimated from its size and kv by a factor of ${offEstimate.warning}: warning, of ${offEstimate.error}: error. \`power\` below ${powerLow} or above ${powerHigh} times its burst current times the voltage of the rated cells (3.3 to 4.2 V each). Pack: a full cell at the claimed rate would fall below ${lowestCell.toFixed(1)} V by its declared resistance; it would store less than ${leastEnergy} or more than ${mostEnergy} Wh per kilogram: error; ${usualEnergy.pouch} to ${usualEnergy.round[1]} as lipo (what round cells store), less than ${usualEnergy.round[0]} or more than ${usualEnergy.round[1]} as li-ion: warning. Li-ion with a \`discharge\` above ${roundCellRate.warning}C: warning, above ${roundCellRate.error}C: error. \`dry_mass\` below ${percent(leastOfListed)} of what the parts that state their mass add up to: warning. Bench: a row with a speed above 1.05 × kv × duty × voltage, a thrust coefficient above ${MOST_THRUST}, or less power than momentum theory requires: warning, and it is left out; a row more than three standard deviations off what the fit makes of it without this row: information. Declared coefficients that beat momentum theory: error.`,
    standing: 'Momentum theory for the coefficients; thresholds: ours.',
    remedy: 'Look the figures up again, or measure one. Count the magnets of the motor under test.',
    fixes: [],
    fails: `motor Muddled like M1805 {
  power: 2400 W
}
build Doubted like Healthy {
  motors: 4 x Muddled with P4024x3
}`,
    passes: `motor Clear like M1805 {
  power: 240 W
}
build Believed like Healthy {
  motors: 4 x Clear with P4024x3
}`,
  },
};

/** Figures of which one has a digit too many or too few: whatever that brings is not worth a word. */
function* slipsOfDigits(subject: OptionSubject): Iterable<Draft> {
  const { build, option } = subject;
  yield* build.rotors.flatMap(({ motor, place }) => at(place, motorClaim(motor, subject))).slice(0, 1);
  yield* at(option.place, roundCellClaim(subject) ?? energyClaim(subject));
}

function* findDisagreements({ build }: BuildSubject): Iterable<Draft> {
  const motors = new Map(build.rotors.map((line) => [line.motor, line.place]));
  for (const [motor, place] of motors) yield* at(place, powerClaim(motor));
  const propellers = new Map(build.rotors.map((line) => [line.propeller, line.place]));
  for (const [propeller, place] of propellers) yield* at(place, beatsMomentum(build, propeller));
  for (const option of build.packs)
    yield* at(option.place, rateClaim(option.part, packRating(option, 'discharge')?.limit));
  yield* at(build.dryMass?.place ?? build.place, dryMassClaim(build));
  const impossible = build.benches.flatMap((bench) => impossibleRow(bench) ?? []);
  yield* impossible;
  // A row that cannot be is reason enough for rows to disagree.
  if (impossible.length > 0) return;
  const odd = likeliestWrong({ build });
  // A whole stand is reported with the flights that it contradicts.
  if (odd && !odd.isWhole) yield* at(odd.lines[0].place, oddRow(build, odd.lines[0]));
}

const at = (place: Place, ...claims: readonly (Claim | undefined)[]): Draft[] =>
  claims.flatMap((claim) => (claim ? [{ ...claim, place }] : []));

/** A craft on the scale weighs what its parts weigh, and more. */
function dryMassClaim(build: Build): Claim | undefined {
  const { dryMass } = build;
  const listed = declaredMass(build);
  if (!dryMass || dryMass.value >= leastOfListed * listed) return undefined;
  return {
    severity: 'warning',
    message: `The dry mass is ${formatExact(dryMass.value, 'g')}; the parts that state their mass add up to ${formatExact(listed, 'g')} already. One of the figures has a digit too few or too many.`,
    names: [],
    numbers: [exactNumber('dry_mass', dryMass.value, 'g'), exactNumber('listed', listed, 'g')],
    related: relatedTo(dryMass),
  };
}

/** Declared coefficients that need less power than the air takes. */
function beatsMomentum({ airframe }: Build, propeller: Part<'propeller'>): Claim | undefined {
  const thrust = propeller.declared('thrust_coefficient');
  const power = propeller.declared('power_coefficient');
  const diameter = propeller.figure('diameter');
  if (!thrust || !power || !diameter || power.value <= 0) return undefined;
  // Measured in a duct, a rotor may do √2 better than the open one.
  const bound = airframe?.part.declared('guard_diameter') ? Math.SQRT2 : 1;
  const merit = figureOfMerit({
    diameter: diameter.value,
    thrustCoefficient: thrust.value,
    powerCoefficient: power.value,
  });
  if (merit <= bound) return undefined;
  return {
    severity: 'error',
    message: `With C_T ${formatExact(thrust.value, '1')} and C_P ${formatExact(power.value, '1')} ${propeller.name} would need less power than moving the air takes: ${formatExact(merit, '1')} times what an ideal rotor does. One of the two is wrong.`,
    names: [propeller],
    numbers: [exactNumber('figure_of_merit', merit, '1'), boundNumber('limit', bound, '1')],
    related: relatedTo(thrust, power),
  };
}

/** The row that lies farthest from what its fellows, and everything else, predict. */
function oddRow({ benches }: Build, line: LearntLine): Claim | undefined {
  const { label, value, unit, otherwise, otherwiseDeviation, from } = line;
  if (otherwise === undefined || !benches.some(({ part }) => part.name === from)) return undefined;
  const plusMinus = readingPlusMinus(line, otherwiseDeviation, otherwise);
  return {
    severity: 'information',
    message: `${upperFirst(label)}, ${formatExact(value, unit)}, contradicts the others, which give ${formatMeasurable({ value: otherwise, plusMinus }, unit)}. It or another cell of its row (duty, voltage) was misread, or the rotor was another one.`,
    names: [],
    numbers: [exactNumber('row', value, unit), { name: 'otherwise', value: otherwise, unit, plusMinus }],
    related: [],
  };
}

const placeOfRow = ({ bench, number }: BenchRow): Place => bench.rowPlaces[number - 1] ?? bench.place;

/** The first row that no propeller on this motor can have given; such rows are left out of the coefficients. */
function impossibleRow(bench: Bench): Draft | undefined {
  const { part } = bench;
  const motor = part.part('motor');
  const kv = motor?.declared('kv');
  const diameter = part.part('propeller')?.declared('diameter');
  if (!diameter) return undefined;
  const faulty = rowsOf(bench).flatMap((row) => {
    const coefficients = coefficientsOfRow(row, diameter);
    const fault = coefficients && faultOf(row, coefficients, part.part('airframe') !== undefined);
    return coefficients && fault !== undefined ? [{ row, coefficients, fault }] : [];
  });
  const numbers = faulty.map(({ row: { number } }) => number);
  for (const { row, coefficients, fault } of faulty) {
    const place = placeOfRow(row);
    const found = { severity: 'warning', names: [], place, numbers: [exactNumber('row', row.number, '1')] } as const;
    const head =
      numbers.length > 1
        ? `Rows ${listed(numbers.map(String))} of ${part.name} are left out; the first:`
        : `Row ${row.number} of ${part.name} is left out:`;
    switch (fault) {
      case 'faster than unloaded':
        return {
          ...found,
          message: `${head} it turns ${formatExact(row.speed ?? 0, 'rpm')} under load; unloaded the motor would turn ${formatExact(unloadedSpeed(row) ?? 0, 'rpm')} there. Its speed, its voltage or the kv is not right; or its magnets were miscounted.`,
          related: kv ? relatedTo(kv) : [],
        };
      case 'too much thrust':
        return {
          ...found,
          message: `${head} it makes a thrust coefficient of ${formatExact(coefficients.thrust, '1')}; no propeller reaches ${MOST_THRUST}. Its thrust or its speed is not right: with 12 magnets taken for 14 the speed reads a seventh low.`,
          related: relatedTo(diameter),
        };
      case 'less power than ideal':
        return {
          ...found,
          message: `${head} by its thrust, speed and power the propeller would need less than moving the air takes. One of its figures is not right.`,
          related: relatedTo(diameter),
        };
    }
  }
  return undefined;
}
