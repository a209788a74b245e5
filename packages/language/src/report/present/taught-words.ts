/** What measurements did to a result, in words. */
import type { Assessment, LearntLine } from '../../analysis/assessment.ts';
import type { Derivation } from '../../analysis/explain/derivation.ts';
import { agedOf, packOverDays } from '../../analysis/learn/ageing.ts';
import type { Calibration } from '../../analysis/learn/calibration.ts';
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import { formatEstimate, formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { percent } from '../../checks/shared/finding-numbers.ts';
import { formatNumber, formatValue } from '../../units/print.ts';

const MOST_NAMED = 4;

/** Undefined where nothing was measured. @param unit of the result */
export function taughtWords({ taught }: Derivation, unit: string): string | undefined {
  if (!taught) return undefined;
  const before = `Before anything was measured: ${formatEstimate(taught.before, unit)}`;
  const named = taught.by.slice(0, MOST_NAMED);
  const by = named.map(({ line, share }) => `${lineWords(line)} (explains ${percent(share)} of its variance alone)`);
  const learnt = by.length === 0 ? 'No measurement narrows it much' : `Learnt from: ${by.join('; ')}`;
  const { forgets } = taught;
  const forgotten =
    forgets.length === 0
      ? ''
      : `. What was measured of ${forgets.join(', ')} does not count here: this build has other parts in ${forgets.length > 1 ? 'their' : 'its'} place`;
  return `${before}. ${learnt}${forgotten}`;
}

function lineWords(line: LearntLine): string {
  const { label, value, unit, before, beforeDeviation } = line;
  const read = `${label} ${formatValue(value, unit)}`;
  if (before === undefined) return read;
  return `${read}, predicted ${formatMeasurable({ value: before, plusMinus: readingPlusMinus(line, beforeDeviation, before) }, unit)}`;
}

/** “first flight”, “tower” of Gable */
const sourceWords = ({ sources }: Calibration): string =>
  sources.map(({ title, build, isOther }) => (isOther ? `“${title}” of ${build}` : `“${title}”`)).join(', ');

/** "calibrated by “north tower, 14 May”", with what a contradiction does to every ±. */
export function calibratedWords(calibration: Calibration): string {
  const calibrated = `calibrated by ${sourceWords(calibration)}`;
  const { contradiction } = calibration;
  return contradiction === undefined ? calibrated : `${calibrated}; ${contradiction}: each ± includes both`;
}

const IN_WORDS = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', year: 'numeric', timeZone: 'UTC' });

/** "aged: 11 to 17 mohm a cell since 12 March 2026"; undefined where dates do not show it, or not surely. */
export function agedWords({ build, option }: Pick<Assessment, 'build' | 'option'>): string | undefined {
  const aged = agedOf(packOverDays(build, option.part));
  if (!aged) return undefined;
  const since = IN_WORDS.format(new Date(`${aged.first.day}T00:00:00Z`));
  return `aged: ${formatNumber(aged.first.resistance * 1e3)} to ${formatValue(aged.last.resistance, 'mohm')} a cell since ${since}`;
}
