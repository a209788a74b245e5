import type { Place } from '../../syntax/place.ts';
import { displayUnit } from '../../units/print.ts';
import { endsIn } from '../formats/json.ts';
import { jsonText } from '../present/json-text.ts';
import type { Sources } from '../present/sources.ts';
import type { Change } from './changes.ts';
import type { BuildReview, Cause, FlightReview, Review } from './data.ts';
import type { Measured, ResultChange } from './differences.ts';
import type { FindingChange } from './finding-changes.ts';
import { isGone } from './raised-limits.ts';
import type { Relaxation } from './relaxations.ts';
import { verdictOf } from './review-verdict.ts';

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/** Numbers are in the stated unit; ± is expanded (k = 2). Absent fields have nothing to report. */
export const toJson = (review: Review): string => jsonText(jsonOf(review));

/** A review as plain data. */
export function jsonOf(review: Review) {
  const { worry, sentence } = verdictOf(review);
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
    before: before && numberOf(before, unit),
    after: after && numberOf(after, unit),
    difference: difference && differenceOf(difference, unit),
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
    ...locationOf(review, finding.place, isGone({ status }) ? review.before : review.after),
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
    ...locationOf(review, place, after === undefined ? review.before : review.after),
  };
}

const legsOf = ({ name, legs }: FlightReview) => ({
  name,
  legs: legs.map(({ text, before, after }) => ({
    text,
    unit: 'mAh',
    before: before && numberOf(before, 'mAh'),
    after: after && numberOf(after, 'mAh'),
  })),
});

function changeOf(review: Review, { kind, part, what, before, after, place }: Change) {
  return {
    change: kind,
    part,
    what,
    before,
    after,
    ...locationOf(review, place, kind === 'removed' ? review.before : review.after),
  };
}

function causeOf(review: Review, build: BuildReview, { change, shares, findings }: Cause) {
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
                  {
                    value: differenceOf({ value, plusMinus: 0 }, unitOf.get(result) ?? '').value,
                    unit: unitOf.get(result),
                  },
                ]),
              ),
            ]),
          ),
    findings: findings.length > 0 ? findings : undefined,
  };
}

function locationOf(review: Review, place: Place, sources: Sources) {
  const excerpt = sources.excerpt(place);
  return { file: review.pathOf(place.uri), range: excerpt && { start: excerpt.start, end: excerpt.end } };
}

function numberOf({ value, plusMinus }: Measured, unitName: string) {
  const unit = displayUnit(unitName);
  const shown = unit.fromSI(value);
  return {
    value: tidy(shown),
    plusMinus: tidy(unit.fromSI(value + plusMinus) - shown),
    ...endsIn(unit, value, plusMinus),
  };
}

/** A difference has no zero to begin at. */
function differenceOf({ value, plusMinus }: Measured, unitName: string) {
  const unit = displayUnit(unitName);
  const zero = unit.fromSI(0);
  return { value: tidy(unit.fromSI(value) - zero), plusMinus: tidy(unit.fromSI(plusMinus) - zero) };
}

/** Without the tail that binary fractions leave. */
const tidy = (value: number): number => Number(value.toPrecision(7));
