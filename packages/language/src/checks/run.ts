/**
 * From what a document states to its findings: problems of the text, then each build on each of its packs; after the checks,
 * rules change severities, acceptances are honoured, consequences are folded into their cause.
 */

import { ascending } from 'd3-array';
import { assess } from '../analysis/assess.ts';
import type { Assessment } from '../analysis/assessment.ts';
import type { Build, PackOption } from '../model/build.ts';
import { asNamed } from '../model/named.ts';
import { type Defect, guarded } from '../syntax/defects.ts';
import { isSameStart } from '../syntax/place.ts';
import type { Problem } from '../syntax/problem.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { atLeast, isGraver, type Severity, worstFirst } from '../vocabulary/severities.ts';
import { applyAcceptances } from './acceptances.ts';
import { type Check, type Draft, fixesOf } from './check.ts';
import { estimatesNote, type OpenQuestion } from './craft/estimates.ts';
import type { BoundName, Finding } from './finding.ts';
import { CHECKS } from './registry.ts';
import { severityOfProblem } from './text/text-problems.ts';

/** What a document contains, as far as checks are concerned; `DocumentModel` has this shape. */
export interface Checkable {
  readonly problems: readonly Problem[];
  /** In other files that its builds rest on. */
  readonly elsewhere?: readonly Problem[];
  readonly builds: readonly Build[];
  readonly defects?: readonly Defect[];
}

export interface CheckedBuild {
  readonly build: Build;
  readonly assessments: readonly Assessment[];
}

export interface CheckedDocument {
  readonly builds: readonly CheckedBuild[];
  /** By place, then id. */
  readonly findings: readonly Finding[];
  /** Errors and warnings in the text of other files that its builds are made of. */
  readonly elsewhere: readonly Finding[];
  /** What threw while it was read or checked. The command must not call such a run clean. */
  readonly defects: readonly Defect[];
}

const checked = new WeakMap<Checkable, CheckedDocument>();

/**
 * Computed once for each model of a document, where it is for readers.
 * @param isForReaders see `buildFindings`
 */
export function checkDocument(model: Checkable, isForReaders = true): CheckedDocument {
  const known = checked.get(model);
  if (known) return known;
  const defects: Defect[] = [...(model.defects ?? [])];
  const builds = model.builds.map((build) => ({ build, assessments: assessAll(build, defects) }));
  const findings = [
    ...model.problems.map(textFinding),
    ...builds.flatMap(
      ({ build, assessments }) =>
        guarded(defects, build.uri, () => buildFindings(build, assessments, defects, isForReaders)) ?? [],
    ),
  ].sort(byPlace);
  const elsewhere = (model.elsewhere ?? []).map(textFinding).filter(({ severity }) => atLeast(severity, 'warning'));
  const result = { builds, findings: findings.map(readable), elsewhere: elsewhere.map(readable), defects };
  if (isForReaders) checked.set(model, result);
  return result;
}

/** Messages quote files: nothing in them turns the direction of reading or drives a terminal. */
function readable(finding: Finding): Finding {
  const { message, related, fixes, accepted } = finding;
  if (
    ![message, accepted ?? '', ...related.map((one) => one.message), ...fixes.map(({ title }) => title)].some(isHostile)
  )
    return finding;
  return {
    ...finding,
    message: terminalSafe(message),
    ...(accepted !== undefined && { accepted: terminalSafe(accepted) }),
    related: related.map((one) => ({ ...one, message: terminalSafe(one.message) })),
    fixes: fixes.map((fix) => ({ ...fix, title: terminalSafe(fix.title) })),
  };
}

const isHostile = (text: string): boolean => terminalSafe(text) !== text;

function assessAll(build: Build, defects: Defect[]): Assessment[] {
  return build.packs.flatMap((option) => guarded(defects, build.uri, () => [assess(build, option)]) ?? []);
}

function textFinding(problem: Problem): Finding {
  const { id, message, place, fixes, related } = problem;
  return {
    id,
    severity: severityOfProblem(problem),
    message,
    names: [],
    place,
    numbers: [],
    related: related ?? [],
    fixes: fixes ?? [],
  };
}

/** A draft with the check and the pack it came from. */
interface Raised {
  readonly check: Check;
  readonly draft: Draft;
  readonly option?: PackOption;
}

