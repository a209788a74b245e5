/** Words that all formats share. */
import type { Calibration } from '../../analysis/learn/calibration.ts';
import type { Ends } from '../../analysis/uncertainty/linearity.ts';
import type { Severity } from '../../checks/finding.ts';
import { formatValue } from '../../units/print.ts';

/** "3 informations" is no word. */
export const nameOf = (severity: Severity): string => (severity === 'information' ? 'note' : severity);

export const plural = (count: number, noun: string): string => (count === 1 ? `1 ${noun}` : `${count} ${noun}s`);

/** What every output with a computed number contains once. */
export const CAUTION =
  'Estimates with ± (k = 2). The part maker’s limits and local rules take precedence. Propellers off on the bench; packs burn.';

/** Differences of minutes are seconds; those of temperatures have no zero. */
export function differenceUnit(value: number, unit: string): string {
  if (unit === 'min' && Math.abs(value) < 120) return 's';
  return unit === 'degC' ? 'K' : unit;
}

export const signed = (value: number, text: string): string => (value > 0 ? `+${text}` : text);

/** Where the straight line under a ± is a rough one: what the result would be at either end. */
export function roughWords(ends: Ends | undefined, unit: string): string | undefined {
  if (!ends || ends.straight) return undefined;
  const [low, high] = [Math.min(ends.low, ends.high), Math.max(ends.low, ends.high)];
  return `With all inputs at either end it would be ${formatValue(low, unit)} or ${formatValue(high, unit)}: the ± is a rough one here.`;
}

/** “first flight”, “tower” of Gable */
export const sourceWords = ({ sources }: Calibration): string =>
  sources.map(({ title, build, isOther }) => (isOther ? `“${title}” of ${build}` : `“${title}”`)).join(', ');
