/** Figures of one part, or rows about it, that cannot be true together. */

import type { Assessment, LearntLine } from '../../analysis/assessment.ts';
import {
  type BenchRow,
  coefficientsOfRow,
  faultOf,
  MOST_THRUST,
  rowsOf,
  unloadedSpeed,
} from '../../analysis/learn/stand-rows.ts';
import { declaredMass } from '../../analysis/setup/mass.ts';
import { cellsInSeries, packsInParallel } from '../../analysis/setup/pack-setup.ts';
import { COVERAGE } from '../../analysis/uncertainty/estimate.ts';
import type { Bench, Build, Figure, PackOption, Part } from '../../model/build.ts';
import { figureOfMerit } from '../../physics/propeller.ts';
import type { Place } from '../../syntax/place.ts';
import { formatPlusMinus } from '../../units/print.ts';
import { usualStatorDiameter } from '../../vocabulary/estimators.ts';
import type { BuildSubject, Check, Draft, OptionSubject } from '../check.ts';
import type { Severity } from '../finding.ts';
import { gradeAbove } from '../grade.ts';
import { fullPackVoltage, ratedCells } from '../shared/cells.ts';
import { supplyComparisons } from '../shared/esc-voltage.ts';
import { exactNumber, formatExact, percent } from '../shared/finding-numbers.ts';
import { likeliestWrong } from '../shared/observations.ts';
import { isRound } from '../shared/pack-full-duty.ts';
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

const RPM = (2 * Math.PI) / 60;

/** Figures of which one has a digit too many or too few: whatever that brings is not worth a word. */
function* slipsOfDigits(subject: OptionSubject): Iterable<Draft> {
  const { build, option } = subject;
  yield* build.rotors.flatMap(({ motor, place }) => at(place, motorClaim(motor, subject))).slice(0, 1);
  yield* at(option.place, roundCellClaim(subject) ?? energyClaim(subject));
}

/** A kv that cannot be is reason enough for what is estimated from it to disagree. */
const motorClaim = (motor: Part, subject: OptionSubject): Claim | undefined =>
  speedClaim(motor, subject.option) ??
  slownessClaim(motor, subject) ??
  estimateClaim(motor, 'resistance', 'mohm') ??
  estimateClaim(motor, 'no_load_current', 'A');

/** On the cells it is made for; where it does not state them, on the pack. */
function speedClaim(motor: Part, option: PackOption): Claim | undefined {
  const kv = motor.declared('kv');
  const rated = ratedCells(motor, 'rated');
  const full = fullPackVoltage(option);
  const volts = rated ? rated.high * THRESHOLDS.fullCell.lipo : full && full * option.dutyLimit.value;
  if (!kv || !volts) return undefined;
  const on = rated ? `${rated.high}S` : `the full ${option.name}`;
  const speed = { value: kv.value * volts, plusMinus: COVERAGE * kv.standardUncertainty * volts };
  if (gradeAbove(speed, [{ past: fastest * RPM, severity: 'error' }]) !== 'error') {
    const rim = rimSpeed(motor, kv.value * volts);
    if (rim === undefined || rim < fastestRim) return undefined;
    return {
      severity: 'error',
      message: `On ${on} the magnets of ${motor.name} would pass its stator at ${formatExact(rim, 'm/s')} unloaded; in no motor do they reach ${fastestRim} m/s. Its kv has a digit too many, or belongs to fewer cells.`,
      numbers: [exactNumber('rim_speed', rim, 'm/s'), exactNumber('limit', fastestRim, 'm/s')],
      related: relatedTo(kv),
    };
  }
  return {
    severity: 'error',
    message: `On ${on} ${motor.name} would turn ${formatExact(speed.value, 'rpm')} unloaded; no motor turns ${fastest} rpm. Its kv has a digit too many, or belongs to fewer cells.`,
    numbers: [exactNumber('speed', speed.value, 'rpm'), exactNumber('limit', fastest * RPM, 'rpm')],
    related: relatedTo(kv),
  };
}

/** m/s at the stator's edge: much the same in motors of all sizes, as a smaller one is wound to turn faster. Speed in rad/s. */
function rimSpeed(motor: Part, speed: number): number | undefined {
  const mass = motor.declared('mass');
  const diameter = motor.size('stator')?.named.diameter ?? (mass && usualStatorDiameter(mass.value));
  return diameter && (diameter / 2) * speed;
}