/**
 * What is found about one build, rules and acceptances applied; `defects` gets what throws.
 * @param isForReaders with fixes and the note on estimates, which take searches
 */
export function buildFindings(
  build: Build,
  assessments: readonly Assessment[],
  defects: Defect[],
  isForReaders = true,
): Finding[] {
  const found: Raised[] = [];
  const consequences: Raised[] = [];
  for (const assessment of assessments) {
    const { option } = assessment;
    const ofOption = CHECKS.flatMap((check) =>
      draftsOn(check, build, assessment, defects).map((draft): Raised => ({ check, draft, option })),
    );
    const { causes, gone } = folded(build, ofOption, defects);
    found.push(...causes);
    consequences.push(...gone);
  }
  for (const check of CHECKS) {
    const drafts = guarded(defects, build.uri, () => [...(check.build?.({ build, assessments }) ?? [])]) ?? [];
    found.push(...drafts.map((draft): Raised => ({ check, draft })));
  }

  const decided = found.flatMap((one) => finding(build, one, isForReaders));
  const note =
    isForReaders &&
    guarded(defects, build.uri, () =>
      estimatesNote(build, assessments.filter(isUndecided(found)), openQuestions(found)),
    );
  const behind = consequences.flatMap((one) => finding(build, one, isForReaders));
  const judged = applyAcceptances(build, assessments, [...decided, ...(note ? [note] : [])], behind);
  return mergedByPlace(judged).map((one) => inOwnFile(build, one));
}

/** Of what certainly cannot fly, and of what lacks a mass, no measurement decides anything. */
const isUndecided =
  (found: readonly Raised[]) =>
  ({ option, results }: Assessment): boolean =>
    results.has('thrust_to_weight') &&
    !found.some((one) => one.option === option && one.check.id === 'cannot-hover' && one.draft.severity === 'error');

/** One per check: the same question on each pack is one question, put to the pack that is nearest to a yes. */
function openQuestions(found: readonly Raised[]): OpenQuestion[] {
  return CHECKS.flatMap((check) => {
    const [nearest] = found
      .flatMap((one) => (one.check === check ? one.draft : []))
      .flatMap((draft) =>
        draft.severity === 'undecided'
          ? { distance: distanceToLimit(draft), question: draft.question, names: draft.names }
          : [],
      )
      .sort((a, b) => a.distance - b.distance || ascending(a.question, b.question));
    return nearest ? [nearest] : [];
  });
}

/** Which bounds a value comes near to by degrees. */
const IS_LIMIT: Readonly<Record<BoundName, boolean>> = {
  limit: true,
  allowed: true,
  maximum: false,
  minimum: false,
  needed: false,
  guard: false,
  bay: false,
};

/** In the ± of the value, on whichever side it lies. */
function distanceToLimit({ numbers: [value, ...others] }: Draft): number {
  const limit = others.find((one) => one.isBound && IS_LIMIT[one.name]);
  return value?.plusMinus && limit ? Math.abs(value.value - limit.value) / value.plusMinus : Number.POSITIVE_INFINITY;
}

const draftsOn = (check: Check, build: Build, assessment: Assessment, defects: Defect[]): Draft[] =>
  guarded(defects, build.uri, () => [...(check.option?.({ build, option: assessment.option, assessment }) ?? [])]) ??
  [];

/** Folds findings that are consequences of another one on the same pack into it: they go when that one is cured. */
function folded(build: Build, found: readonly Raised[], defects: Defect[]): { causes: Raised[]; gone: Set<Raised> } {
  const gone = new Set<Raised>();
  const consequences = new Map<Raised, Raised[]>();
  for (const cause of found) {
    if (gone.has(cause) || !cause.check.folds || cause.draft.severity === 'undecided') continue;
    const its = found.filter(
      (one) => !gone.has(one) && isConsequence(cause, one) && goesWith(build, cause, one, defects),
    );
    for (const one of its) gone.add(one);
    consequences.set(cause, its);
  }
  const causes = found.filter((one) => !gone.has(one)).map((one) => withConsequences(one, consequences.get(one) ?? []));
  return { causes, gone };
}

