/** A review as plain records: all that its formats for people print, in the order of what worries most. */
import { formatPair, formatValue } from '../../units/print.ts';
import { severityWord } from '../present/report-words.ts';
import { pathAndLine } from '../present/sources.ts';
import type { Change } from './changes.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isGone, isKnownAndWorse } from './finding-changes.ts';
import type { BuildReview, CausingChange, FlightReview, OptionReview, Review } from './review-data.ts';
import { type ReviewVerdict, reviewVerdictOf } from './review-verdict.ts';
import {
  type ChangeWords,
  changedResultsOf,
  changeWords,
  effectiveCauses,
  formatSignedShare,
  type HiddenWords,
  hiddenWords,
  isAsBefore,
  isHeadlineOf,
  isPrincipal,
  isVisible,
  isWorthReporting,
  mainShares,
  noteOnShares,
  placeOfChange,
  type RelaxationWords,
  relaxationWords,
  STATUS_WORDS,
  sideOf,
  withinCount,
} from './review-words.ts';
import {
  commonFindings,
  hiddenTogether,
  isKnown,
  MOST_OPEN,
  type Overview,
  overviewOf,
  type Permitted,
  permittedBy,
  unknownIn,
  unknownText,
} from './summary.ts';

export interface ReviewRecord {
  readonly verdict: ReviewVerdict;
  readonly failures: Review['failures'];
  readonly remarks: readonly string[];
  /** Of all that was touched. */
  readonly isOneBuild: boolean;
  readonly permitted: readonly RelaxationRecord[];
  readonly together: readonly HiddenWords[];
  readonly unknown: readonly { readonly text: string; readonly builds: readonly string[] }[];
  /** Of several builds. */
  readonly table?: Overview;
  /** Too many builds to show each in full. */
  readonly isMany: boolean;
  /** Of many builds: what is alike on several of them, once. */
  readonly common: readonly { readonly found: FindingRecord; readonly builds: readonly string[] }[];
  /** Each once, with the number of builds that rest on it. */
  readonly changes: readonly { readonly change: ChangeRecord; readonly count: number }[];
  /** Of shortlists. */
  readonly shortlists: readonly ChangeRecord[];
  /** In the files themselves. */
  readonly files: readonly FindingRecord[];
  readonly builds: readonly BuildReviewRecord[];
  /** Touched, without a difference beyond the ±. */
  readonly quiet: readonly string[];
}

export interface ChangeRecord extends ChangeWords {
  /** File and line. */
  readonly where: string;
}

export interface RelaxationRecord extends RelaxationWords {
  /** Builds that rest on it. */
  readonly count: number;
  /** Packs on which it failed before, where nothing is hidden. */
  readonly failedOn: readonly string[];
}

export interface FindingRecord {
  readonly status: FindingChange['status'];
  readonly severity: FindingChange['finding']['severity'];
  /** "new error" */
  readonly label: string;
  /** Its severity before, in words, where that was another. */
  readonly was?: string;
  readonly id: string;
  readonly packs: readonly string[];
  /** File and line. */
  readonly where: string;
  /** None of what is resolved, or a note that is as before. */
  readonly message?: string;
  /** The message before, of what is still so and worse. */
  readonly before?: string;
  readonly accepted?: string;
  /** It was accepted before. */
  readonly isReopened: boolean;
  readonly because: readonly ChangeWords[];
}

export interface BuildReviewRecord {
  readonly name: string;
  readonly title?: string;
  readonly status: BuildReview['status'];
  /** File. */
  readonly where: string;
  readonly movedFrom?: string;
  readonly renamedFrom?: string;
  readonly principal: readonly FindingRecord[];
  /** None where the builds are too many. */
  readonly minor: readonly FindingRecord[];
  readonly asBefore: number;
  readonly options: readonly OptionReview[];
  readonly headlines: readonly ResultChange[];
  readonly others: readonly ResultChange[];
  /** Results that moved by less than their ±. */
  readonly within: number;
  /** Of what changed: what does something to this build. */
  readonly causes: readonly CauseRecord[];
  /** Whether more than one change reaches it. */
  readonly isSharedOut: boolean;
  readonly note?: string;
  /** None where the builds are too many. */
  readonly legs: readonly LegTable[];
  readonly shares: readonly ShareTable[];
}

/** Of a flight that takes more or less than before: what is taken by the end of each leg. */
interface LegTable {
  readonly flight: string;
  readonly packs: readonly string[];
  readonly rows: readonly { readonly text: string; readonly cells: readonly string[] }[];
}

interface CauseRecord {
  readonly change: ChangeRecord;
  readonly shares?: { readonly pack: string; readonly stated: readonly string[] };
}

/** What each change alone does to a pack's headlines. */
interface ShareTable {
  readonly pack: string;
  readonly changes: readonly { readonly what: string; readonly part: string }[];
  readonly rows: readonly { readonly label: string; readonly cells: readonly string[] }[];
}

export function reviewRecordOf(review: Review): ReviewRecord {
  const { builds, failures, remarks } = review;
  const reported = builds.filter((build) => isWorthReporting(build) && isKnown(build));
  const isMany = reported.length > MOST_OPEN;
  return {
    verdict: reviewVerdictOf(review),
    failures,
    remarks,
    isOneBuild: builds.length <= 1,
    permitted: permittedBy(builds).map((one) => relaxationRecord(review, one)),
    together: hiddenWords(hiddenTogether(builds), 'together they'),
    unknown: unknownIn(builds).map((one) => ({ text: unknownText(one), builds: one.builds })),
    ...(reported.length > 1 && { table: overviewOf(review) }),
    isMany,
    common: isMany
      ? commonFindings(builds).map((one) => ({ found: findingRecord(review, one.change), builds: one.builds }))
      : [],
    changes: changesOf(review),
    shortlists: review.shortlists.map((change) => changeRecord(review, change)),
    files: review.text.filter(isPrincipal).map((change) => findingRecord(review, change)),
    builds: reported.map((build) => buildRecord(review, build, isMany)),
    quiet: builds.filter((build) => !isWorthReporting(build) && !build.isUnjudged).map(({ name }) => name),
  };
}

