/** Results under their names, or the reasons why they do not exist. */
import { resultOf } from '../../vocabulary/results.ts';
import type { Assessment, Estimate, NoResult, Result } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { hoverTimeCost } from '../evaluate/nearby.ts';
import { reasonFor } from '../explain/reasons.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';
import type { Price } from '../setup/price-sum.ts';
import { exact } from '../uncertainty/estimate.ts';
import type { NamedMeasure } from './all-results.ts';
import { RESULT_COMPUTATIONS } from './generated/results.ts';
import { OnDemand } from './on-demand.ts';
import type { Measure } from './reading.ts';
import type { Readings } from './readings.ts';

/**
 * Hover time goes nearly as a power of the mass, so what a gram costs goes as time over mass, and so do its errors.
 * (The slope of the slope is left out.)
 */
function gramCostTime(evaluation: Evaluation, results: ReadonlyMap<string, Result>): Estimate | undefined {
  const time = results.get('hover_time')?.estimate;
  const mass = results.get('all_up_weight')?.estimate;
  const value = time && mass && evaluation.craft && hoverTimeCost(evaluation.craft);
  if (value === undefined || !time?.value || !mass) return undefined;
  return {
    value,
    contributions: time.contributions.map(
      (share, i) => value * (share / time.value - (mass.contributions[i] ?? 0) / mass.value),
    ),
  };
}

export function namedResults(
  readings: Readings,
  estimates: ReadonlyMap<Measure, Estimate>,
  evaluation: Evaluation,
  reasons: SetupTemplate['reasons'],
): Pick<Assessment, 'results' | 'missing'> {
  const results = new Map<string, Result>();
  const missing = new Map<string, NoResult>();
  const addResult = (
    { name, label, unit, needs, reason }: Omit<NamedMeasure, 'of'>,
    estimate: Estimate | undefined,
  ) => {
    if (estimate) results.set(name, { name, label, unit, estimate });
    else missing.set(name, { name, label, reason: reason?.(evaluation) ?? reasonFor(needs, evaluation, reasons) });
  };
  for (const measure of readings.results) addResult(measure, estimates.get(measure));
  addResult(
    { ...resultOf('gram_cost_time'), needs: RESULT_COMPUTATIONS.gram_cost_time.needs },
    gramCostTime(evaluation, results),
  );
  return { results, missing };
}

/** It takes no physics, and has no ±. */
export function withPrice<T extends Pick<Assessment, 'results' | 'missing'>>(price: Price, named: T): T {
  const { label } = resultOf('price');
  if ('unknown' in price) return named;
  if ('reason' in price)
    return { ...named, missing: new Map(named.missing).set('price', { name: 'price', label, reason: price.reason }) };
  const { value, currency } = price;
  const result = { name: 'price', label, unit: currency, estimate: exact(value) };
  return { ...named, results: new Map(named.results).set('price', result) };
}

/** The same, each computed when something reads it: of candidates by the thousand few are. */
export function resultsOnDemand(
  { byName, names }: Readings,
  evaluation: Evaluation,
  reasons: SetupTemplate['reasons'],
  estimateOf: (measure: Measure) => Estimate | undefined,
  price: () => Price,
): { readonly results: OnDemand<Result>; readonly missing: OnDemand<NoResult> } {
  const found = new Map<string, Result | NoResult>();
  const of = (name: string): Result | NoResult | undefined => {
    const known = found.get(name);
    if (known) return known;
    const made = name === 'gram_cost_time' ? gramCost() : name === 'price' ? ofPrice() : read(name);
    if (made) found.set(name, made);
    return made;
  };
  const read = (name: string): Result | NoResult | undefined => {
    const measure = byName.get(name);
    if (!measure) return undefined;
    const { label, unit } = measure;
    const estimate = estimateOf(measure);
    return estimate ? { name, label, unit, estimate } : lacking(name, label, measure);
  };
  /** The reason takes searches, and is seldom read. */
  const lacking = (
    name: string,
    label: string,
    { needs, reason }: Pick<NamedMeasure, 'needs' | 'reason'>,
  ): NoResult => ({
    name,
    label,
    get reason() {
      return reason?.(evaluation) ?? reasonFor(needs, evaluation, reasons);
    },
  });
  const gramCost = (): Result | NoResult => {
    const { name, label, unit } = resultOf('gram_cost_time');
    const estimate = gramCostTime(evaluation, results);
    return estimate ? { name, label, unit, estimate } : lacking(name, label, RESULT_COMPUTATIONS.gram_cost_time);
  };
  const ofPrice = (): Result | NoResult | undefined => {
    const { results: own, missing: lacked } = withPrice(price(), { results: new Map(), missing: new Map() });
    return own.get('price') ?? lacked.get('price');
  };
  const results: OnDemand<Result> = new OnDemand(names, (name) => {
    const one = of(name);
    return one && 'estimate' in one ? one : undefined;
  });
  const missing: OnDemand<NoResult> = new OnDemand(names, (name) => {
    const one = of(name);
    return one && !('estimate' in one) ? one : undefined;
  });
  return { results, missing };
}
