/** Shared by esc-overvoltage and esc-undervoltage: the pack against the board's supply range, in the terms in which it was given. */

import { assess } from '../../analysis/assess.ts';
import { withCells } from '../../analysis/decide/changed-craft.ts';
import { cellsInSeries } from '../../analysis/setup/pack-setup.ts';
import { packWords } from '../../model/arrangements.ts';
import type { PackOption, Part } from '../../model/build.ts';
import type { Range } from '../../model/part-values.ts';
import type { Draft, OptionSubject } from '../check.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { cellRange, fullPackVoltage } from './cells.ts';
import { formatExact } from './finding-numbers.ts';

export interface SupplyComparison {
  readonly board: Part<'esc'>;
  readonly range: Range;
  /** The pack in the range's own terms: cells or volts. */
  readonly highest: number;
  readonly lowest: number;
  readonly unit: 'S' | 'V';
  readonly packIs: string;
  readonly rangeWords: string;
}

export function* supplyComparisons(boards: readonly Part<'esc'>[], option: PackOption): Iterable<SupplyComparison> {
  const cells = cellsInSeries(option);
  const full = fullPackVoltage(option);
  if (cells === undefined || full === undefined) return;
  for (const board of new Set(boards)) {
    const inCells = board.range('cells');
    const inVolts = board.range('supply');
    if (inCells) {
      const packIs = `${packWords(option)} is ${cells}S`;
      yield {
        board,
        range: inCells,
        highest: cells,
        lowest: cells,
        unit: 'S',
        packIs,
        rangeWords: cellRange(inCells),
      };
    } else if (inVolts) {
      yield {
        board,
        range: inVolts,
        highest: full,
        lowest: cells * emptyCell(option.part),
        unit: 'V',
        packIs: `${packWords(option)} runs from ${formatExact(full, 'V')} full to ${formatExact(cells * emptyCell(option.part), 'V')} empty`,
        rangeWords: `${formatExact(inVolts.low, 'V')} to ${formatExact(inVolts.high, 'V')}`,
      };
    }
  }
}

/** The craft on a pack of as many cells as the board takes; nothing where its range is in volts, or packs are in parallel. */
export function onCells(
  { build, option }: OptionSubject,
  { unit }: SupplyComparison,
  cells: number,
): Pick<Draft, 'cured'> {
  const suitable = unit === 'S' ? withCells(option, cells) : undefined;
  return suitable ? { cured: () => assess(build, suitable) } : {};
}

const emptyCell = (pack: Part<'pack'>): number =>
  pack.word('chemistry') === 'liion'
    ? THRESHOLDS.packOversag.lithiumIon.warning
    : THRESHOLDS.packOversag.lithiumPolymer.warning;