/** Of a craft that does not lift itself: a motor so slow on these cells that no motor is wound that way. */
function slownessClaim(motor: Part, { option, assessment }: OptionSubject): Claim | undefined {
  const lift = assessment.results.get('thrust_to_weight')?.estimate.value;
  if (lift === undefined || lift >= 1) return undefined;
  const kv = motor.declared('kv');
  const rated = (ratedCells(motor, 'rated')?.high ?? 0) * THRESHOLDS.fullCell.lipo;
  const volts = Math.max(rated, fullPackVoltage(option) ?? 0);
  const rim = kv && rimSpeed(motor, kv.value * volts);
  if (!rim || rim > slowestRim) return undefined;
  return {
    severity: 'error',
    message: `At ${formatExact(volts, 'V')} the magnets of ${motor.name} would pass its stator at ${formatExact(rim, 'm/s')} unloaded; in ordinary motors it is 20 m/s and more, and this craft does not lift itself. Its kv has a digit too few, or belongs to more cells.`,
    numbers: [exactNumber('rim_speed', rim, 'm/s'), exactNumber('limit', slowestRim, 'm/s')],
    related: relatedTo(kv),
  };
}

/** What its size and kv suggest, against what it states. */
function estimateClaim(motor: Part, property: 'resistance' | 'no_load_current', unit: string): Claim | undefined {
  const declared = motor.declared(property);
  // Of neither size nor mass nothing is known that could contradict.
  const usual = motor.size('stator') || motor.declared('mass') ? motor.usual(property) : undefined;
  if (!declared || !usual || declared.value <= 0 || usual.value <= 0) return undefined;
  const ratio = declared.value / usual.value;
  const times = { value: Math.max(ratio, 1 / ratio), plusMinus: 0 };
  const severity = gradeAbove(times, [
    { past: offEstimate.warning, severity: 'warning' },
    { past: offEstimate.error, severity: 'error' },
  ]);
  if (!severity) return undefined;
  const words = property === 'resistance' ? 'resistance' : 'no-load current';
  return {
    severity,
    message: `${motor.name} states ${formatExact(declared.value, unit)} of ${words}; by its size and kv it has about ${formatExact(usual.value, unit)}. Its ${words} has a digit too ${ratio > 1 ? 'many' : 'few'}, or its kv or its size belongs to another winding.`,
    numbers: [exactNumber(property, declared.value, unit), exactNumber('estimate', usual.value, unit)],
    related: relatedTo(declared, ...['kv', 'stator'].flatMap((one) => motor.declared(one) ?? [])),
  };
}

/** V of a cell while a motor's power was claimed: near empty under load, and full. */
const CELL = { low: 3.3, high: 4.2 };

type Claim = Omit<Draft, 'place'>;

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
  if (odd) yield* at(odd.place, oddRow(build, odd));
}

const at = (place: Place, ...claims: readonly (Claim | undefined)[]): Draft[] =>
  claims.flatMap((claim) => (claim ? [{ ...claim, place }] : []));

const relatedTo = (...figures: readonly Figure[]) =>
  figures.flatMap(({ label, value, unit, place }) =>
    place ? [{ message: `${label}: ${formatExact(value, unit)}`, place }] : [],
  );

/** Amperes times volts against watts. */
function powerClaim(motor: Part): Claim | undefined {
  const power = motor.declared('power');
  const current = motor.declared('max') ?? motor.declared('burst');
  const rated = motor.range('rated');
  if (!power || !current || !rated) return undefined;
  const least = powerLow * current.value * rated.low * CELL.low;
  const most = powerHigh * current.value * rated.high * CELL.high;
  if (power.value >= least && power.value <= most) return undefined;
  const volts = rated.low === rated.high ? `${rated.high}S` : `${rated.low}S to ${rated.high}S`;
  return {
    severity: 'information',
    message: `${motor.name} is claimed to withstand ${formatExact(current.value, 'A')} and ${formatExact(power.value, 'W')}: on ${volts} the one makes ${formatExact(least / powerLow, 'W')} to ${formatExact(most / powerHigh, 'W')}. One of them is not of this winding.`,
    numbers: [exactNumber('power', power.value, 'W'), exactNumber('current', current.value, 'A')],
    related: relatedTo(power, current),
  };
}

