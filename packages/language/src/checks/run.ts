/**
 * From what a document says to its findings: problems of the text, then each build on each of its packs; after the checks,
 * rules change severities, acceptances are honoured, consequences are folded into their cause.
 */
import type { Assessment } from '../analysis/assessment.ts';
import { assess } from '../analysis/assess.ts';
import type { Build, PackOption } from '../model/build.ts';
import type { Problem } from '../model/problem.ts';
import { applyAcceptances } from './acceptances.ts';
import type { Check, Draft } from './check.ts';
import { estimatesNote } from './estimates.ts';
import type { Finding, Severity } from './finding.ts';
import { moreSevere } from './grade.ts';
import { CHECKS, TEXT_CHECKS } from './registry.ts';

/** What a document says, as far as checks are concerned; `DocumentModel` has this shape. */
export interface Checkable {
  readonly problems: readonly Problem[];
  readonly builds: readonly Build[];
}

export interface CheckedBuild {
  readonly build: Build;
  readonly assessments: readonly Assessment[];
}

export interface CheckedDocument {
  readonly builds: readonly CheckedBuild[];
  /** By place, then id. */
  readonly findings: readonly Finding[];
  /** Checks that threw: a defect of ours. The command must not call such a run clean. */
  readonly defects: readonly Error[];
}

const checked = new WeakMap<Checkable, CheckedDocument>();

/** Computed once for each model of a document. */
export function checkDocument(model: Checkable): CheckedDocument {
  const known = checked.get(model);
  if (known) return known;
  const defects: Error[] = [];
  const builds = model.builds.map((build) => ({ build, assessments: assessAll(build, defects) }));
  const findings = [
    ...model.problems.map(textFinding),
    ...builds.flatMap(({ build, assessments }) => buildFindings(build, assessments, defects)),
  ].sort(byPlace);
  const result = { builds, findings, defects };
  checked.set(model, result);
  return result;
}

export const findingsOf = (model: Checkable): readonly Finding[] => checkDocument(model).findings;

function assessAll(build: Build, defects: Error[]): Assessment[] {
  return build.packs.flatMap((option) => guarded(defects, () => [assess(build, option)]) ?? []);
}

function textFinding({ id, message, place, fixes, related }: Problem): Finding {
  const { severity } = TEXT_CHECKS[id];
  return { id, severity, message, place, numbers: [], related: related ?? [], fixes: fixes ?? [] };
}

/** A draft with the check and the pack it came from. */
interface Found {
  readonly check: Check;
  readonly draft: Draft;
  readonly option?: PackOption;
}

function buildFindings(build: Build, assessments: readonly Assessment[], defects: Error[]): Finding[] {
  const found: Found[] = [];
  for (const assessment of assessments) {
    const { option } = assessment;
    const ofOption = CHECKS.flatMap((check) =>
      draftsOn(check, build, assessment, defects).map((draft): Found => ({ check, draft, option })),
    );
    found.push(...folded(build, ofOption, defects));
  }
  for (const check of CHECKS) {
    const drafts = guarded(defects, () => [...(check.build?.({ build, assessments }) ?? [])]) ?? [];
    found.push(...drafts.map((draft): Found => ({ check, draft })));
  }

  const undecided = found.filter(({ draft }) => draft.severity === 'undecided');
  const decided = found.flatMap(({ check, draft, option }) => finding(build, check, draft, option));
  const note = guarded(defects, () => estimatesNote(build, assessments, undecided.map(({ draft }) => draft.question ?? draft.message)));
  return applyAcceptances(build, assessments, mergedByPlace([...decided, ...(note ? [note] : [])]));
}

const draftsOn = (check: Check, build: Build, assessment: Assessment, defects: Error[]): Draft[] =>
  guarded(defects, () => [...(check.option?.({ build, option: assessment.option, assessment }) ?? [])]) ?? [];

/** Drops findings that are consequences of another one on the same pack: they would go when that one is cured. */
function folded(build: Build, found: readonly Found[], defects: Error[]): Found[] {
  const gone = new Set<Found>();
  for (const cause of found) {
    if (!cause.check.folds || cause.draft.severity === 'undecided') continue;
    for (const consequence of found) {
      const isConsequence =
        cause.check.folds.includes(consequence.check.id) &&
        (cause.draft.about === undefined || cause.draft.about === consequence.draft.about);
      if (isConsequence && goesWith(build, cause, consequence, defects)) gone.add(consequence);
    }
  }
  return found.filter((one) => !gone.has(one));
}

/** Where the cure is a duty, the consequence must be gone at that duty; elsewhere it goes with its cause. */
function goesWith(build: Build, { draft, option }: Found, consequence: Found, defects: Error[]): boolean {
  if (draft.cure === undefined || !option) return true;
  const cured = { ...option, dutyLimit: { ...option.dutyLimit, value: draft.cure } };
  const assessment = guarded(defects, () => assess(build, cured));
  return assessment !== undefined && draftsOn(consequence.check, build, assessment, defects).every((left) => left.severity === 'undecided');
}

function finding(build: Build, check: Check, draft: Draft, option: PackOption | undefined): Finding[] {
  if (draft.severity === 'undecided') return [];
  return [
    {
      id: check.id,
      severity: ruledSeverity(build, check.id, draft.severity),
      message: draft.message,
      place: draft.place,
      build: build.name,
      ...(option && { pack: option.name }),
      numbers: draft.numbers,
      related: draft.related ?? [],
      fixes: draft.fixes ?? [],
    },
  ];
}

/** `raise F to …`, `lower F to …`: the build's own word beats its rules', the stricter of several rules wins. */
function ruledSeverity(build: Build, id: string, severity: Severity): Severity {
  const [change] = build.rules.severities.filter((rule) => rule.finding === id);
  return change ? change.to : severity;
}

/** One place, one message: where several packs meet the same trouble at the same line, the worst speaks and names the others. */
function mergedByPlace(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const one of findings) {
    const key = `${one.id} ${one.place.uri} ${one.place.start} ${one.place.end}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const [worst, ...others] = group.sort((a, b) => (a.severity === b.severity ? 0 : moreSevere(a.severity, b.severity) === a.severity ? -1 : 1));
    if (!worst || others.length === 0) return group;
    const also = others.map(({ pack, message }) => ({ message: pack ? `also on ${pack}: ${message}` : message, place: worst.place }));
    return [{ ...worst, related: [...worst.related, ...also] }];
  });
}

const byPlace = (a: Finding, b: Finding): number =>
  compare(a.place.uri, b.place.uri) || a.place.start - b.place.start || compare(a.id, b.id) || compare(a.pack ?? '', b.pack ?? '');

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** A check that throws loses its own findings only, and is reported. */
function guarded<T>(defects: Error[], run: () => T): T | undefined {
  try {
    return run();
  } catch (error) {
    defects.push(error instanceof Error ? error : new Error(String(error)));
    return undefined;
  }
}
