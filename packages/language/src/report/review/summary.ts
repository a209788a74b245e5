/** A review over all its builds: what is alike on many is reported once, what differs is in one table. */
import { formatPair, formatShare, formatShares, formatValue } from '../../units/print.ts';
import { COLUMN_HEADS, HEADLINES } from '../../vocabulary/headlines.ts';
import { firstFew, plural } from '../../vocabulary/phrasing.ts';
import { limitWords } from '../present/limit-words.ts';
import { severityWord } from '../present/report-words.ts';
import type { ResultChange } from './differences.ts';
import { byStatusAndSeverity, type FindingChange } from './finding-changes.ts';
import type { Hidden, Relaxation } from './relaxations.ts';
import type { BuildReview, OptionReview, Review } from './review-data.ts';
import { changedResultsOf, isChargeLeft, isPrincipal, isWorthReporting, STATUS_WORDS } from './review-words.ts';

/** With more builds each has one line of the table, and the rest is folded. */
export const MOST_OPEN = 3;

interface Row {
  readonly build: string;
  readonly pack: string;
  /** "1 new error, 2 new warnings" */
  readonly found: string;
  /** One per column; empty where nothing differs that the ± cannot explain. */
  readonly cells: readonly string[];
}

/** Few builds make flights in legs. */
const FLOWN = 'left of a flight';

const COLUMNS: readonly string[] = [...HEADLINES.review.map((name) => COLUMN_HEADS[name]), FLOWN, 'nearest limit'];

/** What heads the table, and its rows. */
export interface Overview {
  readonly columns: readonly string[];
  readonly rows: readonly Row[];
}

/** A column of flights that is empty throughout is left out. */
export function overviewOf(review: Review): Overview {
  const rows = tableOf(review);
  const isFilled = COLUMNS.map((column, i) => column !== FLOWN || rows.some(({ cells }) => cells[i] !== ''));
  const kept = <T>(all: readonly T[]): T[] => all.filter((_, i) => isFilled[i]);
  return { columns: kept(COLUMNS), rows: rows.map((row) => ({ ...row, cells: kept(row.cells) })) };
}

/** One row per build, worst first, on the pack that is nearest to a limit, or on which a flight leaves least. */
const tableOf = ({ builds }: Review): Row[] =>
  builds.filter((build) => isWorthReporting(build) && isKnown(build)).map(rowOf);

function rowOf(build: BuildReview): Row {
  const { name, status, options, findings } = build;
  const moved = options.filter(({ results }) => results.some(isReported));
  // Where nothing moved but flights, the pack on which least is left.
  const isFlown =
    moved.length > 0 && moved.every((option) => HEADLINES.review.every((of) => cellOf(option, of) === ''));
  const order = isFlown ? leftOf : (option: OptionReview) => -loadOf(option);
  const [worst] = (moved.length > 0 ? moved : options).toSorted((a, b) => order(a) - order(b));
  return {
    build: status === 'changed' ? name : `${name} (${status})`,
    pack: worst?.pack ?? '',
    found: [...(build.isUnjudged ? ['not judged in full'] : []), ...foundWords(findings)].join(', '),
    cells:
      status === 'removed' || !worst
        ? COLUMNS.map(() => '')
        : [...HEADLINES.review.map((of) => cellOf(worst, of)), flownOf(worst), limitOf(worst)],
  };
}

const isReported = ({ beyond, after }: ResultChange): boolean => beyond && after !== undefined;

const loadOf = ({ nearest }: OptionReview): number => nearest?.after ?? 0;

function cellOf({ results }: OptionReview, name: string): string {
  const { before, after, unit = '', beyond } = results.find((one) => one.name === name) ?? {};
  if (!after || !beyond) return '';
  return before ? formatPair(before.value, after.value, unit) : formatValue(after.value, unit);
}

/** Of several flights the one that leaves least. */
const leastLeft = ({ results }: OptionReview): ResultChange | undefined =>
  results
    .filter((one) => isChargeLeft(one) && isReported(one))
    .toSorted((a, b) => (a.after?.value ?? 1) - (b.after?.value ?? 1))[0];

const leftOf = (option: OptionReview): number => leastLeft(option)?.after?.value ?? 1;

function flownOf(option: OptionReview): string {
  const { before, after, unit = '' } = leastLeft(option) ?? {};
  if (!after) return '';
  return before ? formatPair(before.value, after.value, unit) : formatValue(after.value, unit);
}

function limitOf({ nearest }: OptionReview): string {
  if (nearest?.after === undefined) return '';
  const { key, before, after } = nearest;
  return `${limitWords(key)} ${before === undefined ? formatShare(after) : formatShares(before, after)}`;
}

