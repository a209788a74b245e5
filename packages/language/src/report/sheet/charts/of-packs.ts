/** The charts of which each pack option of a sheet has one, by what they are about; none where there is nothing to draw. */
import type { Place } from '../../../syntax/place.ts';
import type { Chart } from '../../present/chart.ts';
import type { Markup } from '../../present/markup.ts';
import type { SheetOption } from '../sheet-data.ts';
import { limitsChart } from './limits-chart.ts';
import { packMassChart } from './pack-mass.ts';
import { shakeChart } from './shake.ts';
import { voltageChart } from './voltage.ts';

/** @param toPlace an attribute for what leads to a place */
export type PackChart = (
  option: SheetOption,
  id: string,
  toPlace?: (place: Place) => Markup | undefined,
) => Chart | undefined;

export type PackChartKind = 'land' | 'limit' | 'size' | 'shake';

export const PACK_CHARTS: Readonly<Record<PackChartKind, PackChart>> = {
  land: ({ packWords, flight }, id) => flight && voltageChart(packWords, flight, id),
  limit: ({ packWords, limits }, id, toPlace) =>
    limits.length > 0 ? limitsChart(packWords, limits, id, toPlace) : undefined,
  size: packMassChart,
  shake: ({ packWords, shake }, id) => shake && shakeChart(packWords, shake.curve, shake.passedOn, id),
};
