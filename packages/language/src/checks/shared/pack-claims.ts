/** Figures of a pack that cannot be true together. */

import type { Assessment } from '../../analysis/assessment.ts';
import { cellsInSeries, packsInParallel } from '../../analysis/setup/pack-setup.ts';
import type { Build, PackOption, Part } from '../../model/build.ts';
import { NOMINAL_CELL } from '../../vocabulary/estimators.ts';
import type { Severity } from '../../vocabulary/severities.ts';
import type { Draft, OptionSubject } from '../check.ts';
import { gradeAbove } from '../grade.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { ratedCells } from './cells.ts';
import { type Claim, relatedTo } from './claim.ts';
import { supplyComparisons } from './esc-voltage.ts';
import { boundNumber, exactNumber, formatExact } from './finding-numbers.ts';
import { isRound } from './pack-full-duty.ts';
import { packRating } from './ratings.ts';

const { lowestCell, leastEnergy, mostEnergy, usualEnergy, roundCellRate } = THRESHOLDS.claimsDisagree;

/** What a full cell has left at the rate on the label. */
export function rateClaim(pack: Part<'pack'>, current: number | undefined): Claim | undefined {
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
    names: [pack],
    numbers: [exactNumber('cell_voltage', left, 'V'), boundNumber('limit', lowestCell, 'V')],
    related: relatedTo(rate, resistance),
  };
}

/** A rate that no round cell supplies. */
export function roundCellClaim({ option, assessment }: OptionSubject): Claim | undefined {
  const { part } = option;
  const capacity = part.figure('capacity');
  const rated = packRating(option, 'discharge');
  if (!isRound(option) || !capacity || !rated) return undefined;
  const rate = (rated.limit / capacity.value / packsInParallel(option)) * HOUR;
  const severity = gradeAbove({ value: rate, plusMinus: 0 }, [
    { past: roundCellRate.warning, severity: 'warning' },
    { past: roundCellRate.error, severity: 'error' },
  ]);
  // What is printed on a label has no ±.
  if (!severity || severity === 'undecided') return undefined;
  return {
    severity,
    message: `${part.name} is stated to have li-ion cells and to supply ${formatExact(rated.figure.value, rated.figure.unit)}${rated.figure.unit === 'C' ? '' : ` (${formatExact(rate / HOUR, 'C')})`}; round cells supply ${roundCellRate.warning}C at most, most of them 5C to 10C. Its rate is too high, or its chemistry is lipo.`,
    names: [part],
    numbers: [exactNumber('rate', rate / HOUR, 'C'), boundNumber('limit', roundCellRate.warning / HOUR, 'C')],
    related: [...relatedTo(rated.figure), ...chemistryPlace(part)],
    ...aboutThePack(assessment),
  };
}

/** What the label stores for its mass, against what packs of its chemistry store. */
export function energyClaim({ build, option, assessment }: OptionSubject): Claim | undefined {
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
    names: [part],
    numbers: [exactNumber('energy_of_mass', perMass, '1'), boundNumber('limit', limit, '1')],
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
  // Cells that nothing on the craft is made for are reported as such: they make the energy odd too.
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
      : `It is computed as ${declared}, as it states`;
  return doubtful(
    pouch,
    `${stores}; lipo packs store up to ${pouch}, packs of round li-ion cells ${round[0]} to ${round[1]}. ${computed}: write \`chemistry: liion\` if it has such cells, else ${lookUp}.`,
  );
}

/** What a wrong chemistry makes wrong goes with it; it does not concern the drive. */
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

const chemistryPlace = (pack: Part<'pack'>) => {
  const place = pack.placeOf('chemistry');
  return place ? [{ message: `${pack.name}: chemistry ${pack.word('chemistry')}`, place }] : [];
};

/** s */
const HOUR = 3600;