/** Errors and warnings that came or changed, counted; once a pack. */
function foundWords(findings: readonly FindingChange[]): string[] {
  const counts = new Map<string, number>();
  for (const { status, finding } of findings.filter(isPrincipal).toSorted(byStatusAndSeverity)) {
    const label = `${STATUS_WORDS[status]} ${severityWord(finding.severity)}`;
    counts.set(label, (counts.get(label) ?? 0) + 1);
  }
  return [...counts].map(([label, count]) => plural(count, label));
}

/** A finding that is alike on several builds: one of them, the first of the worst, is shown. */
export interface Common {
  readonly change: FindingChange;
  readonly builds: readonly string[];
}

export function commonFindings(builds: readonly BuildReview[]): Common[] {
  const groups = new Map<string, { change: FindingChange; builds: Set<string> }>();
  for (const { name, findings } of builds) {
    for (const change of findings.filter(isPrincipal)) {
      const key = `${change.status} ${change.finding.severity} ${change.finding.id}`;
      const group = groups.get(key) ?? { change, builds: new Set() };
      group.builds.add(name);
      groups.set(key, group);
    }
  }
  return [...groups.values()]
    .sort((a, b) => byStatusAndSeverity(a.change, b.change))
    .map((group) => ({ change: group.change, builds: [...group.builds] }));
}

/** What more is permitted, a line once however many builds rest on it. */
export interface Permitted {
  readonly relaxation: Relaxation;
  readonly builds: readonly string[];
}

export function permittedBy(builds: readonly BuildReview[]): Permitted[] {
  const lines = new Map<string, { relaxation: Relaxation; builds: Set<string> }>();
  for (const { name, relaxations } of builds) {
    for (const relaxation of relaxations) {
      const { what, how, of = '', before = '', after, place } = relaxation;
      const key = [what, how, of, before, after === undefined, place.uri, place.start].join(' ');
      const known = lines.get(key);
      const hides = [...(known?.relaxation.hides ?? []), ...relaxation.hides];
      const failedOn = [...new Set([...(known?.relaxation.failedOn ?? []), ...relaxation.failedOn])];
      lines.set(key, {
        relaxation: { ...relaxation, hides, failedOn },
        builds: (known?.builds ?? new Set()).add(name),
      });
    }
  }
  return [...lines.values()].map((line) => ({ relaxation: line.relaxation, builds: [...line.builds] }));
}

export const hiddenTogether = (builds: readonly BuildReview[]): Hidden[] =>
  builds.flatMap((build) => build.hiddenTogether);

/** What is no longer known, by its reason. */
export interface Unknown {
  readonly reason: string;
  readonly builds: readonly string[];
  /** Of the first build. */
  readonly results: readonly string[];
}

export function unknownIn(builds: readonly BuildReview[]): Unknown[] {
  const groups = new Map<string, { builds: Set<string>; results: readonly string[] }>();
  for (const build of builds) {
    const lost = lostIn(build);
    const reasons = lost.map(({ reason = '' }) => reason);
    const [reason] = [...new Set(reasons)].sort((a, b) => count(reasons, b) - count(reasons, a));
    if (reason === undefined) continue;
    const group = groups.get(reason) ?? { builds: new Set(), results: [...new Set(lost.map(({ label }) => label))] };
    group.builds.add(build.name);
    groups.set(reason, group);
  }
  return [...groups].map(([reason, group]) => ({ reason, builds: [...group.builds], results: group.results }));
}

const count = (all: readonly string[], one: string): number => all.filter((other) => other === one).length;

const lostIn = ({ options }: BuildReview): ResultChange[] =>
  options
    .filter(({ status }) => status === 'changed')
    .flatMap(({ results }) => results.filter(({ before, after }) => before && !after));

/** "all-up weight, hover time and 22 more are no longer known: …" */
export function unknownText({ reason, results }: Unknown): string {
  return `${firstFew(results, 2)} ${results.length === 1 ? 'is' : 'are'} no longer known${reason === '' ? '' : `: ${reason}`}`;
}

/** Whether anything is known of it except that nothing is known any more. */
export function isKnown(build: BuildReview): boolean {
  const { headlines, others } = changedResultsOf(build);
  return lostIn(build).length === 0 || headlines.length + others.length > 0 || build.findings.some(isPrincipal);
}

/** "on 12 builds", or their names where they are few. */
export const onBuilds = (names: readonly string[], written: (name: string) => string): string =>
  names.length > MOST_OPEN ? `on ${plural(names.length, 'build')}` : `on ${names.map(written).join(', ')}`;
