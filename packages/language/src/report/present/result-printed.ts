/** A result as a report prints it: in its unit, and as wide on both sides where it may be below zero. */
import type { Assessment } from '../../analysis/assessment.ts';
import { PACK_GRAMS_LEFT } from '../../analysis/decide/pack-grams.ts';
import { type PrintedEstimate, printedIn } from '../../analysis/uncertainty/print-estimate.ts';
import type { ResultId } from '../../vocabulary/results.ts';

export function printedOf(name: ResultId, { results }: Assessment): PrintedEstimate | undefined {
  const result = results.get(name);
  return (
    result && {
      ...printedIn(result.unit, result.estimate),
      ...(name === PACK_GRAMS_LEFT && { isSigned: true as const }),
    }
  );
}