function isConsequence({ check, draft }: Raised, other: Raised): boolean {
  if (!check.folds?.includes(other.check.id)) return false;
  if (draft.foldKey !== undefined && draft.foldKey !== other.draft.foldKey) return false;
  // What is worse than its cause is reported itself.
  return atLeast(draft.severity, other.draft.severity);
}

function withConsequences(cause: Raised, consequences: readonly Raised[]): Raised {
  const reported = consequences
    .filter(({ draft }) => draft.severity !== 'undecided')
    .map(({ check, draft }) => ({ message: `and with it ${check.id}: ${draft.message}`, place: draft.place }));
  return { ...cause, draft: { ...cause.draft, related: [...(cause.draft.related ?? []), ...reported] } };
}

/** Where it can be determined what the cured craft is like, the consequence must be gone or milder there; elsewhere it goes with its cause. */
function goesWith(build: Build, { draft }: Raised, consequence: Raised, defects: Defect[]): boolean {
  const { cured } = draft;
  if (cured === undefined || draft.alike?.includes(consequence.check.id)) return true;
  const assessment = guarded(defects, build.uri, cured);
  return (
    assessment !== undefined &&
    draftsOn(consequence.check, build, assessment, defects).every(
      (left) => isGraver(consequence.draft.severity, left.severity) || !isSameSubject(left, consequence.draft),
    )
  );
}

/** A check may report the same of several rails or loads: each is its own. */
const isSameSubject = (one: Draft, other: Draft): boolean => isSameStart(one.place, other.place);

function finding(build: Build, { check, draft, option }: Raised, isForReaders: boolean): Finding[] {
  if (draft.severity === 'undecided') return [];
  return [
    {
      id: check.id,
      severity: ruledSeverity(build, check.id, draft.severity),
      message: draft.message,
      names: draft.names.map(asNamed),
      place: draft.place,
      build: build.name,
      ...(option && { pack: option.name }),
      numbers: draft.numbers,
      related: draft.related ?? [],
      fixes: isForReaders ? fixesOf(draft) : [],
    },
  ];
}

/** A finding is in its build's own file; where the line is in another one, that becomes the first related place. */
function inOwnFile(build: Build, finding: Finding): Finding {
  const { place, related } = finding;
  if (place.uri === build.uri) return finding;
  return { ...finding, place: build.place, related: [{ message: 'stated here', place }, ...related] };
}

/** `raise F to …`, `lower F to …`: the build's own word beats its rules', the stricter of several rules wins. */
export function ruledSeverity(build: Build, id: string, severity: Severity): Severity {
  const change = build.rules.severities.find((rule) => rule.finding === id);
  if (!change) return severity;
  const isHigher = isGraver(change.to, severity);
  // Nothing is lowered by `raise`, nor raised by `lower`.
  return isHigher === (change.verb === 'raise') ? change.to : severity;
}

/** One place, one message: where several packs meet the same trouble at the same line, the worst is reported and names the others. */
function mergedByPlace(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const one of findings) {
    const key = `${one.id} ${one.place.uri} ${one.place.start} ${one.place.end} ${one.accepted ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const [worst, ...others] = group.toSorted(worstFirst);
    if (!worst || others.length === 0) return group;
    const also = others.map(({ pack, message, names }) => ({
      message: pack && !names.some(({ name }) => name === pack) ? `also on ${pack}: ${message}` : `also: ${message}`,
      place: worst.place,
    }));
    const packs = group.flatMap(({ pack }) => pack ?? []);
    const highest = Math.max(...group.flatMap(({ numbers }) => numbers[0]?.value ?? []));
    const milderOn = group.flatMap(({ pack, severity }) => (severity === worst.severity ? [] : (pack ?? [])));
    const onOthers = others.flatMap(({ pack, numbers }) => (pack === undefined ? [] : [{ pack, numbers }]));
    const severally = packs.length > 1 && {
      packs,
      onOthers,
      ...(milderOn.length > 0 && { milderOn }),
      ...(Number.isFinite(highest) && { highest }),
    };
    return [{ ...worst, ...severally, related: [...worst.related, ...also] }];
  });
}

/** By file, place, id. */
export const byPlace = (a: Finding, b: Finding): number =>
  ascending(a.place.uri, b.place.uri) ||
  a.place.start - b.place.start ||
  ascending(a.id, b.id) ||
  ascending(a.pack ?? '', b.pack ?? '');
