/**
 * Everything a build sheet shows, as plain data: what is rendered here as HTML, Markdown and SVG, an editor may render its own way.
 * Numbers are SI with the unit in which to print them; ± is expanded (k = 2).
 */

import type { Assessment, NoResult } from '../../analysis/assessment.ts';
import { type FlightCurve, flightCurve } from '../../analysis/curves/flight-curve.ts';
import { type MountCurve, mountCurve } from '../../analysis/curves/mount-curve.ts';
import { packMassCurve, type SizedPack } from '../../analysis/curves/pack-mass-curve.ts';
import { gramsLeft, PACK_GRAMS_LEFT, verdictOn, withGramsLeft } from '../../analysis/decide/pack-grams.ts';
import { isAskedOn } from '../../analysis/decide/requirements.ts';
import { justHovers } from '../../analysis/evaluate/evaluation.ts';
import { type Calibration, calibrationOf } from '../../analysis/learn/calibration.ts';
import { nextMeasurement } from '../../analysis/learn/next-measurement.ts';
import { type TaughtFigure, taughtFigures } from '../../analysis/learn/taught.ts';
import { comparisonsOf, type LogComparison, type LoggedMoment } from '../../analysis/log/comparison.ts';
import { cellsInSeries } from '../../analysis/setup/pack-setup.ts';
import { formatPrinted, type PrintedEstimate, printedIn } from '../../analysis/uncertainty/print-estimate.ts';
import { widestFirst } from '../../checks/craft/estimates.ts';
import type { Finding } from '../../checks/finding.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { packWords } from '../../model/arrangements.ts';
import type { Requirement } from '../../model/build.ts';
import type { Place } from '../../syntax/place.ts';
import { plusMinusOf } from '../../units/interval.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import { resultOf } from '../../vocabulary/results.ts';
import { worstOpenFirst } from '../../vocabulary/severities.ts';
import { type Checked, findingsAbout, unjudgedOf } from '../checked.ts';
import { type FlightData, flightDataOf } from '../flights/flight-data.ts';
import { foundWords, tooFullWords } from '../observe/found-words.ts';
import { type VerdictWords, verdictText, wordsOfVerdict } from '../present/requirement-verdicts.ts';
import { printedOf } from '../present/result-printed.ts';
import { agedWords } from '../present/taught-words.ts';
import { type LimitLine, limitLines } from './sheet-limits.ts';

export interface LedgerLine {
  readonly label: string;
  readonly count: number;
  readonly mass: PrintedEstimate;
  /** Where the mass is written, or what it is the mass of; none for what nobody named. */
  readonly place?: Place;
}

export interface SheetOption {
  readonly pack: string;
  /** In a heading, several packs as several. */
  readonly packWords: string;
  /** Its `pack:` line. */
  readonly place: Place;
  readonly dutyLimit: number;
  readonly cells: number | undefined;
  readonly ledger: readonly LedgerLine[];
  readonly limits: readonly LimitLine[];
  readonly flight?: FlightCurve;
  /** In legs. */
  readonly flights: readonly FlightData[];
  readonly sizes: readonly SizedPack[];
  readonly packMass?: number;
  readonly hoverTime?: PrintedEstimate;
  readonly flightTime?: PrintedEstimate;
  readonly weight?: PrintedEstimate;
  readonly thrustToWeight?: PrintedEstimate;
  readonly landBy?: PrintedEstimate;
  /** Of the softest mount, and what it passes on in hover. */
  readonly shake?: { readonly curve: MountCurve; readonly passedOn: PrintedEstimate };
}

export interface SheetRow {
  readonly name: string;
  readonly label: string;
  /** What it means, in a sentence. */
  readonly description: string;
  /** One an option: a number, or why there is none. */
  readonly cells: readonly (PrintedEstimate | string)[];
}

interface SheetRequirement {
  readonly text: string;
  readonly because?: string;
  readonly place: Place;
  readonly onPacks: readonly {
    readonly pack: string;
    readonly verdict: VerdictWords;
    readonly words: string;
    /** How much heavier the pack may be before it fails, kg, below zero where it does; or that it is still being searched for. */
    readonly packGramsLeft?: PrintedEstimate | typeof PENDING;
  }[];
}

export interface SheetLog {
  readonly title: string;
  readonly pack: string;
  readonly moments: readonly LoggedMoment[];
  /** Cells in series, to state volts per cell. */
  readonly cells: number;
  /** Root mean square of what the voltages differ in the air, relative. */
  readonly volts?: number;
  readonly found: readonly string[];
  readonly compared: readonly {
    readonly words: string;
    readonly measured: PrintedEstimate;
    readonly predicted: PrintedEstimate;
  }[];
}

