/** `accept F below 30 A with P because "…"`: an accepted finding is shown with its reason and fails no run; one that got worse comes back. */
import { greatest } from 'd3-array';
import type { Assessment } from '../analysis/assessment.ts';
import type { Acceptance, Build, Figure } from '../model/build.ts';
import { asNamed } from '../model/named.ts';
import { equal } from '../units/dimension.ts';
import { displayUnit } from '../units/print.ts';
import type { Page } from '../vocabulary/finding-page.ts';
import type { Finding, FindingNumber } from './finding.ts';
import { formatExact } from './shared/finding-numbers.ts';

export const STALE_ACCEPTANCE_PAGE: Page = {
  title: 'Nothing is left to accept',
  cause:
    'The build accepts a finding that it no longer has. Left in, the line would hide the finding when it comes back for another reason.',
  criterion:
    'an `accept` that no finding of its build matches, or whose number is of another sort (`below 3 g` for a current) next to one of the right sort, while everything can be computed: hint.',
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
    const acceptance = acceptanceOf(build.acceptances, finding);
    if (!acceptance) return finding;
    used.add(acceptance);
    for (const one of build.acceptances) if (concerns(one, finding) && !otherSort(one, finding)) used.add(one);
    return accepted(finding, acceptance);
  });
  // While something cannot be computed nobody knows whether an acceptance is still needed.
  const complete = build.holes.size === 0 && assessments.every(({ points }) => points.hover && points.full);
  const stale = complete
    ? build.acceptances
        .filter((one) => !used.has(one) && !one.isUnfinished)
        .map((one) => staleAcceptance(build, one, findings))
    : [];
  return [...judged, ...stale];
}

/** Of those about the finding the one that reaches farthest: where it does not cover the finding, none does. */
export function acceptanceOf(acceptances: readonly Acceptance[], finding: Finding): Acceptance | undefined {
  const about = acceptances.filter((one) => concerns(one, finding));
  return greatest(about, (one) => reachOf(one, finding));
}

const concerns = (acceptance: Acceptance, finding: Finding): boolean =>
  acceptance.finding === finding.id && (acceptance.pack === undefined || acceptance.pack === finding.pack);

/** SI; the number from which on the finding is no longer accepted. One of another sort reaches nothing. */
function reachOf(acceptance: Acceptance, finding: Finding): number {
  if (otherSort(acceptance, finding)) return Number.NEGATIVE_INFINITY;
  return acceptance.below && finding.numbers.length > 0 ? acceptance.below.value : Number.POSITIVE_INFINITY;
}

/** "30 A, but what counts is 1.2": where the number of the acceptance can never cover the finding. */
function otherSort({ below }: Acceptance, { numbers: [principal] }: Finding): string | undefined {
  return below && principal && !isInUnitOf(principal, below)
    ? `${formatExact(below.value, below.unit)}, but what counts is ${formatExact(principal.value, principal.unit)}`
    : undefined;
}

function accepted(finding: Finding, acceptance: Acceptance): Finding {
  const { below, because, place } = acceptance;
  const [principal] = finding.numbers;
  const slip = otherSort(acceptance, finding);
  if (slip) {
    return {
      ...finding,
      message: `${finding.message} It is accepted below ${slip}.`,
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

function staleAcceptance(build: Build, acceptance: Acceptance, findings: readonly Finding[]): Finding {
  const { finding, pack, place, wholeLine } = acceptance;
  const met = findings.find((one) => concerns(acceptance, one));
  const slip = met && otherSort(acceptance, met);
  const reason = slip
    ? `Nothing is accepted below ${slip}.`
    : `Nothing is left to accept: ${build.name} has no ${finding}${pack ? ` on ${pack}` : ''}.`;
  return {
    id: 'stale-acceptance',
    severity: 'hint',
    message: `${reason} Take the line out.`,
    names: build.packs.filter(({ name }) => name === pack).map(asNamed),
    place,
    build: build.name,
    ...(pack !== undefined && { pack }),
    numbers: [],
    related: [],
    fixes: [{ title: 'Take the acceptance out', edits: [{ place: wholeLine, newText: '' }] }],
  };
}
