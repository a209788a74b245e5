/** Results under their names, or the reasons why they do not exist. */
import { type ResultId, resultOf } from '../../vocabulary/results.ts';
import type { Estimate, NoResult, Result } from '../assessment.ts';
import { reasonFor } from '../explain/reasons.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';
import type { Readings } from './all-readings.ts';
import { DERIVATIONS, type NamedMeasure } from './all-results.ts';
import { OnDemand } from './on-demand.ts';
import type { Measure } from './reading.ts';
import type { Derivable, Derived } from './result.ts';

type Named = Pick<NamedMeasure, 'name' | 'label' | 'unit'>;

/** @param why it is missing: that takes searches, and is seldom read */
function outcome({ name, label, unit }: Named, found: Derived | undefined, why: () => string) {
  if (found === undefined) {
    const missing: NoResult = {
      name,
      label,
      get reason() {
        return why();
      },
    };
    return missing;
  }
  if ('estimate' in found) return { name, label, unit, ...found } satisfies Result;
  return 'reason' in found ? ({ name, label, ...found } satisfies NoResult) : undefined;
}

/** Each computed when something reads it: of candidates by the thousand few are. */
export function resultsOnDemand(
  { byName, names }: Readings,
  of: Derivable,
  reasons: SetupTemplate['reasons'],
  estimateOf: (measure: Measure) => Estimate | undefined,
): { readonly results: OnDemand<ResultId, Result>; readonly missing: OnDemand<ResultId, NoResult> } {
  const { evaluation } = of;
  const found = new Map<ResultId, Result | NoResult | undefined>();
  const outcomeOf = (name: ResultId): Result | NoResult | undefined => {
    if (!found.has(name)) found.set(name, derived(name) ?? read(name));
    return found.get(name);
  };
  const read = (name: ResultId): Result | NoResult | undefined => {
    const measure = byName.get(name);
    const estimate = measure && estimateOf(measure);
    return (
      measure &&
      outcome(
        measure,
        estimate && { estimate },
        () => measure.reason?.(evaluation) ?? reasonFor(measure.needs, evaluation, reasons),
      )
    );
  };
  const derived = (name: ResultId): Result | NoResult | undefined => {
    const derivation = DERIVATIONS.get(name);
    return (
      derivation &&
      outcome(resultOf(name), derivation.derive(results, of), () => reasonFor(derivation.needs, evaluation, reasons))
    );
  };
  const results: OnDemand<ResultId, Result> = new OnDemand(names, (name) => {
    const one = outcomeOf(name);
    return one && 'estimate' in one ? one : undefined;
  });
  const missing: OnDemand<ResultId, NoResult> = new OnDemand(names, (name) => {
    const one = outcomeOf(name);
    return one && !('estimate' in one) ? one : undefined;
  });
  return { results, missing };
}
