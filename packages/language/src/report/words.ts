/** Words that all formats share. */
import type { Severity } from '../checks/finding.ts';

/** "3 informations" is no word. */
export const nameOf = (severity: Severity): string => (severity === 'information' ? 'note' : severity);

export const plural = (count: number, noun: string): string => (count === 1 ? `1 ${noun}` : `${count} ${noun}s`);

/** What every output that shows a computed number says once. */
export const CAUTION =
  'Estimates with ± (k = 2). The part maker’s limits and local rules win. Propellers off on the bench; packs burn.';
