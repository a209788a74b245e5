/** `accept F below 30 A with P because "…"`: an accepted finding is shown with its reason and fails no run; one that got worse comes back. */
import type { Assessment } from '../analysis/assessment.ts';
import type { Acceptance, Build, Figure } from '../model/build.ts';
import { equal } from '../units/dimension.ts';
import { displayUnit } from '../units/print.ts';
import type { Page } from './check.ts';
import type { Finding, FindingNumber } from './finding.ts';
import { formatExact } from './shared/finding-numbers.ts';

export const STALE_ACCEPTANCE_PAGE: Page = {
  title: 'Nothing is left to accept',
  cause:
    'The build accepts a finding that it no longer has. Left in, the line would hide the finding when it comes back for another reason.',
  criterion: 'an `accept` that no finding of its build matches, while everything can be computed: hint.',
  standing: 'The language.',
  remedy: 'Take the line out.',
  fixes: ['choice'],
  fails: `build Forgiving like Healthy {
  accept pack-oversag because "two-second bursts only"
}`,
  passes: `build Strict like Healthy {
  pack: Mast900_4S as Strict
}`,
};

/** @param behind findings folded into another one: they may come back when that is cured, so accepting them is not idle */
export function applyAcceptances(
  build: Build,
  assessments: readonly Assessment[],
  findings: readonly Finding[],
  behind: readonly Finding[],
): Finding[] {
  const used = new Set(build.acceptances.filter((one) => behind.some((finding) => concerns(one, finding))));
  const judged = findings.map((finding) => {
    const acceptance = build.acceptances.find((one) => concerns(one, finding));
    if (!acceptance) return finding;
    used.add(acceptance);
    return accepted(finding, acceptance);
  });
  // While something cannot be computed nobody knows whether an acceptance is still needed.
  const complete = build.holes.size === 0 && assessments.every(({ points }) => points.hover && points.full);
  const stale = complete
    ? build.acceptances.filter((one) => !used.has(one) && !one.isUnfinished).map((one) => staleAcceptance(build, one))
    : [];
  return [...judged, ...stale];
}

const concerns = (acceptance: Acceptance, finding: Finding): boolean =>
  acceptance.finding === finding.id && (acceptance.pack === undefined || acceptance.pack === finding.pack);

function accepted(finding: Finding, { below, because, place }: Acceptance): Finding {
  const [principal] = finding.numbers;
  if (below && principal && !isInUnitOf(principal, below)) {
    const now = formatExact(principal.value, principal.unit);
    return {
      ...finding,
      message: `${finding.message} It is accepted below ${formatExact(below.value, below.unit)}, but what counts is ${now}.`,
      related: [...finding.related, { message: 'accepted here', place }],
    };
  }
  if (below && principal && principal.value >= below.value) {
    const now = formatExact(principal.value, principal.unit);
    return {
      ...finding,
      message: `${finding.message} It was accepted below ${formatExact(below.value, below.unit)}; it is now ${now}.`,
      related: [...finding.related, { message: 'accepted here', place }],
    };
  }
  return { ...finding, accepted: because ?? 'no reason given' };
}

/** A share is printed in percent: a bare number next to it may mean either. */
function isInUnitOf({ unit }: FindingNumber, { dimension, unit: written }: Figure): boolean {
  return equal(displayUnit(unit).dimension, dimension) && (unit !== '%' || written !== '');
}

const staleAcceptance = (build: Build, { finding, pack, place, wholeLine }: Acceptance): Finding => ({
  id: 'stale-acceptance',
  severity: 'hint',
  message: `Nothing is left to accept: ${build.name} has no ${finding}${pack ? ` on ${pack}` : ''}. Take the line out.`,
  place,
  build: build.name,
  ...(pack !== undefined && { pack }),
  numbers: [],
  related: [],
  fixes: [{ title: 'Take the acceptance out', edits: [{ place: wholeLine, newText: '' }] }],
});
