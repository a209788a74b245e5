/** Results under their names, or the reasons why they do not exist. */
import type { Build, PackOption } from '../../model/build.ts';
import { resultOf } from '../../vocabulary/results.ts';
import type { Assessment, Estimate, NoResult, Result } from '../assessment.ts';
import type { Evaluation } from '../evaluate/evaluation.ts';
import { hoverTimeCost } from '../evaluate/nearby.ts';
import { reasonFor } from '../explain/reasons.ts';
import type { SetupTemplate } from '../setup/craft-setup.ts';
import { type Price, priceOf } from '../setup/price-sum.ts';
import { exact } from '../uncertainty/estimate.ts';
import type { NamedMeasure } from './all-results.ts';
import { RESULT_COMPUTATIONS } from './generated/results.ts';
import { OnDemand } from './on-demand.ts';
import type { Measure } from './reading.ts';
import type { Readings } from './readings.ts';

type Named = Pick<Assessment, 'results' | 'missing'>;

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

/** The same without any ±, each computed when it is needed: for candidates, of which few are. */
export function resultsOnDemand(
  { byName }: Readings,
  evaluation: Evaluation,
  reasons: SetupTemplate['reasons'],
  price: () => Price,
): Named {
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
    const value = measure.of(evaluation);
    if (value !== undefined && Number.isFinite(value)) return { name, label, unit, estimate: exact(value) };
    return { name, label, reason: measure.reason?.(evaluation) ?? reasonFor(measure.needs, evaluation, reasons) };
  };
  const gramCost = (): Result | NoResult => {
    const { name, label, unit } = resultOf('gram_cost_time');
    const estimate = gramCostTime(evaluation, results);
    if (estimate) return { name, label, unit, estimate };
    return { name, label, reason: reasonFor(RESULT_COMPUTATIONS.gram_cost_time.needs, evaluation, reasons) };
  };
  const ofPrice = (): Result | NoResult | undefined => {
    const { results: own, missing: lacking } = withPrice(price(), { results: new Map(), missing: new Map() });
    return own.get('price') ?? lacking.get('price');
  };
  const names = [...byName.keys(), 'gram_cost_time', 'price'];
  const results: OnDemand<Result> = new OnDemand(names, (name) => {
    const one = of(name);
    return one && 'estimate' in one ? one : undefined;
  });
  const missing: OnDemand<NoResult> = new OnDemand(names, (name) => {
    const one = of(name);
    return one && 'reason' in one ? one : undefined;
  });
  return { results, missing };
}

const knownPrices = new WeakMap<Build, { readonly option: PackOption; readonly price: Price }>();

/** Of a craft on a pack whose duty limit alone changes. */
export function knownPrice(build: Build, option: PackOption): Price {
  const found = knownPrices.get(build);
  if (found?.option === option) return found.price;
  const price = priceOf(build, option);
  knownPrices.set(build, { option, price });
  return price;
}
