/** By how much results differ between two versions, and whether their ± can explain it. */
import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { expanded, type Measurable, measurable } from '../../analysis/uncertainty/estimate.ts';
import type { Figure } from '../../model/build.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { RESULT_NAMES, type ResultId } from '../../vocabulary/results.ts';

export interface ResultChange {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly before?: Measurable;
  readonly after?: Measurable;
  /** After less before; only where both exist. */
  readonly difference?: Measurable;
  /** More than the ± of the difference can explain and than anyone can read off, or there on one side only. */
  readonly beyond: boolean;
  /** Why there is none any more. */
  readonly reason?: string;
}

/** Relative; rounding of the computation, far below any ±. */
const ROUNDING = 1e-9;
/** Relative; smaller differences are certain at times (a camera's milliwatts), and never worth a reviewer's minute. */
const READABLE = 1e-3;

/** Every result that differs at all, in the order of the result table. */
export function resultChanges(before: Assessment, after: Assessment, toNew: (id: string) => string): ResultChange[] {
  const names = [...new Set([...before.results.keys(), ...after.results.keys()])];
  const of = sharing(before, after, toNew);
  return names.flatMap((name) => resultChange(name, before, after, of) ?? []).sort(byTable);
}

/** Of its value: a ± that doubled, and is wider than that, means that less is known. Ours. */
const WIDE = 0.1;
const MUCH = 2;

/** ± as a share of the value. */
export interface Widened {
  readonly name: string;
  readonly label: string;
  readonly before: number;
  readonly after: number;
}

/** Results of those named whose ± got much wider, as shares of the value. */
export function widenedAmong(names: readonly ResultId[], before: Assessment, after: Assessment): Widened[] {
  return names.flatMap((name) => {
    const [old, now] = [before.results.get(name), after.results.get(name)];
    if (!old || !now || old.estimate.value === 0 || now.estimate.value === 0) return [];
    const [was, is] = [widthOf(old.estimate), widthOf(now.estimate)];
    return is > WIDE && is >= MUCH * was ? [{ name, label: now.label, before: was, after: is }] : [];
  });
}

/** Its ± as a share of it. */
const widthOf = (estimate: Estimate): number => expanded(estimate) / Math.abs(estimate.value);

type Difference = (of: Estimate, from: Estimate) => Measurable;

function resultChange(
  name: ResultId,
  before: Assessment,
  after: Assessment,
  differenceOf: Difference,
): ResultChange | undefined {
  const old = before.results.get(name);
  const now = after.results.get(name);
  const { label, unit } = now ?? old ?? { label: name, unit: '' };
  if (!old || !now) {
    const reason = now ? undefined : after.missing.get(name)?.reason;
    return {
      name,
      label,
      unit,
      ...(old && { before: measurable(old.estimate) }),
      ...(now && { after: measurable(now.estimate) }),
      beyond: true,
      ...(reason !== undefined && { reason }),
    };
  }
  const difference = differenceOf(now.estimate, old.estimate);
  const size = Math.max(Math.abs(old.estimate.value), Math.abs(now.estimate.value));
  if (Math.abs(difference.value) <= ROUNDING * size) return undefined;
  return {
    name,
    label,
    unit,
    before: measurable(old.estimate),
    after: measurable(now.estimate),
    difference,
    beyond: Math.abs(difference.value) > Math.max(difference.plusMinus, READABLE * size),
  };
}

/**
 * Errors that both versions have in common cancel as far as they act alike: those of figures that read the same, and of estimates and
 * model forms that were made in the same way. A figure that was written anew is another measurement or claim, with an error of its own.
 */
function sharing(before: Assessment, after: Assessment, toNew: (id: string) => string): Difference {
  const positions = new Map(after.inputs.map((input, i) => [input.id, i]));
  const partner = before.inputs.map((input) => {
    const i = positions.get(toNew(input.id));
    const other = i === undefined ? undefined : after.inputs[i];
    return other && hasSameError(input, other) ? i : undefined;
  });
  return (of, from) => {
    const rest = Float64Array.from(of.contributions);
    let variance = 0;
    for (const [i, contribution] of from.contributions.entries()) {
      const shared = partner[i];
      if (shared === undefined) variance += contribution * contribution;
      else rest[shared] = (rest[shared] ?? 0) - contribution;
    }
    for (const contribution of rest) variance += contribution * contribution;
    return { value: of.value - from.value, plusMinus: plusMinusOf(Math.sqrt(variance)) };
  };
}

function hasSameError(one: Figure, other: Figure): boolean {
  if (one.origin !== other.origin) return false;
  if (one.origin === 'estimated' || one.origin === 'default') return one.because === other.because;
  return one.value === other.value && one.standardUncertainty === other.standardUncertainty;
}

const order = new Map<string, number>(RESULT_NAMES.map((name, i) => [name, i]));

/** In the order of the result table; rails come last. */
export const byTable = (one: ResultChange, other: ResultChange): number =>
  (order.get(one.name) ?? order.size) - (order.get(other.name) ?? order.size) || (one.name < other.name ? -1 : 1);