interface SheetLearnt {
  readonly label: string;
  readonly before: PrintedEstimate;
  readonly now: PrintedEstimate;
}

/** Is shown where a quick sheet leaves out what has to be searched for. */
export const PENDING = '…';

export interface SheetData {
  readonly build: string;
  readonly title?: string;
  readonly place: Place;
  readonly findings: readonly Finding[];
  /** Why it could not be judged in full. */
  readonly unjudged?: string;
  readonly options: readonly SheetOption[];
  /** Results that some option has, in the order of the results table. */
  readonly rows: readonly SheetRow[];
  readonly requirements: readonly SheetRequirement[];
  /** Flights that were logged, each compared with what the build predicts. */
  readonly logs: readonly SheetLog[];
  /** Figures of parts before and after all that was measured. */
  readonly learnt: readonly SheetLearnt[];
  /** What moved what was guessed. */
  readonly calibration?: Calibration;
  /** It was on a scale, with a pack or without. */
  readonly isWeighed: boolean;
  /** What dated observations show of packs, a sentence each without its point. */
  readonly aged: readonly string[];
  /** The measurement that narrows the minutes most: "thrust, watts … on a stand", and what their ± would then be. */
  readonly measureFirst?: { readonly how: string; readonly now: PrintedEstimate; readonly plusMinusThen: number };
}

/** The grams left take longer than all else together: who shows a sheet while it is typed searches for them later, who shows hundreds never. */
type GramsLeft = 'now' | 'later' | 'never';

export function sheetData(
  { build, assessments }: CheckedBuild,
  checked: Pick<Checked, 'findings' | 'failures' | 'pathOf'>,
  grams: GramsLeft = 'now',
): SheetData {
  const measureFirst = bestMeasurement(assessments);
  const learnt = assessments[0]?.learnt;
  const calibration = assessments[0] && calibrationOf(assessments[0]);
  const findings = findingsAbout(build, checked);
  const unjudged = unjudgedOf(build, checked);
  return {
    build: build.name,
    ...(build.title !== undefined && { title: build.title }),
    place: build.place,
    findings: findings.toSorted(worstOpenFirst),
    ...(unjudged !== undefined && { unjudged }),
    options: assessments.map((assessment) => optionOf(assessment, findings)),
    rows: rowsOf(assessments.map(WITH_GRAMS[grams])),
    requirements: build.rules.requirements.map(
      (requirement): SheetRequirement => ({
        text: requirement.text,
        place: requirement.place,
        ...(requirement.because !== undefined && { because: requirement.because }),
        onPacks: assessments
          .filter(({ option }) => isAskedOn(requirement, option))
          .map((assessment) => {
            const verdict = verdictOn(requirement, assessment);
            const left = GRAMS_ON[grams](requirement, assessment);
            return {
              pack: assessment.option.name,
              verdict: verdictText(verdict),
              words: wordsOfVerdict(verdict).join('; '),
              ...(left && { packGramsLeft: left }),
            };
          }),
      }),
    ),
    logs: assessments.flatMap(({ option }) => comparisonsOf(build, option).map(logOf)),
    learnt: learnt ? taughtFigures(learnt).slice(0, MOST_LEARNT).map(learntOf) : [],
    ...(calibration && { calibration }),
    isWeighed:
      build.dryMass !== undefined || build.observations.some(({ part }) => part.declared('scale') !== undefined),
    aged: assessments.flatMap((assessment) => {
      const words = agedWords(assessment);
      return words === undefined ? [] : [`${packWords(assessment.option)} ${words}`];
    }),
    ...(measureFirst && { measureFirst }),
  };
}

/** More lines nobody reads. */
const MOST_LEARNT = 8;

function logOf({ observed, flight, compared, moments, volts }: LogComparison): SheetLog {
  return {
    title: observed.observation.title,
    pack: packWords(observed.option),
    moments,
    cells: cellsInSeries(observed.option) ?? 1,
    ...(volts && { volts: volts.rms }),
    found: [...foundWords(flight), ...tooFullWords(observed)],
    compared: compared.map(({ words, unit, measured, predicted, plusMinus }) => ({
      words,
      measured: { value: measured, plusMinus: 0, unit },
      predicted: { value: predicted, plusMinus, unit },
    })),
  };
}

