/** The solved points that results are read from, and what of their pack goes into derivations. */

import type { Figure } from '../../model/build.ts';
import { packCellResistance, packRestingVoltage } from '../../physics/chemistry.ts';
import { type Craft, isImpossible, type OperatingPoint } from '../../physics/craft.ts';
import { middleCharge } from '../../physics/flight.ts';
import type { LoadLevel } from '../../physics/rails.ts';
import { formatNumber, formatValue } from '../../units/print.ts';
import type { Assessment } from '../assessment.ts';
import { cellResistanceOf, coldBy, leadsOf, packsInParallel, reserveOf, wornBy } from '../setup/pack-setup.ts';
import { DIGITS, ofFigure, ofNumber, readingOf, type Terms } from './derivation-terms.ts';
import type { DerivationTerm } from './explanation.ts';

const WHERE = {
  hover: 'in hover with the pack half used',
  hoverAtReserve: 'in hover at the reserve',
  hoverAtLandBy: 'in hover at the charge to land by',
  burst: 'in a burst from the full pack',
  burstAtReserve: 'in a burst at the reserve',
  full: 'at full duty on the full pack',
  fullAtReserve: 'at full duty at the reserve',
} as const;

export type PointName = keyof typeof WHERE;

/** A point that exists, with what belongs to it. */
export interface ExplainedPoint {
  readonly assessment: Assessment;
  readonly which: PointName;
  readonly point: OperatingPoint;
  readonly craft: Craft;
  /** 0 … 1 */
  readonly charge: number;
  readonly isAtReserve: boolean;
  /** What its loads take. */
  readonly level: LoadLevel;
  /** Currents there are multiplied by the model's own term on full duty. */
  readonly isFullDuty: boolean;
  readonly factor: number;
  readonly where: string;
}

export function pointAt(assessment: Assessment, which: PointName): ExplainedPoint | undefined {
  const { craft: solved, setup } = assessment.evaluation;
  const isFull = which === 'full' || which === 'fullAtReserve';
  const point = isFull ? solved?.[which] : solved?.flight?.[which];
  if (!solved || !point || isImpossible(point)) return undefined;
  const { craft, flight } = solved;
  const isBurst = which === 'burst' || which === 'burstAtReserve';
  const isFullDuty = isFull || (isBurst && point.atDutyLimit);
  const charges: Partial<Record<PointName, number>> = {
    hover: middleCharge(craft),
    ...(flight && { hoverAtLandBy: flight.landBy }),
    burst: 1,
    full: 1,
  };
  const charge = charges[which];
  return {
    assessment,
    which,
    point,
    craft,
    charge: charge ?? craft.pack.reserve,
    isAtReserve: charge === undefined,
    level: isFull || isBurst ? 'peak' : 'draw',
    isFullDuty,
    factor: isFullDuty ? setup.fullDutyFactor : 1,
    where: WHERE[which],
  };
}

export const airTerms = ({ craft, assessment: { build } }: ExplainedPoint) => [
  ofNumber('ρ', 'density of the air', craft.air.density, 'kg/m^3'),
  ofFigure('T_air', build.rules.airTemperature),
  ofFigure('h', build.rules.altitude),
  ofFigure('φ', build.rules.humidity),
];

// ---- pack ----

const cellsOf = ({ craft: { pack }, charge }: ExplainedPoint) => ({
  series: pack.cellsInSeries,
  resting: packRestingVoltage(pack, charge) / pack.cellsInSeries,
  resistance: packCellResistance(pack, charge) / pack.cellsInSeries,
});

/** One cell at rest, and what is behind it. */
export function restingTerms(at: ExplainedPoint): Terms {
  return [
    at.isAtReserve
      ? ofFigure('z', reserveOf(at.assessment.build, at.assessment.option))
      : ofNumber('z', `charge ${at.where}`, at.charge, '%'),
    ofNumber('u(z)', `one resting cell at this charge, ${at.craft.pack.chemistry}`, cellsOf(at).resting, 'V'),
  ];
}

export function cellTerms(at: ExplainedPoint): Terms {
  const { option } = at.assessment;
  const { part } = option;
  const { resistance } = cellsOf(at);
  const figure = part.figure('cell_resistance');
  const read = readingOf(at.assessment);
  const sideBySide = (part.cells('cells')?.parallel ?? 1) * packsInParallel(option);
  const worn = wornBy(part)(read);
  const cold = coldBy(part)(read);
  const atCharge = at.craft.pack.positionResistance > 0 ? resistance / at.craft.pack.positionResistance : 1;
  const factors = [
    `r·${formatNumber(atCharge, DIGITS)} at this charge`,
    ...(cold === 1 ? [] : [`·${formatNumber(cold, DIGITS)} at T_pack`]),
    ...(worn === 1 ? [] : [`·${formatNumber(worn, DIGITS)} with age`]),
    ...(sideBySide === 1 ? [] : [` / ${sideBySide} side by side`]),
  ].join('');
  return [
    ...restingTerms(at),
    ofNumber('r(z)', `one cell in series as it is used: ${factors}`, resistance, 'mohm'),
    resistanceTerm(figure),
    ofFigure('T_pack', part.figure('temperature')),
    ofFigure('T_r', figure?.conditions.at),
    ofFigure('cycles', part.figure('cycles')),
  ];
}

/** With what packs have in common: an estimate is printed as a charger would show it. */
function resistanceTerm(figure: Figure | undefined): DerivationTerm | undefined {
  const term = ofFigure('r', figure);
  const shared = figure && cellResistanceOf(figure).shared;
  return term && shared ? { ...term, shared: shared.id } : term;
}

export function leadTerms(at: ExplainedPoint): Terms {
  const { build, option } = at.assessment;
  const read = readingOf(at.assessment);
  const row = leadsOf(build, option).map(
    ({ label, resistance }) => `${formatValue(resistance(read), 'mohm', DIGITS)} ${label}`,
  );
  return [
    ofNumber('S', 'cells in series', at.craft.pack.cellsInSeries, ''),
    ofNumber('r_l', `leads and plugs: ${row.join(' + ')}`, at.craft.pack.leadResistance, 'mohm'),
    ofFigure('r_plug', option.part.figure('plug_resistance')),
  ];
}

/**
 * Of the bus at a point, with the sum that gives it.
 * @param factor on the current, as at full duty
 */
export function busTerm(symbol: string, at: ExplainedPoint, factor = 1): DerivationTerm {
  const { point, craft, where } = at;
  const { series, resting, resistance } = cellsOf(at);
  const lead = craft.pack.leadResistance;
  const current = factor * point.packCurrent;
  const number = (value: number, unit: string) => formatValue(value, unit, DIGITS);
  const behind = `(${series}·${formatNumber(resistance * 1e3, DIGITS)} + ${number(lead, 'mohm')})`;
  return {
    symbol,
    label: `bus voltage ${where}: ${series}·${number(resting, 'V')} − ${number(current, 'A')}·${behind}`,
    value: series * resting - current * (series * resistance + lead),
    unit: 'V',
  };
}
