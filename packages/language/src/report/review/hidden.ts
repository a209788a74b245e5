/** What a change only hides: the new craft, checked under the old limits, rules and acceptances. */
import type { Finding } from '../../checks/finding.ts';
import type { Build } from '../../model/build.ts';
import { atLeast, worstOpenFirst } from '../../vocabulary/severities.ts';
import { restored } from './as-before.ts';
import type { FindingChange } from './finding-changes.ts';
import type { Hidden, Loosening, Relaxation } from './relaxations.ts';

/** Loosened lines of one build that are tried one by one; of more only what they hide together is found out. */
const MOST_ALONE = 12;

export interface Forgiven {
  readonly relaxations: readonly Relaxation[];
  /** What no line hides alone, only several together. */
  readonly together: readonly Hidden[];
  /** All of it. */
  readonly hidden: readonly Hidden[];
}

/**
 * @param exchanged parts that another one replaced: what the former one’s limits would show is no more than named
 * @param check what is found on a build; what is for readers alone is not needed
 */
export function forgivenBy(
  build: Build,
  found: readonly Finding[],
  loosenings: readonly Loosening[],
  exchanged: readonly Loosening[],
  check: (build: Build) => readonly Finding[],
): Forgiven {
  if (loosenings.length + exchanged.length === 0) return { relaxations: [], together: [], hidden: [] };
  const hiddenBy = (some: readonly Loosening[]) =>
    hiddenIn(
      check(
        restored(
          build,
          some.map(({ restore }) => restore),
        ),
      ),
      found,
    );
  const all = loosenings.length === 0 ? [] : hiddenBy(loosenings);
  const joint = new Map(all.map((one) => [keyOf(one), one]));
  const isTriedAlone = all.length > 0 && loosenings.length > 1 && loosenings.length <= MOST_ALONE;
  const relaxations = loosenings.flatMap((loosening): Relaxation[] => {
    // With the others back it may be graver.
    const hides =
      loosenings.length === 1
        ? all
        : isTriedAlone
          ? hiddenBy([loosening]).map((one) => joint.get(keyOf(one)) ?? one)
          : [];
    return loosening.isAlways || hides.length > 0 ? [{ ...loosening.reported, hides }] : [];
  });
  const alone = new Set(relaxations.flatMap(({ hides }) => hides).map(keyOf));
  const together = all.filter((one) => !alone.has(keyOf(one)));
  const hidden = distinct([...all, ...relaxations.flatMap(({ hides }) => hides)]);
  const known = new Set(hidden.map(keyOf));
  const settled = exchanged.flatMap((one): Relaxation[] => {
    // A part with the limits of another one contradicts itself, which neither of the two does.
    const isMixed = one.reported.what === 'part';
    const hides = hiddenBy([...loosenings, one]).filter(
      (other) => !known.has(keyOf(other)) && !(isMixed && other.id === 'claims-disagree'),
    );
    return hides.length > 0 ? [{ ...one.reported, hides }] : [];
  });
  const settledAlone = new Set(settled.flatMap(({ hides }) => hides).map(keyOf));
  // A finding may be gone by either of two facts, or only by both.
  const restated = exchanged.filter(({ reported }) => reported.what === 'facts');
  const jointly = (some: readonly Loosening[]) =>
    hiddenBy([...loosenings, ...some]).filter((one) => !known.has(keyOf(one)) && !settledAlone.has(keyOf(one)));
  const rest = restated.length > 1 && restated.length <= MOST_ALONE ? jointly(restated) : [];
  const needed = rest.length === 0 ? [] : neededFor(restated, (some) => jointly(some).length >= rest.length);
  const both = needed.map((one): Relaxation => ({ ...one.reported, hides: rest, isJoint: true }));
  return { relaxations: [...relaxations, ...settled, ...both], together, hidden };
}

/** Those of them that are enough, none of which can be left out. */
function neededFor(all: readonly Loosening[], areEnough: (some: readonly Loosening[]) => boolean): Loosening[] {
  return all.reduce<Loosening[]>(
    (needed, one) => {
      const fewer = needed.filter((other) => other !== one);
      return areEnough(fewer) ? fewer : needed;
    },
    [...all],
  );
}

/** Findings of these that are not among those, or milder or accepted there. Estimates are no finding about the craft. */
function hiddenIn(strict: readonly Finding[], found: readonly Finding[]): Hidden[] {
  const left = new Map<string, Single[]>();
  for (const one of found.flatMap(singles)) left.set(one.key, [...(left.get(one.key) ?? []), one]);
  for (const ones of left.values()) ones.sort(byFinding);
  return strict
    .flatMap(singles)
    .filter(({ finding }) => finding.accepted === undefined && isAboutCraft(finding))
    .sort(byFinding)
    .flatMap(({ key, finding, pack }): Hidden[] => {
      const now = left.get(key)?.shift()?.finding;
      const isOpen = now !== undefined && now.accepted === undefined;
      if (isOpen && atLeast(now.severity, finding.severity)) return [];
      const { id, severity, message } = finding;
      return [{ id, severity, ...(isOpen && { now: now.severity }), message, ...(pack !== '' && { pack }) }];
    });
}

interface Single {
  readonly key: string;
  readonly finding: Finding;
  readonly pack: string;
}

function singles(finding: Finding): Single[] {
  const { id, place } = finding;
  const packs = finding.packs ?? [finding.pack ?? ''];
  return packs.map((pack) => ({ key: `${id} ${pack} ${place.uri} ${place.start}`, finding, pack }));
}

const byFinding = (one: Single, other: Single): number => worstOpenFirst(one.finding, other.finding);

const isAboutCraft = ({ id, severity }: Finding): boolean => id !== 'estimates' && atLeast(severity, 'information');

const keyOf = ({ id, pack = '' }: Hidden): string => `${id} ${pack}`;

const distinct = (all: readonly Hidden[]): Hidden[] => [...new Map(all.map((one) => [keyOf(one), one])).values()];

/** What seemed resolved, and is only hidden. */
export const withHidden = (changes: readonly FindingChange[], hidden: readonly Hidden[]): FindingChange[] => {
  const keys = new Set(hidden.map(keyOf));
  return changes.map((change) => {
    const { status, finding, packs } = change;
    const isHidden = (packs.length > 0 ? packs : ['']).some((pack) => keys.has(`${finding.id} ${pack}`));
    return status === 'resolved' && isHidden ? { ...change, status: 'hidden' } : change;
  });
};

/** Errors, or warnings, that nobody knows to be gone. */
export const isHidden = ({ status, finding }: FindingChange): boolean =>
  status === 'hidden' && finding.accepted === undefined && atLeast(finding.severity, 'warning');
