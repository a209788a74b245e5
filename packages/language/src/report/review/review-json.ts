import { changeIn, differenceIn, levelIn, locationIn } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import type { Change } from './changes.ts';
import type { ResultChange } from './differences.ts';
import { type FindingChange, isGone } from './finding-changes.ts';
import type { Relaxation } from './relaxations.ts';
import type { BuildReview, CausingChange, FlightReview, Review } from './review-data.ts';
import { reviewVerdictOf } from './review-verdict.ts';
import { sideOf } from './review-words.ts';

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/** Numbers are in the stated unit; ± is expanded (k = 2). Absent fields have nothing to report. */
export const reviewJson = (review: Review): string => jsonText(reviewData(review));

/** A review as plain data. */
export function reviewData(review: Review) {
  const { worry, sentence } = reviewVerdictOf(review);
  return {
    version: VERSION,
    base: review.base,
    head: review.head,
    verdict: { worry, sentence },
    buildsInAll: review.buildsInAll,
    builds: review.builds.map((build) => buildOf(review, build)),
    text: review.text.map((change) => findingOf(review, change)),
    shortlists: review.shortlists.map((change) => changeOf(review, change)),
    failures: review.failures,
    remarks: review.remarks,
    work: review.work,
  };
}

function buildOf(review: Review, build: BuildReview) {
  return {
    name: build.name,
    title: build.title,
    file: review.pathOf(build.uri),
    movedFrom: build.movedFrom === undefined ? undefined : review.pathOf(build.movedFrom),
    renamedFrom: build.renamedFrom,
    status: build.status,
    options: build.options.map(({ pack, status, results, flights }) => ({
      pack,
      status,
      flights: flights.length > 0 ? flights.map(legsOf) : undefined,
      results: Object.fromEntries(results.map((result) => [result.name, resultOf(result)])),
    })),
    findings: build.findings.map((change) => findingOf(review, change)),
    relaxations: build.relaxations.map((relaxation) => relaxationOf(review, relaxation)),
    hiddenTogether: build.hiddenTogether.length > 0 ? build.hiddenTogether : undefined,
    changes: build.causes.map((cause) => causeOf(review, build, cause)),
    sharesLeftOut: build.unshared || undefined,
  };
}

function resultOf({ unit, before, after, difference, beyond, reason }: ResultChange) {
  return {
    unit,
    before: before && levelIn(unit, before),
    after: after && levelIn(unit, after),
    difference: difference && changeIn(unit, difference),
    beyond,
    reason,
  };
}

function findingOf(review: Review, { status, finding, before, packs }: FindingChange) {
  return {
    status,
    id: finding.id,
    severity: finding.severity,
    was: before && before.severity !== finding.severity ? before.severity : undefined,
    message: finding.message,
    packs,
    accepted: finding.accepted,
    ...locationIn(sideOf(review, isGone({ status })), finding.place),
  };
}

function relaxationOf(review: Review, { what, how, of, before, after, place, failedOn, hides }: Relaxation) {
  return {
    what,
    how,
    of,
    before,
    after,
    failedOn: failedOn.length > 0 ? failedOn : undefined,
    hides: hides.length > 0 ? hides : undefined,
    ...locationIn(sideOf(review, after === undefined), place),
  };
}

const legsOf = ({ name, legs }: FlightReview) => ({
  name,
  legs: legs.map(({ text, before, after }) => ({
    text,
    unit: 'mAh',
    before: before && levelIn('mAh', before),
    after: after && levelIn('mAh', after),
  })),
});

function changeOf(review: Review, { kind, part, what, before, after, place }: Change) {
  return {
    change: kind,
    part,
    what,
    before,
    after,
    ...locationIn(sideOf(review, kind === 'removed'), place),
  };
}

function causeOf(review: Review, build: BuildReview, { change, shares, findings }: CausingChange) {
  const unitOf = new Map(build.options.flatMap(({ results }) => results.map(({ name, unit }) => [name, unit])));
  return {
    ...changeOf(review, change),
    shares:
      shares.size === 0
        ? undefined
        : Object.fromEntries(
            [...shares].map(([pack, ofPack]) => [
              pack,
              Object.fromEntries(
                ofPack.map(({ result, value }) => [
                  result,
                  { value: differenceIn(unitOf.get(result) ?? '', value), unit: unitOf.get(result) },
                ]),
              ),
            ]),
          ),
    findings: findings.length > 0 ? findings : undefined,
  };
}
