/** A build's assessments as plain data: what the formats of a run print, and what can pass from one thread to another. */

import type { Assessment, NoResult } from '../../analysis/assessment.ts';
import { PACK_GRAMS_LEFT, withGramsLeft } from '../../analysis/decide/pack-grams.ts';
import { type Derivation, derivationOf } from '../../analysis/explain/derivation.ts';
import { type Calibration, calibrationOf } from '../../analysis/learn/calibration.ts';
import { readingPlusMinus } from '../../analysis/learn/scene.ts';
import type { Taught } from '../../analysis/learn/taught.ts';
import { expanded, measurable } from '../../analysis/uncertainty/estimate.ts';
import { type Ends, endsOf } from '../../analysis/uncertainty/linearity.ts';
import { leading } from '../../analysis/uncertainty/sensitivity.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { packWords } from '../../model/arrangements.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { type Checked, type Failure, failuresOf } from '../checked.ts';
import { type FlightData, flightDataOf } from '../flights/flight-data.ts';
import { agedWords } from '../present/taught-words.ts';

/** A run with records for builds. */
export type Recorded = Checked<BuildRecord>;

/**
 * How much is reported of each build: its headlines, all results that were computed anyway, or how they came about and what takes a search
 * as well.
 */
export type Detail = 'headlines' | 'results' | 'derivations';

export interface BuildRecord {
  readonly name: string;
  readonly title: string | undefined;
  readonly uri: string;
  readonly options: readonly OptionRecord[];
}

export interface OptionRecord {
  readonly pack: string;
  /** In a table, several packs as several. */
  readonly packWords: string;
  /** 0 … 1 */
  readonly dutyLimit: number;
  /** What moved what was guessed. */
  readonly calibration: Calibration | undefined;
  /** How its resistance changed over the dates of observations: "aged: 11 to 17 mohm a cell since 12 March 2026". */
  readonly aged: string | undefined;
  /** By name, in their usual order. */
  readonly results: ReadonlyMap<string, ResultRecord>;
  /** Why there is none, by name. */
  readonly missing: ReadonlyMap<string, string>;
  /** In legs; without what is drawn of them. */
  readonly flights: readonly FlightRecord[];
}

export type FlightRecord = Omit<FlightData, 'moments'>;

export interface ResultRecord {
  /** SI. */
  readonly value: number;
  /** k = 2, SI. */
  readonly plusMinus: number;
  /** Unit in which the trade reads it. */
  readonly unit: string;
  /** With derivations: how it came about, and what it is with all inputs at either end of their ±. */
  readonly derivation?: ExplainedRecord;
  readonly ends?: Ends;
}

export interface ExplainedRecord extends Omit<Derivation, 'taught'> {
  /** The inputs that make most of the ±, each with its share. */
  readonly causes: readonly { readonly input: string; readonly share: number }[];
  readonly learnt?: LearntRecord;
}

/** What measurements did to a result; numbers in SI. */
export interface LearntRecord {
  /** Before anything was measured. */
  readonly before: { readonly value: number; readonly plusMinus: number };
  readonly unit: string;
  readonly from: readonly {
    readonly label: string;
    readonly value: number;
    readonly unit: string;
    readonly predicted: number | undefined;
    readonly plusMinus: number;
    /** Of the variance before, that it would have taken away alone. */
    readonly share: number;
  }[];
  /** Parts that were exchanged since: what concerned them does not count. */
  readonly forgets: readonly string[];
}

export function recorded(checked: Checked, detail: Detail): Recorded {
  const { found, failures } = recordsOf(checked.builds, detail, checked.pathOf);
  return { ...checked, builds: found, failures: [...checked.failures, ...failures] };
}

/** A build of which a mistake of ours keeps something from being computed is left out, and reported as a failure of its file. */
export function recordsOf(
  builds: readonly CheckedBuild[],
  detail: Detail,
  pathOf: Checked['pathOf'],
): { found: BuildRecord[]; failures: Failure[] } {
  const defects: Defect[] = [];
  const found = builds.flatMap((one) => guarded(defects, one.build.uri, () => [recordOf(one, detail)]) ?? []);
  return { found, failures: failuresOf(defects, pathOf) };
}

export function recordOf({ build, assessments }: CheckedBuild, detail: Detail): BuildRecord {
  const { name, title, uri } = build;
  const requested = assessments.map(AT_DETAIL[detail]);
  return { name, title, uri, options: requested.map((assessment) => optionOf(assessment, detail)) };
}

/** Searching for it solves the craft a hundred times and more: a format costs no such thing without a request. */
const NOT_SEARCHED = 'searched only on request: by `--explain`, and by `fettle explain` and `fettle sheet`';

function withoutSearch(assessment: Assessment): Assessment {
  const { results, missing } = assessment;
  if (results.has(PACK_GRAMS_LEFT)) return assessment;
  const left: NoResult = { name: PACK_GRAMS_LEFT, label: '', reason: NOT_SEARCHED };
  return { ...assessment, missing: new Map(missing).set(PACK_GRAMS_LEFT, left) };
}

const AT_DETAIL: Readonly<Record<Detail, (assessment: Assessment) => Assessment>> = {
  headlines: (assessment) => assessment,
  results: withoutSearch,
  derivations: withGramsLeft,
};

const IS_HEADLINE: ReadonlySet<string> = new Set(HEADLINES.columns);

function optionOf(assessment: Assessment, detail: Detail): OptionRecord {
  const { option, results, missing } = assessment;
  const isReported = (name: string): boolean => detail !== 'headlines' || IS_HEADLINE.has(name);
  const recorded = new Map<string, ResultRecord>();
  for (const { name, unit, estimate } of results.values()) {
    if (!isReported(name)) continue;
    const derivation = detail === 'derivations' ? explained(name, assessment) : undefined;
    const ends = detail === 'derivations' ? endsOf(name, assessment) : undefined;
    recorded.set(name, {
      value: estimate.value,
      plusMinus: expanded(estimate),
      unit,
      ...(derivation && { derivation }),
      ...(ends && { ends }),
    });
  }
  return {
    pack: option.name,
    packWords: packWords(option),
    dutyLimit: option.dutyLimit.value,
    calibration: calibrationOf(assessment),
    aged: agedWords(assessment),
    results: recorded,
    flights: flightDataOf(assessment).map(({ moments: _, ...flight }) => flight),
    missing: new Map(
      [...missing.values()].filter(({ name }) => isReported(name)).map(({ name, reason }) => [name, reason]),
    ),
  };
}

/** How many of the inputs that make a ± are named. */
const MOST_NAMED = 5;

function explained(name: ResultId, assessment: Assessment): ExplainedRecord | undefined {
  const derivation = derivationOf(name, assessment);
  const estimate = assessment.results.get(name)?.estimate;
  if (!derivation || !estimate) return undefined;
  const causes = leading(estimate, assessment.inputs, MOST_NAMED);
  const { taught, ...reported } = derivation;
  const unit = assessment.results.get(name)?.unit ?? '';
  return {
    ...reported,
    causes: causes.map(({ input, share }) => ({ input: input.label, share })),
    ...(taught && { learnt: learntRecord(taught, unit) }),
  };
}

function learntRecord({ before, by, forgets }: Taught, unit: string): LearntRecord {
  return {
    before: measurable(before),
    unit,
    from: by.map(({ line, share }) => ({
      label: line.label,
      value: line.value,
      unit: line.unit,
      predicted: line.before,
      plusMinus: readingPlusMinus(line, line.beforeDeviation, line.before ?? 0),
      share,
    })),
    forgets,
  };
}
