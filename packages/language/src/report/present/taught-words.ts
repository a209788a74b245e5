/** What measurements did to a result, in words. */
import type { LearntLine } from '../../analysis/assessment.ts';
import type { Derivation } from '../../analysis/explain/derivation.ts';
import { COVERAGE } from '../../analysis/uncertainty/estimate.ts';
import { percent, say } from '../../checks/shared/say.ts';
import { formatPlusMinus, formatValue } from '../../units/print.ts';

const MOST_NAMED = 4;

/** Undefined where nothing was measured. @param unit of the result */
export function taughtWords({ taught }: Derivation, unit: string): string | undefined {
  if (!taught) return undefined;
  const before = `Before anything was measured: ${say(taught.before, unit)}`;
  const named = taught.by.slice(0, MOST_NAMED);
  if (named.length === 0) return `${before}. Nothing that was measured says much of it`;
  const by = named.map(({ line, share }) => `${lineWords(line)} (${percent(share)} of its variance, alone)`);
  return `${before}. Learnt from: ${by.join('; ')}`;
}

function lineWords({ label, value, unit, before, beforeDeviation, isPlain }: LearntLine): string {
  const read = `${label} ${formatValue(value, unit)}`;
  if (before === undefined) return read;
  return `${read}, predicted ${formatPlusMinus(before, COVERAGE * beforeDeviation * (isPlain ? 1 : before), unit)}`;
}
