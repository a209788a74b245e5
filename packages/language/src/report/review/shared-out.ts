/** Whether there is something to share out among the changes of a build. */
import type { Assessment } from '../../analysis/assessment.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import { atLeast } from '../../vocabulary/severities.ts';
import type { Change } from './changes.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isKnownAndWorse } from './finding-changes.ts';
import type { CausingChange, OptionReview } from './review-data.ts';
import type { ShareQuestion } from './shares.ts';
import type { SideBuild } from './side.ts';

export const withoutShares = (change: Change): CausingChange => ({ change, shares: new Map(), findings: [] });

/** What is there on one side only is reported as it is. */
export function alone({ results }: Assessment, side: 'before' | 'after'): ResultChange[] {
  return [...results.values()].map(({ name, label, unit, estimate }) => ({
    name,
    label,
    unit,
    [side]: measurable(estimate),
    beyond: true,
  }));
}

/** Only where several changes meet there is something to share out. */
export function questionOf(
  before: SideBuild,
  after: SideBuild,
  changes: readonly Change[],
  options: readonly OptionReview[],
  findings: readonly FindingChange[],
): ShareQuestion | undefined {
  if (changes.filter(({ edit }) => edit).length < 2) return undefined;
  const results = new Map(
    options
      .filter(({ status }) => status === 'changed')
      .map(({ pack, results: all }) => [pack, all.filter(({ beyond, difference }) => beyond && difference)] as const)
      .filter(([, differing]) => differing.length > 0),
  );
  const decided = findings.filter(
    (change) =>
      ['new', 'worse', 'resolved'].includes(change.status) &&
      atLeast(change.finding.severity, 'warning') &&
      !isKnownAndWorse(change),
  );
  if (results.size === 0 && decided.length === 0) return undefined;
  return { id: before.declaration.id, uri: after.build.uri, changes, results, findings: decided };
}