const learntOf = ({ figure, value, plusMinus }: TaughtFigure): SheetLearnt => ({
  label: figure.label,
  before: { value: figure.value, plusMinus: plusMinusOf(figure.standardUncertainty), unit: figure.unit },
  now: { value, plusMinus, unit: figure.unit },
});

function gramsLeftOn(requirement: Requirement, assessment: Assessment): PrintedEstimate | undefined {
  const left = gramsLeft(assessment).find((one) => one.requirement === requirement)?.mass;
  return left && { ...printedIn('g', left), isSigned: true };
}

const GRAMS_ON: Readonly<
  Record<GramsLeft, (of: Requirement, on: Assessment) => PrintedEstimate | typeof PENDING | undefined>
> = {
  now: gramsLeftOn,
  later: () => PENDING,
  never: () => undefined,
};

/** Keeps the row where it will be. */
function withGramsPending(assessment: Assessment): Assessment {
  const pending: NoResult = { name: PACK_GRAMS_LEFT, label: '', reason: PENDING };
  return { ...assessment, missing: new Map(assessment.missing).set(PACK_GRAMS_LEFT, pending) };
}

const WITH_GRAMS: Readonly<Record<GramsLeft, (assessment: Assessment) => Assessment>> = {
  now: withGramsLeft,
  later: withGramsPending,
  never: (assessment) => assessment,
};

function optionOf(assessment: Assessment, findings: readonly Finding[]): SheetOption {
  const { build, option, masses } = assessment;
  const flight = flightCurve(build, option);
  const packMass = option.part.figure('mass');
  const hoverTime = printedOf('hover_time', assessment);
  const flightTime = timeAsFlown(assessment);
  const weight = printedOf('all_up_weight', assessment);
  const thrustToWeight = printedOf('thrust_to_weight', assessment);
  const landBy = printedOf('land_by_hover_voltage', assessment);
  const curve = mountCurve(assessment);
  const passedOn = printedOf('mount_transmissibility', assessment);
  return {
    pack: option.name,
    packWords: packWords(option),
    place: option.place,
    dutyLimit: option.dutyLimit.value,
    cells: cellsInSeries(option),
    ledger: masses.map(({ label, count, mass, place }) => ({
      label,
      count,
      mass: { value: mass.value, plusMinus: plusMinusOf(mass.standardUncertainty), unit: 'g' },
      ...(place && { place }),
    })),
    limits: limitLines(assessment, findings),
    sizes: packMassCurve(build, option),
    ...(flight && { flight }),
    flights: flightDataOf(assessment),
    ...(packMass && { packMass: option.count * packMass.value }),
    ...(hoverTime && { hoverTime }),
    ...(flightTime && { flightTime }),
    ...(weight && { weight }),
    ...(thrustToWeight && { thrustToWeight }),
    ...(landBy && { landBy }),
    ...(curve && passedOn && { shake: { curve, passedOn } }),
  };
}

/** Only where efforts or a time on the ground are stated: without them it repeats the hover time. */
export function timeAsFlown(assessment: Assessment): PrintedEstimate | undefined {
  const { craft } = assessment.evaluation;
  return craft === undefined || justHovers(craft.craft) ? undefined : printedOf('flight_time', assessment);
}

function rowsOf(assessments: readonly Assessment[]): SheetRow[] {
  const known = new Set(assessments.flatMap(({ results }) => [...results.keys()]));
  const names = new Set([...HEADLINES.sheet.filter((name) => known.has(name)), ...known]);
  if (assessments.some(({ missing }) => missing.get(PACK_GRAMS_LEFT)?.reason === PENDING)) names.add(PACK_GRAMS_LEFT);
  return [...names].map((name) => {
    const { label, description } = resultOf(name);
    return {
      name,
      label,
      description,
      cells: assessments.map(
        (one) => printedOf(name, one) ?? one.missing.get(name)?.reason ?? 'it cannot be computed from what is stated',
      ),
    };
  });
}

function bestMeasurement(assessments: readonly Assessment[]): SheetData['measureFirst'] {
  for (const assessment of widestFirst(assessments)) {
    const result = assessment.results.get('hover_time');
    const now = printedOf('hover_time', assessment);
    const advice = result && nextMeasurement(assessment, result.estimate);
    const then = now && advice && formatPrinted({ ...now, plusMinus: advice.plusMinusThen });
    if (now && advice && then !== formatPrinted(now))
      return { how: advice.what, now, plusMinusThen: advice.plusMinusThen };
  }
  return undefined;
}
