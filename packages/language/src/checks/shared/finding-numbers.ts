import type { Estimate } from '../../analysis/assessment.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { formatPlusMinus, formatShare, formatValue } from '../../units/print.ts';
import type { FindingNumber } from '../finding.ts';
import type { Measurable } from '../grade.ts';

/** "8.4 ± 1.1 A" */
export const formatEstimate = (estimate: Estimate, unit: string): string =>
  formatPlusMinus(estimate.value, expanded(estimate), unit);

/** "12 A" */
export const formatExact = (si: number, unit: string): string => formatValue(si, unit);

export const percent = formatShare;

export const number = (name: string, estimate: Estimate, unit: string): FindingNumber => ({
  name,
  value: estimate.value,
  unit,
  plusMinus: expanded(estimate),
});

export const exactNumber = (name: string, si: number, unit: string): FindingNumber => ({ name, value: si, unit });

/** The estimate as a multiple of an exact limit. */
export const relativeTo = (estimate: Estimate, limit: number): Measurable => ({
  value: estimate.value / limit,
  plusMinus: expanded(estimate) / Math.abs(limit),
});

export const measurable = (estimate: Estimate): Measurable => ({
  value: estimate.value,
  plusMinus: expanded(estimate),
});