/** What a full cell has left at the rate on the label. */
function rateClaim(pack: Part, current: number | undefined): Claim | undefined {
  const resistance = pack.declared('cell_resistance');
  const rate = pack.declared('discharge');
  const parallel = pack.cells('cells')?.parallel;
  if (!resistance || !rate || current === undefined || !parallel || pack.word('chemistry') === 'liion')
    return undefined;
  const left = THRESHOLDS.fullCell.lipo - (current * resistance.value) / parallel;
  if (left >= lowestCell) return undefined;
  return {
    severity: 'information',
    message: `At the claimed ${formatExact(rate.value, rate.unit)} a cell of ${pack.name} loses ${formatExact(THRESHOLDS.fullCell.lipo - left, 'V')} in its ${formatExact(resistance.value, 'mohm')}: fully charged, it would fall to ${formatExact(left, 'V')}. Either the claimed rate is too high, or the resistance was measured on a cold or worn pack.`,
    numbers: [exactNumber('cell_voltage', left, 'V'), exactNumber('limit', lowestCell, 'V')],
    related: relatedTo(rate, resistance),
  };
}

/** A rate that no round cell supplies. */
function roundCellClaim({ option, assessment }: OptionSubject): Claim | undefined {
  const { part } = option;
  const capacity = part.figure('capacity');
  const rated = packRating(option, 'discharge');
  if (!isRound(option) || !capacity || !rated) return undefined;
  const rate = (rated.limit / capacity.value / packsInParallel(option)) * HOUR;
  const severity = gradeAbove({ value: rate, plusMinus: 0 }, [
    { past: roundCellRate.warning, severity: 'warning' },
    { past: roundCellRate.error, severity: 'error' },
  ]);
  if (!severity) return undefined;
  return {
    severity,
    message: `${part.name} is said to hold li-ion cells and to supply ${formatExact(rated.figure.value, rated.figure.unit)}${rated.figure.unit === 'C' ? '' : ` (${formatExact(rate / HOUR, 'C')})`}; round cells supply ${roundCellRate.warning}C at most, most of them 5C to 10C. Its rate is too high, or its chemistry is lipo.`,
    numbers: [exactNumber('rate', rate / HOUR, 'C'), exactNumber('limit', roundCellRate.warning / HOUR, 'C')],
    related: [...relatedTo(rated.figure), ...chemistryPlace(part)],
    ...aboutThePack(assessment),
  };
}

/** What the label stores for its mass, against what packs of its chemistry store. */
function energyClaim({ build, option, assessment }: OptionSubject): Claim | undefined {
  const { part } = option;
  const capacity = part.declared('capacity');
  const mass = part.declared('mass');
  const cells = part.cells('cells');
  if (!capacity || !mass || !cells || mass.value <= 0) return undefined;
  const perMass = (capacity.value * cells.series * NOMINAL_CELL) / HOUR / mass.value;
  const isOdd = perMass > mostEnergy ? 'more' : perMass < leastEnergy ? 'less' : undefined;
  const found = (severity: Severity, limit: number, message: string): Claim => ({
    severity,
    message,
    numbers: [exactNumber('energy_of_mass', perMass, '1'), exactNumber('limit', limit, '1')],
    related: [...relatedTo(capacity, mass), ...chemistryPlace(part)],
  });
  const stores = `${part.name} would store ${formatExact(perMass, '1')} Wh per kilogram`;
  if (isOdd) {
    return found(
      'error',
      isOdd === 'more' ? mostEnergy : leastEnergy,
      `${stores}; packs store ${leastEnergy} to ${mostEnergy}. Its capacity has a digit too ${isOdd === 'more' ? 'many' : 'few'}, or its mass one too ${isOdd === 'more' ? 'few' : 'many'}.`,
    );
  }
  // Cells that nothing on the craft is made for are told as such: they make the energy odd too.
  if (isPastItsCells(build, option)) return undefined;
  const { pouch, round } = usualEnergy;
  const lookUp = 'look its capacity and mass up again';
  const doubtful = (limit: number, message: string): Claim => ({
    ...found('warning', limit, message),
    ...aboutThePack(assessment),
  });
  if (isRound(option)) {
    if (perMass >= round[0] && perMass <= round[1]) return undefined;
    const limit = perMass < round[0] ? round[0] : round[1];
    const chemistry = perMass < round[0] ? 'Its chemistry is lipo, or' : 'Either';
    return doubtful(
      limit,
      `${stores}; packs of round li-ion cells store ${round[0]} to ${round[1]}. ${chemistry} its capacity or its mass is not right: ${lookUp}.`,
    );
  }
  if (perMass <= pouch || perMass > round[1]) return undefined;
  const declared = part.word('chemistry');
  const computed =
    declared === undefined
      ? 'It is computed as lipo because no chemistry is stated'
      : `It is computed as ${declared} because it says so`;
  return doubtful(
    pouch,
    `${stores}; lipo packs store up to ${pouch}, packs of round li-ion cells ${round[0]} to ${round[1]}. ${computed}: write \`chemistry: liion\` if it holds such cells, else ${lookUp}.`,
  );
}

