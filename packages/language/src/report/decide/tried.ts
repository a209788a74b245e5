/** "What if": a build as it is and as it would be, on the same packs, with what is found of both. */
import type { Assessment } from '../../analysis/assessment.ts';
import type { Finding } from '../../checks/finding.ts';
import { atLeast, RANK } from '../../checks/grade.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import { asRead } from '../../trial/trial.ts';
import { type Comparison, compared } from '../compare/compare-data.ts';

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
export interface Side extends CheckedBuild {
  readonly findings: readonly Finding[];
}

/** @param pairs which pack before is compared with which one behind it */
export function triedOf(
  before: Side,
  after: Side,
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
      after: asRead(other.option.name),
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
  message: asRead(finding.message),
  ...(finding.pack !== undefined && { pack: asRead(finding.pack) }),
  ...(finding.packs && { packs: finding.packs.map(asRead) }),
});

const packsOf = ({ pack, packs }: Finding): readonly string[] => packs ?? (pack === undefined ? [] : [pack]);

const isOn = (finding: Finding, packs: ReadonlySet<string>): boolean => {
  const on = packsOf(finding);
  return on.length === 0 || on.some((pack) => packs.has(pack));
};

const withoutNumbers = (text: string): string => text.replace(/(?<!\w)[-−]?\d[\d.,]*/g, '#');

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
    const step = was ? RANK[finding.severity] - RANK[was.severity] : 0;
    const spread = packsOf(finding).filter((pack) => was && packsOf(was).length > 0 && !packsOf(was).includes(pack));
    if (!was) return [{ move: 'new', finding, packs: packsOf(finding) }];
    if (step !== 0) return [{ move: step > 0 ? 'worse' : 'eased', finding, packs: packsOf(finding) }];
    return spread.length > 0 && before.length > 0 && isSamePacks(before, after)
      ? [{ move: 'new', finding, packs: spread }]
      : [];
  });
  const gone = [...old].map((finding): MovedFinding => ({ move: 'gone', finding, packs: packsOf(finding) }));
  return [...changed, ...gone].sort(
    (a, b) => ORDER.indexOf(a.move) - ORDER.indexOf(b.move) || RANK[b.finding.severity] - RANK[a.finding.severity],
  );
}

/** Where a pack was exchanged, every pack is another one. */
function isSamePacks(before: readonly Finding[], after: readonly Finding[]): boolean {
  const old = new Set(before.flatMap(packsOf));
  return after.flatMap(packsOf).some((pack) => old.has(pack));
}

const ORDER: readonly Move[] = ['new', 'worse', 'eased', 'gone'];
