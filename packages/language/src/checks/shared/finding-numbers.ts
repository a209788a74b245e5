import type { Estimate } from '../../analysis/assessment.ts';
import { expanded, type Measurable } from '../../analysis/uncertainty/estimate.ts';
import { formatShare, formatValue } from '../../units/print.ts';
import type { BoundName, FindingNumber } from '../finding.ts';

/** "12 A" */
export const formatExact = (si: number, unit: string): string => formatValue(si, unit);

export const percent = formatShare;

export const number = (name: string, estimate: Estimate, unit: string): FindingNumber => ({
  name,
  value: estimate.value,
  unit,
  plusMinus: expanded(estimate),
});

/** What bounds another number is a `boundNumber`. */
export const exactNumber = <Name extends string>(
  name: Name extends BoundName ? never : Name,
  si: number,
  unit: string,
): FindingNumber => ({ name, value: si, unit });

export const boundNumber = (name: BoundName, si: number, unit: string): FindingNumber => ({
  name,
  isBound: true,
  value: si,
  unit,
});

/** The estimate as a multiple of an exact limit. */
export const relativeTo = (estimate: Estimate, limit: number): Measurable => ({
  value: estimate.value / limit,
  plusMinus: expanded(estimate) / Math.abs(limit),
});