/** What a wrong chemistry makes wrong goes with it; of the drive it says nothing. */
const aboutThePack = (assessment: Assessment): Pick<Draft, 'alike' | 'cured'> => ({
  alike: [
    'pack-overcurrent',
    'pack-oversag',
    'pack-heavy',
    'cannot-hover',
    'low-thrust',
    'high-hover-duty',
    'short-flight',
    'rail-undervoltage',
    'regulator-undervoltage',
    'regulator-dropout',
  ],
  cured: () => assessment,
});

function isPastItsCells({ escs, rotors }: Build, option: PackOption): boolean {
  const boards = escs.map(({ part }) => part);
  const series = cellsInSeries(option) ?? 0;
  return (
    [...supplyComparisons(boards, option)].some(({ highest, range }) => highest > range.high) ||
    rotors.some(({ motor }) => series > (ratedCells(motor, 'rated')?.high ?? Number.POSITIVE_INFINITY))
  );
}

const chemistryPlace = (pack: Part) => {
  const place = pack.placeOf('chemistry');
  return place ? [{ message: `${pack.name}: chemistry ${pack.word('chemistry')}`, place }] : [];
};

/** V, of any chemistry; s. */
const NOMINAL_CELL = 3.7;
const HOUR = 3600;

/** A craft on the scale weighs what its parts weigh, and more. */
function dryMassClaim(build: Build): Claim | undefined {
  const { dryMass } = build;
  const listed = declaredMass(build);
  if (!dryMass || dryMass.value >= leastOfListed * listed) return undefined;
  return {
    severity: 'warning',
    message: `The dry mass is ${formatExact(dryMass.value, 'g')}; the parts that state their mass add up to ${formatExact(listed, 'g')} already. One of the figures has a digit too few or too many.`,
    numbers: [exactNumber('dry_mass', dryMass.value, 'g'), exactNumber('listed', listed, 'g')],
    related: relatedTo(dryMass),
  };
}

/** Declared coefficients that need less power than the air takes. */
function beatsMomentum({ airframe }: Build, propeller: Part): Claim | undefined {
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
    numbers: [exactNumber('figure_of_merit', merit, '1'), exactNumber('limit', bound, '1')],
    related: relatedTo(thrust, power),
  };
}

/** The row that lies farthest from what its fellows, and everything else, make of it. */
function oddRow(
  { benches }: Build,
  { label, value, unit, otherwise, otherwiseDeviation, from }: LearntLine,
): Claim | undefined {
  if (otherwise === undefined || !benches.some(({ part }) => part.name === from)) return undefined;
  const plusMinus = COVERAGE * otherwiseDeviation * otherwise;
  return {
    severity: 'information',
    message: `${capitalised(label)}, ${formatExact(value, unit)}, contradicts the others, which give ${formatPlusMinus(otherwise, plusMinus, unit)}. It was misread, or the rotor was another one.`,
    numbers: [exactNumber('row', value, unit), { name: 'otherwise', value: otherwise, unit, plusMinus }],
    related: [],
  };
}

const capitalised = (words: string): string => `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;

const placeOfRow = ({ bench, number }: BenchRow): Place => bench.rowPlaces[number - 1] ?? bench.place;

/** The first row that no propeller on this motor can have given; such rows are left out of the coefficients. */
function impossibleRow(bench: Bench): Draft | undefined {
  const { part } = bench;
  const motor = part.part('motor');
  const kv = motor?.declared('kv');
  const diameter = part.part('propeller')?.declared('diameter');
  if (!diameter) return undefined;
  for (const row of rowsOf(bench)) {
    const coefficients = coefficientsOfRow(row, diameter);
    const fault = coefficients && faultOf(row, coefficients, part.part('airframe') !== undefined);
    if (!coefficients || fault === undefined) continue;
    const place = placeOfRow(row);
    const found = { severity: 'warning', place, numbers: [exactNumber('row', row.number, '1')] } as const;
    const head = `Row ${row.number} of ${part.name} is left out:`;
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
