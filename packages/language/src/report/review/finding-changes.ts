/** Findings of two versions side by side: what is new, gone, still there. */
import { ascending } from 'd3-array';
import type { Finding } from '../../checks/finding.ts';
import { atLeast, isGraver, worstFirst } from '../../vocabulary/severities.ts';
import { isSameSubject, type Subject } from './subjects.ts';

/**
 * `new`: there was none, or it was accepted before. `worse`, `eased`: of another severity; `worse` also: further past its limit than its ±
 * can explain. `accepted`: open before or not there, and
 * now accepted. `still-accepted`, `open`: as before. `resolved`: gone;
 * `hidden`: gone only because more is permitted.
 */
export type FindingStatus = 'new' | 'worse' | 'eased' | 'open' | 'resolved' | 'hidden' | 'accepted' | 'still-accepted';

export interface FindingChange {
  readonly status: FindingStatus;
  /** As it is now; as it was when it is resolved. */
  readonly finding: Finding;
  readonly before?: Finding;
  /** Packs that have this status; none when it is not about a pack. */
  readonly packs: readonly string[];
}

/** A finding and what it is about. */
export interface FindingAbout {
  readonly finding: Finding;
  readonly subject: Subject;
}

/** One finding on one pack. */
interface Single extends FindingAbout {
  readonly pack: string;
}

/** A finding of the same severity, as it was and is on one pack, where it got much worse; undefined elsewhere. */
export type Worsening = (
  before: Finding,
  after: Finding,
  pack: string,
) => { readonly before: Finding; readonly finding: Finding } | undefined;

export function findingChanges(
  before: readonly FindingAbout[],
  after: readonly FindingAbout[],
  worsening: Worsening = () => undefined,
): FindingChange[] {
  const old = before.flatMap(singles);
  const now = after.flatMap(singles);
  const pairs = paired(old, now);
  const kept = new Set(pairs.values());
  const changes = [
    ...now.map((single) => changeOf(pairs.get(single)?.finding, single, worsening)),
    ...old.filter((single) => !kept.has(single)).map(resolved),
  ];
  return merged(changes).sort(byStatusAndSeverity);
}

function singles({ finding, subject }: FindingAbout): Single[] {
  const packs = finding.packs ?? [finding.pack ?? ''];
  return packs.map((pack) => ({ finding, subject, pack }));
}

/** By the new one: those about the same, likeliest first. What is left over came or went. */
function paired(old: readonly Single[], now: readonly Single[]): Map<Single, Single> {
  const pairs = new Map<Single, Single>();
  const free = new Set(old);
  const rules: ((one: Single, other: Single) => boolean)[] = [
    (one, other) => one.subject.line === other.subject.line && one.finding.message === other.finding.message,
    (one, other) => one.subject.line === other.subject.line,
    (one, other) => one.subject.message === other.subject.message,
    () => true,
  ];
  for (const matches of rules) {
    for (const single of now) {
      if (pairs.has(single)) continue;
      const partner = [...free].find(
        (other) =>
          other.finding.id === single.finding.id &&
          other.pack === single.pack &&
          isSameSubject(single.subject, other.subject) &&
          matches(single, other),
      );
      if (!partner) continue;
      pairs.set(single, partner);
      free.delete(partner);
    }
  }
  return pairs;
}

interface SingleChange {
  readonly status: FindingStatus;
  readonly finding: Finding;
  readonly before?: Finding;
  readonly pack: string;
}

function changeOf(before: Finding | undefined, { finding, pack }: Single, worsening: Worsening): SingleChange {
  const status = statusOf(before, finding);
  if (before && (status === 'open' || status === 'still-accepted') && atLeast(finding.severity, 'warning')) {
    const worse = isGraver(finding.severity, before.severity) ? { before, finding } : worsening(before, finding, pack);
    if (worse) return { status: 'worse', ...worse, pack };
  }
  return { status, finding, ...(before && { before }), pack };
}

/** Whether it is known already and is only further past its limit, or accepted. */
export const isKnownAndWorse = ({ status, finding, before }: FindingChange): boolean =>
  status === 'worse' && (finding.severity === before?.severity || finding.accepted !== undefined);

const resolved = ({ finding, pack }: Single): SingleChange => ({ status: 'resolved', finding, before: finding, pack });

function statusOf(before: Finding | undefined, after: Finding): FindingStatus {
  if (after.accepted !== undefined) return before?.accepted === undefined ? 'accepted' : 'still-accepted';
  if (!before || before.accepted !== undefined) return 'new';
  if (after.severity === before.severity) return 'open';
  return isGraver(after.severity, before.severity) ? 'worse' : 'eased';
}

/** What happened alike on several packs is reported once. */
function merged(changes: readonly SingleChange[]): FindingChange[] {
  const groups = new Map<Finding, Map<FindingStatus, SingleChange[]>>();
  for (const change of changes) {
    const ofFinding = groups.get(change.finding) ?? new Map<FindingStatus, SingleChange[]>();
    groups.set(change.finding, ofFinding);
    ofFinding.set(change.status, [...(ofFinding.get(change.status) ?? []), change]);
  }
  return [...groups.values()].flatMap((ofFinding) =>
    [...ofFinding.values()].flatMap((group) => {
      const [first] = group;
      if (!first) return [];
      const { status, finding, before } = first;
      const packs = group.map(({ pack }) => pack).filter((pack) => pack !== '');
      return [{ status, finding, ...(before && { before }), packs }];
    }),
  );
}

const STATUS_ORDER: readonly FindingStatus[] = [
  'new',
  'worse',
  'hidden',
  'accepted',
  'eased',
  'resolved',
  'open',
  'still-accepted',
];

export const byStatusAndSeverity = (one: FindingChange, other: FindingChange): number =>
  STATUS_ORDER.indexOf(one.status) - STATUS_ORDER.indexOf(other.status) ||
  worstFirst(one.finding, other.finding) ||
  ascending(one.finding.id, other.finding.id) ||
  ascending(one.packs.join(), other.packs.join()) ||
  ascending(one.finding.place.uri, other.finding.place.uri) ||
  one.finding.place.start - other.finding.place.start;

/** Of the old version only. */
export const isGone = ({ status }: Pick<FindingChange, 'status'>): boolean =>
  status === 'resolved' || status === 'hidden';
