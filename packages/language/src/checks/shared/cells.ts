import { cellsInSeries } from '../../analysis/setup/pack-setup.ts';
import type { PackOption, Part } from '../../model/build.ts';
import type { Range } from '../../model/part-values.ts';
import type { RangeName } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';
import { THRESHOLDS } from '../thresholds.ts';

/** Voltage of the full pack at rest, V. */
export function fullPackVoltage(option: PackOption): number | undefined {
  const cells = cellsInSeries(option);
  return cells && cells * restingFullCell(option.part);
}

/** A full cell of the pack's chemistry at rest, V. */
export function restingFullCell(pack: Part<'pack'>): number {
  switch (pack.word('chemistry')) {
    case 'lihv':
      return THRESHOLDS.fullCell.lihv;
    case 'liion':
      return THRESHOLDS.fullCell.liion;
    default:
      return THRESHOLDS.fullCell.lipo;
  }
}

/** Cells a motor or board is rated for, as a range: `rated: 2S`, `rated: 3S .. 4S`. */
export const ratedCells = <Kind extends BlockKind>(part: Part<Kind>, property: RangeName<Kind>): Range | undefined => {
  const range = part.range(property);
  return range?.unit === 'S' ? range : undefined;
};

export const cellRange = ({ low, high }: Range): string => (low === high ? `${low}S` : `${low}S to ${high}S`);
