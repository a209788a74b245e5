/** Whether a finding that was there before is about a much larger excess now, though its severity is the same. */

import type { Assessment } from '../../analysis/assessment.ts';
import { verdictOn } from '../../analysis/decide/pack-grams.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import type { Finding, FindingNumber } from '../../checks/finding.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import type { ComparisonOperator, Requirement } from '../../model/build.ts';
import { isSameStart } from '../../syntax/place.ts';

/** To which side a first number without a bound gets worse. */
const WORSE_SIDE: Readonly<Record<string, 1 | -1>> = {
  ratio: 1,
  current: 1,
  shortfall: 1,
  difference: 1,
  overlap: 1,
  all_up_weight: 1,
  hover_time: -1,
  wind_held: -1,
};

/** Of a number without ±, the share that nobody sees in a message; ours. */
const UNSEEN = 0.01;

/** By how much something is past its bound, with what the ± of it can explain. */
interface Excess {
  readonly name: string;
  readonly value: number;
  readonly slack: number;
}

/** Of a build in one version. */
export class Excesses {
  readonly #builds: readonly CheckedBuild[];
  readonly #alone = new Map<string, readonly Finding[]>();

  constructor(builds: readonly CheckedBuild[]) {
    this.#builds = builds;
  }

  /** The finding as it is on that pack: where several have it, only the worst one counts. */
  on(pack: string, finding: Finding): Finding {
    if (finding.packs === undefined) return finding;
    const own = this.#findingsOn(pack).find((one) => one.id === finding.id && isSameStart(one.place, finding.place));
    return own ?? finding;
  }

  of(pack: string, finding: Finding): Excess[] {
    for (const { build, assessments } of this.#builds) {
      const places = [finding.place, ...finding.related.map(({ place }) => place)];
      const requirement = build.rules.requirements.find((one) => places.some((place) => isSameStart(place, one.place)));
      const assessment = assessments.find(({ option }) => option.name === pack);
      if (requirement && assessment) return requiredExcesses(requirement, assessment);
    }
    return numberExcess(finding.numbers);
  }

  #findingsOn(pack: string): readonly Finding[] {
    const known = this.#alone.get(pack);
    if (known) return known;
    const builds = this.#builds.map(({ build }) => ({
      ...build,
      packs: build.packs.filter(({ name }) => name === pack),
    }));
    const { findings } = checkDocument({ problems: [], builds }, false);
    this.#alone.set(pack, findings);
    return findings;
  }
}

export const isMuchWorse = (before: readonly Excess[], after: readonly Excess[]): boolean =>
  after.some(({ name, value, slack }) => {
    const old = before.find((one) => one.name === name);
    return old !== undefined && value - old.value > Math.max(slack, old.slack);
  });

function requiredExcesses(requirement: Requirement, assessment: Assessment): Excess[] {
  return verdictOn(requirement, assessment).comparisons.map(({ operator, difference, outcome }, index) => ({
    name: `comparison ${index + 1}`,
    // What is met is past no limit.
    value: outcome === 'holds' ? 0 : Math.max(0, sideOf(operator) * difference.value),
    slack: expanded(difference),
  }));
}

const sideOf = (operator: ComparisonOperator): 1 | -1 => (operator.startsWith('<') ? 1 : -1);

function numberExcess(numbers: readonly FindingNumber[]): Excess[] {
  const [first, ...others] = numbers;
  if (!first) return [];
  const { name, value, unit, plusMinus } = first;
  // Further past its bound is worse.
  const bound = others.find((one) => one.isBound && one.unit === unit)?.value;
  const side = bound === undefined ? WORSE_SIDE[name] : Math.sign(value - bound);
  if (!side) return [];
  return [{ name, value: side * (value - (bound ?? 0)), slack: plusMinus ?? UNSEEN * Math.abs(value) }];
}
