/** Words that all formats share. */
import type { Measurable } from '../../analysis/uncertainty/estimate.ts';
import type { Ends } from '../../analysis/uncertainty/linearity.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { formatValue } from '../../units/print.ts';
import type { Severity } from '../../vocabulary/severities.ts';

/** "3 informations" is no word. */
export const severityWord = (severity: Severity): string => (severity === 'information' ? 'note' : severity);

/** `motor M1606` */
export const kindAndName = ({ kind, name }: { readonly kind: string; readonly name: string }): string =>
  `${kind} ${name}`;

/** The same for texts that differ in their numbers only. */
export const withoutNumbers = (text: string): string => text.replace(/(?<!\w)[-−]?\d[\d.,]*/g, '#');

/** What every output with a computed number contains once. */
export const CAUTION =
  'Estimates with ± (k = 2). The part maker’s limits and local rules take precedence. Propellers off on the bench; packs burn.';

/** In a table or a line in which it may be missing. */
export const levelText = (level: Measurable | undefined, unit: string): string =>
  level ? formatMeasurable(level, unit) : '-';

export const signed = (value: number, text: string): string => (value > 0 ? `+${text}` : text);

/** Where the straight line under a ± is a rough one: what the result would be at either end. */
export function roughWords(ends: Ends | undefined, unit: string): string | undefined {
  if (!ends || ends.straight) return undefined;
  const [low, high] = [Math.min(ends.low, ends.high), Math.max(ends.low, ends.high)];
  return `With all inputs at either end it would be ${formatValue(low, unit)} or ${formatValue(high, unit)}: the ± is a rough one here.`;
}
