/** "What if": a build as it is and as it would be, on the same packs, with what is found of both. */
import type { Assessment } from '../../analysis/assessment.ts';
import { type Finding, packsOf } from '../../checks/finding.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { withoutTrialMarks } from '../../trial/trial.ts';
import { atLeast, isGraver, worstFirst } from '../../vocabulary/severities.ts';
import { type Comparison, compared } from '../compare/compare-data.ts';
import { withoutNumbers } from '../present/report-words.ts';

type Move = 'new' | 'worse' | 'eased' | 'gone';

export interface MovedFinding {
  readonly move: Move;
  /** As it is with the change; as it was where it is gone. */
  readonly finding: Finding;
  readonly packs: readonly string[];
}

export interface TriedPack {
  /** The pack before, and the one behind it. */
  readonly before: string;
  readonly after: string;
  /** Two columns: as it is, and as tried. */
  readonly comparison: Comparison;
}

export interface Tried {
  readonly build: string;
  readonly lines: readonly string[];
  readonly packs: readonly TriedPack[];
  readonly findings: readonly MovedFinding[];
}

/** A build with what was found about it. */
export interface TriedSide extends CheckedBuild {
  readonly findings: readonly Finding[];
}

/** @param pairs which pack before is compared with which one behind it */
export function triedOf(
  before: TriedSide,
  after: TriedSide,
  lines: readonly string[],
  pairs: readonly (readonly [Assessment, Assessment])[],
): Tried {
  const flown = new Set(pairs.map(([{ option }]) => option.name));
  const tried = new Set(pairs.map(([, { option }]) => option.name));
  return {
    build: before.build.name,
    lines,
    packs: pairs.map(([one, other]) => ({
      before: one.option.name,
      after: withoutTrialMarks(other.option.name),
      comparison: compared([one, other]),
    })),
    findings: moved(
      before.findings.filter((finding) => isOn(finding, flown)),
      after.findings.filter((finding) => isOn(finding, tried)).map(plain),
    ),
  };
}

const plain = (finding: Finding): Finding => ({
  ...finding,
  message: withoutTrialMarks(finding.message),
  ...(finding.pack !== undefined && { pack: withoutTrialMarks(finding.pack) }),
  ...(finding.packs && { packs: finding.packs.map(withoutTrialMarks) }),
});

const isOn = (finding: Finding, packs: ReadonlySet<string>): boolean => {
  const on = packsOf(finding);
  return on.length === 0 || on.some((pack) => packs.has(pack));
};

/** Of one check: those that report the same about the same line first, then any. */
function moved(before: readonly Finding[], after: readonly Finding[]): MovedFinding[] {
  const isOpen = ({ accepted, severity }: Finding) => accepted === undefined && atLeast(severity, 'information');
  const old = new Set(before.filter(isOpen));
  const pairs = new Map<Finding, Finding>();
  const alike: ((one: Finding, other: Finding) => boolean)[] = [
    (one, other) => withoutNumbers(one.message) === withoutNumbers(other.message),
    () => true,
  ];
  const now = after.filter(isOpen);
  for (const matches of alike) {
    for (const finding of now) {
      if (pairs.has(finding)) continue;
      const partner = [...old].find((one) => one.id === finding.id && matches(one, finding));
      if (!partner) continue;
      pairs.set(finding, partner);
      old.delete(partner);
    }
  }
  const changed = now.flatMap((finding): MovedFinding[] => {
    const was = pairs.get(finding);
    const spread = packsOf(finding).filter((pack) => was && packsOf(was).length > 0 && !packsOf(was).includes(pack));
    if (!was) return [{ move: 'new', finding, packs: packsOf(finding) }];
    if (finding.severity !== was.severity)
      return [{ move: isGraver(finding.severity, was.severity) ? 'worse' : 'eased', finding, packs: packsOf(finding) }];
    return spread.length > 0 && before.length > 0 && isSamePacks(before, after)
      ? [{ move: 'new', finding, packs: spread }]
      : [];
  });
  const gone = [...old].map((finding): MovedFinding => ({ move: 'gone', finding, packs: packsOf(finding) }));
  return [...changed, ...gone].sort(
    (a, b) => ORDER.indexOf(a.move) - ORDER.indexOf(b.move) || worstFirst(a.finding, b.finding),
  );
}

/** Where a pack was exchanged, every pack is another one. */
function isSamePacks(before: readonly Finding[], after: readonly Finding[]): boolean {
  const old = new Set(before.flatMap(packsOf));
  return after.flatMap(packsOf).some((pack) => old.has(pack));
}

const ORDER: readonly Move[] = ['new', 'worse', 'eased', 'gone'];
