/** Numbers over the moments of a log: averages, medians, sums over time, whatever is missing between them. */

/** Averages over any stretch, at once: missing numbers do not count. */
export class Sums {
  readonly #sums: Float64Array;
  readonly #counts: Uint32Array;

  constructor(values: Float64Array) {
    this.#sums = new Float64Array(values.length + 1);
    this.#counts = new Uint32Array(values.length + 1);
    for (const [i, value] of values.entries()) {
      const isNumber = Number.isFinite(value);
      this.#sums[i + 1] = (this.#sums[i] ?? 0) + (isNumber ? value : 0);
      this.#counts[i + 1] = (this.#counts[i] ?? 0) + (isNumber ? 1 : 0);
    }
  }

  /** Of `from` up to but not `to`; NaN where there is none. */
  mean(from: number, to: number): number {
    const [a, b] = [Math.max(0, from), Math.min(this.#sums.length - 1, to)];
    const count = (this.#counts[b] ?? 0) - (this.#counts[a] ?? 0);
    return b > a && count > 0 ? ((this.#sums[b] ?? 0) - (this.#sums[a] ?? 0)) / count : Number.NaN;
  }
}

/** @param share 0.5: the median */
export function quantile(values: Iterable<number>, share: number): number {
  const sorted = Float64Array.from([...values].filter(Number.isFinite)).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

export const median = (values: Iterable<number>): number => quantile(values, 0.5);

export function mean(values: readonly number[]): number {
  const known = values.filter(Number.isFinite);
  return known.length > 0 ? known.reduce((sum, value) => sum + value, 0) / known.length : Number.NaN;
}

/** First moment that is not earlier than a time. */
export function indexAt(times: Float64Array, time: number): number {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) < time) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Over a centred stretch of time, s; each moment counts once. */
export function smoothed(values: Float64Array, times: Float64Array, width: number): Float64Array {
  const sums = new Sums(values);
  let [from, to] = [0, 0];
  return values.map((_, i) => {
    const at = times[i] ?? 0;
    while ((times[from] ?? 0) < at - width / 2) from++;
    while (to < times.length && (times[to] ?? 0) <= at + width / 2) to++;
    return sums.mean(from, to);
  });
}

/** s: a longer step is a gap, over which nothing is known but its two ends. */
export const GAP = 2;

/** Up to each moment: the integral of the straight line between known values. */
export function integrated(values: Float64Array, times: Float64Array): Float64Array {
  const sums = new Float64Array(values.length);
  let [sum, before, at] = [0, Number.NaN, Number.NaN];
  for (let i = 0; i < values.length; i++) {
    const value = values[i] ?? Number.NaN;
    const time = times[i] ?? 0;
    if (Number.isFinite(value)) {
      if (Number.isFinite(before)) sum += ((value + before) / 2) * (time - at);
      [before, at] = [value, time];
    }
    sums[i] = sum;
  }
  return sums;
}
