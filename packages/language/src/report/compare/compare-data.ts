/** Packs of a build, or builds, side by side: levels, and how each differs from the first. */
import type { Assessment } from '../../analysis/assessment.ts';
import { withGramsLeft } from '../../analysis/decide/pack-grams.ts';
import { difference, expanded, type Measurable, measurable } from '../../analysis/uncertainty/estimate.ts';
import { type ResultId, resultOf } from '../../vocabulary/results.ts';

export interface ComparedColumn {
  readonly build: string;
  readonly pack: string;
}

interface ComparedCell {
  readonly level?: Measurable;
  /** Less the first column's; known better than the levels, since what both share cancels. */
  readonly difference?: Measurable;
  /** More than the ± of the difference can explain. */
  readonly isBeyond: boolean;
  /** Why there is no level. */
  readonly reason?: string;
}

export interface ComparedRow {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  /** One per column. */
  readonly cells: readonly ComparedCell[];
}

export interface Comparison {
  readonly columns: readonly ComparedColumn[];
  readonly rows: readonly ComparedRow[];
}

/** Relative; rounding of the computation. */
const ROUNDING = 1e-9;

/** What computed numbers differ by that are the same. */
const NONE: Measurable = { value: 0, plusMinus: 0 };

/** Every result that one of them has, in the order of the results table. */
export function compared(of: readonly Assessment[]): Comparison {
  const assessments = of.map(withGramsLeft);
  const [first] = assessments;
  const names = new Set(assessments.flatMap(({ results }) => [...results.keys()]));
  const rows = [...names].map((name): ComparedRow => {
    const { label, unit } = resultOf(name);
    return { name, label, unit, cells: assessments.map((one) => cellOf(name, one, first)) };
  });
  return {
    columns: assessments.map(({ build, option }) => ({ build: build.name, pack: option.name })),
    rows,
  };
}

function cellOf(name: ResultId, assessment: Assessment, first: Assessment | undefined): ComparedCell {
  const estimate = assessment.results.get(name)?.estimate;
  const reason = assessment.missing.get(name)?.reason;
  if (!estimate) return { isBeyond: false, ...(reason !== undefined && { reason }) };
  const level = measurable(estimate);
  const apart = first && first !== assessment ? difference(name, assessment, first) : undefined;
  if (!apart) return { level, isBeyond: false };
  const rounding = ROUNDING * Math.abs(estimate.value);
  const plusMinus = expanded(apart) > rounding ? expanded(apart) : 0;
  if (Math.abs(apart.value) <= rounding && plusMinus === 0) return { level, difference: NONE, isBeyond: false };
  const isBeyond = Math.abs(apart.value) > plusMinus + rounding;
  return { level, difference: { value: apart.value, plusMinus }, isBeyond };
}
