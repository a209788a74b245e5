/** Whether a check reports an error, without what its finding consists of: for candidates by the thousand. */
import type { Assessment } from '../analysis/assessment.ts';
import type { Build } from '../model/build.ts';
import type { CraftCheckId } from '../vocabulary/findings.ts';
import type { Check } from './check.ts';
import { CHECKS } from './registry.ts';
import { ruledSeverity } from './run.ts';

/** Of what is an error here an acceptance or a cause may still take the finding away; of what is none `buildFindings` makes none. */
export function isErrorBy(check: Check, build: Build, assessment: Assessment): boolean {
  const { option } = assessment;
  for (const { severity } of check.option?.({ build, option, assessment }) ?? [])
    if (severity !== 'undecided' && ruledSeverity(build, check.id, severity) === 'error') return true;
  for (const { severity } of check.build?.({ build, assessments: [assessment] }) ?? [])
    if (severity !== 'undecided' && ruledSeverity(build, check.id, severity) === 'error') return true;
  return false;
}

/** Only rules make errors of some. */
export const canBeError = ({ id, atMost }: Check, { rules }: Build): boolean =>
  atMost === undefined || rules.severities.some(({ finding, to }) => finding === id && to === 'error');

/** Checks of the parts as such: no pack and no ± of a result changes them. */
const OF_PARTS: ReadonlySet<CraftCheckId> = new Set(
  CHECKS.flatMap(({ id, option, build }) => (build && !option ? [id] : [])),
);

/**
 * Parts first, then causes before what they fold: the first error in this order is no consequence of another one. Of checks that fold each other the
 * one that is registered first.
 */
export const CAUSES_FIRST: readonly Check[] = [
  ...CHECKS.filter(({ id }) => OF_PARTS.has(id)),
  ...causesFirst(CHECKS.filter(({ id }) => !OF_PARTS.has(id))),
];

function causesFirst(checks: readonly Check[]): Check[] {
  const behind = new Map(checks.map((check) => [check.id, consequencesOf(check, checks)]));
  const comesBefore = (one: Check, other: Check) =>
    behind.get(one.id)?.has(other.id) === true && behind.get(other.id)?.has(one.id) !== true;
  const left = [...checks];
  const ordered: Check[] = [];
  while (left.length > 0) {
    const next = left.findIndex((check) => !left.some((other) => comesBefore(other, check)));
    ordered.push(...left.splice(next, 1));
  }
  return ordered;
}

/** Those that it folds, those that these fold, and so on. */
function consequencesOf(check: Check, checks: readonly Check[]): ReadonlySet<string> {
  const found = new Set<string>(check.folds);
  for (const id of found) for (const next of checks.find((one) => one.id === id)?.folds ?? []) found.add(next);
  return found;
}