function changesOf(review: Review): ReviewRecord['changes'] {
  const counts = new Map<Change, number>();
  for (const { causes } of review.builds)
    for (const { change } of causes) counts.set(change, (counts.get(change) ?? 0) + 1);
  return [...counts].map(([change, count]) => ({ change: changeRecord(review, change), count }));
}

const changeRecord = (review: Review, change: Change): ChangeRecord => ({
  ...changeWords(change),
  where: placeOfChange(review, change),
});

function relaxationRecord(review: Review, { relaxation, builds }: Permitted): RelaxationRecord {
  const words = relaxationWords(review, relaxation);
  return { ...words, count: builds.length, failedOn: words.hides.length === 0 ? relaxation.failedOn : [] };
}

/** @param causes what changed for the build that it is about */
function findingRecord(review: Review, change: FindingChange, causes: readonly CausingChange[] = []): FindingRecord {
  const { status, finding, packs, before } = change;
  const { id, severity, place, message, accepted } = finding;
  const isOther = before && before.severity !== severity && (status === 'worse' || status === 'eased');
  const isNote = isAsBefore(change) && (severity === 'information' || severity === 'hint');
  const isMoved = status === 'new' || status === 'worse' || status === 'resolved';
  return {
    status,
    severity,
    label: `${STATUS_WORDS[status]} ${severityWord(severity)}`,
    ...(isOther && { was: severityWord(before.severity) }),
    id,
    packs,
    where: pathAndLine(sideOf(review, isGone(change)), place),
    ...(status !== 'resolved' && !isNote && { message }),
    ...(before && isKnownAndWorse(change) && { before: before.message }),
    ...(accepted !== undefined && { accepted }),
    isReopened: status === 'new' && before?.accepted !== undefined,
    because: isMoved
      ? causes.filter(({ findings }) => findings.includes(id)).map((cause) => changeWords(cause.change))
      : [],
  };
}

function buildRecord(review: Review, build: BuildReview, isMany: boolean): BuildReviewRecord {
  const { name, title, status, uri, movedFrom, renamedFrom, findings, options, causes } = build;
  const note = noteOnShares(build);
  const minor = findings.filter((change) => !isPrincipal(change));
  return {
    name,
    ...(title !== undefined && { title }),
    status,
    where: review.pathOf(uri),
    ...(movedFrom !== undefined && { movedFrom: review.pathOf(movedFrom) }),
    ...(renamedFrom !== undefined && { renamedFrom }),
    principal: findings.filter(isPrincipal).map((change) => findingRecord(review, change, causes)),
    minor: isMany ? [] : minor.map((change) => findingRecord(review, change)),
    asBefore: findings.filter(isAsBefore).length,
    options,
    ...changedResultsOf(build),
    within: withinCount(build),
    causes: status === 'changed' ? effectiveCauses(build).map((cause) => causeRecord(review, build, cause)) : [],
    isSharedOut: causes.length > 1,
    ...(note !== undefined && { note }),
    legs: isMany ? [] : legTables(build),
    shares: isMany ? [] : shareTables(build),
  };
}

function causeRecord(review: Review, build: BuildReview, cause: CausingChange): CauseRecord {
  const shares = mainShares(build, cause);
  return {
    change: changeRecord(review, cause.change),
    ...(shares && shares.stated.length > 0 && { shares }),
  };
}

function legTables({ options }: BuildReview): LegTable[] {
  const names = new Set(options.flatMap(({ flights }) => flights.map(({ name }) => name)));
  return [...names].map((wanted) => {
    const columns = options.flatMap(({ pack, flights }) => {
      const flight = flights.find(({ name }) => name === wanted);
      return flight ? [{ pack, legs: flight.legs }] : [];
    });
    return {
      flight: wanted,
      packs: columns.map(({ pack }) => pack),
      rows: (columns[0]?.legs ?? []).map(({ text }, i) => ({
        text: `${i + 1}. ${text}`,
        cells: columns.map(({ legs }) => takenText(legs[i])),
      })),
    };
  });
}

function takenText({ before, after }: Partial<FlightReview['legs'][number]> = {}): string {
  if (before && after) return formatPair(before.value, after.value, 'mAh');
  return after ? formatValue(after.value, 'mAh') : '';
}

function shareTables(build: BuildReview): ShareTable[] {
  return build.options.flatMap((option): ShareTable[] => {
    const { pack, results } = option;
    const causes = effectiveCauses(build).filter(({ shares }) => shares.get(pack)?.some(({ value }) => value !== 0));
    const isHeadline = isHeadlineOf(option);
    const rows = results.filter((row) => row.beyond && row.difference && isHeadline(row));
    if (causes.length < 2 || rows.length === 0) return [];
    return [
      {
        pack,
        changes: causes.map(({ change }) => ({ what: changeWords(change).what ?? '', part: change.part.name })),
        rows: rows.map((row) => ({
          label: row.label,
          cells: causes.map(({ shares }) => {
            const share = shares.get(pack)?.find(({ result }) => result === row.name);
            return share && isVisible(share, row) ? formatSignedShare(share, row.unit) : '';
          }),
        })),
      },
    ];
  });
}
