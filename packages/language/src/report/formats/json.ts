import type { Ends } from '../../analysis/uncertainty/linearity.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Place } from '../../syntax/place.ts';
import { interval } from '../../units/interval.ts';
import type { Unit } from '../../units/parse.ts';
import { displayUnit } from '../../units/print.ts';
import { jsonText } from '../present/json-text.ts';
import type { BuildRecord, ExplainedRecord, FlightRecord, LearntRecord, Recorded, ResultRecord } from './record.ts';

/** How places are reported. */
type Naming = Pick<Recorded, 'pathOf' | 'sources'>;

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/**
 * The whole run as one JSON text. Numbers are in the stated unit; ± is expanded (k = 2). Where a derivation is recorded it is
 * with its result.
 */
export const toJson = (checked: Recorded): string => jsonText(jsonOf(checked));

function jsonOf(checked: Recorded) {
  return {
    version: VERSION,
    builds: checked.builds.map((build) => buildOf(checked, build)),
    findings: checked.findings.map((finding) => findingOf(checked, finding)),
    failures: checked.failures.map(({ path, message }) => ({ path, message })),
  };
}

/** A build with its results on each pack. */
export function buildOf(checked: Naming, { name, title, uri, options }: BuildRecord) {
  return {
    name,
    title,
    file: checked.pathOf(uri),
    options: options.map(({ pack, dutyLimit, calibration, aged, results, missing, flights }) => ({
      pack,
      dutyLimit,
      calibratedBy: calibration?.sources.map(({ title, build, place }) => ({
        title,
        build,
        ...locationOf(checked, place),
      })),
      contradiction: calibration?.contradiction,
      aged,
      results: Object.fromEntries([...results].map(([result, record]) => [result, resultOf(checked, record)])),
      missing: Object.fromEntries(missing),
      ...(flights.length > 0 && { flights: flights.map((flight) => flightOf(checked, flight)) }),
    })),
  };
}

/** Its own results are among the others. */
function flightOf(checked: Naming, { name, title, legs, turnBack, reason }: FlightRecord) {
  const numberIf = (one: { value: number; plusMinus: number; unit: string } | undefined) =>
    one && knownOf(one.value, one.plusMinus, one.unit);
  return {
    name,
    title,
    legs: legs.map(({ text, place, time, charge, cellVoltage, restingVoltage, mass, cheapest, isShort }) => ({
      leg: text,
      ...locationOf(checked, place),
      time: numberIf(time),
      charge: numberIf(charge),
      cellVoltage: numberIf(cellVoltage),
      restingVoltage: numberIf(restingVoltage),
      mass: numberIf(mass),
      cheapest: numberIf(cheapest),
      ...(isShort && { short: true }),
    })),
    ...(turnBack && { turnBackInLeg: turnBack.leg + 1 }),
    reason,
  };
}

function resultOf(checked: Naming, { value, plusMinus, unit, ends, derivation }: ResultRecord) {
  return {
    ...knownOf(value, plusMinus, unit),
    ...(ends && { straightLine: straightLineOf(ends, unit) }),
    ...(derivation && { derivation: derivationOf(checked, derivation) }),
  };
}

/** Whether the ± may be trusted as a straight line: what the result is with all inputs at either end, and if that is the stated end. */
function straightLineOf({ straight, low, high }: Ends, unitName: string) {
  const unit = displayUnit(unitName);
  return { holds: straight, low: tidy(unit.fromSI(low)), high: tidy(unit.fromSI(high)) };
}

function derivationOf(
  checked: Naming,
  { formula, description, terms, source, neglects, causes, learnt }: ExplainedRecord,
) {
  return {
    formula,
    description,
    terms: terms.map(({ symbol, label, value, unit, plusMinus, origin, because, place, result }) => ({
      symbol,
      label,
      ...numberOf(value, plusMinus, unit),
      origin,
      because,
      result,
      ...(place && locationOf(checked, place)),
    })),
    source,
    neglects,
    causes: causes.map(({ input, share }) => ({ input, share: tidy(share) })),
    ...(learnt && { learnt: learntOf(learnt) }),
  };
}

function learntOf({ before, unit, from, forgets }: LearntRecord) {
  return {
    before: numberOf(before.value, before.plusMinus, unit),
    from: from.map(({ label, value, unit: read, predicted, plusMinus, share }) => ({
      label,
      measured: numberOf(value, undefined, read),
      ...(predicted !== undefined && { predicted: numberOf(predicted, plusMinus, read) }),
      share: tidy(share),
    })),
    ...(forgets.length > 0 && { forgets }),
  };
}

export function findingOf(checked: Naming, finding: Finding) {
  return {
    id: finding.id,
    severity: finding.severity,
    message: finding.message,
    ...locationOf(checked, finding.place),
    build: finding.build,
    pack: finding.pack,
    packs: finding.packs,
    numbers: Object.fromEntries(
      finding.numbers.map(({ name, value, unit, plusMinus }) => [name, numberOf(value, plusMinus, unit)]),
    ),
    related: finding.related.map(({ message, place }) => ({ message, ...locationOf(checked, place) })),
    fixes: finding.fixes.map(({ title, edits }) => ({
      title,
      edits: edits.map(({ place, newText }) => ({ ...locationOf(checked, place), newText })),
    })),
    accepted: finding.accepted,
  };
}

function locationOf(checked: Naming, place: Place) {
  const excerpt = checked.sources.excerpt(place);
  return { file: checked.pathOf(place.uri), range: excerpt && { start: excerpt.start, end: excerpt.end } };
}

function numberOf(si: number, plusMinus: number | undefined, unitName: string) {
  return plusMinus === undefined
    ? { value: tidy(displayUnit(unitName).fromSI(si)), unit: unitName }
    : knownOf(si, plusMinus, unitName);
}

function knownOf(si: number, plusMinus: number, unitName: string) {
  const unit = displayUnit(unitName);
  const value = unit.fromSI(si);
  const width = unit.fromSI(si + plusMinus) - value;
  return { value: tidy(value), unit: unitName, plusMinus: tidy(width), ...endsIn(unit, si, plusMinus) };
}

/** Of the interval that holds in about 95 of a hundred; its sides differ where the value is known badly. */
export function endsIn(unit: Unit, si: number, plusMinus: number) {
  const { low, high } = unit.dimension.point ? { low: si - plusMinus, high: si + plusMinus } : interval(si, plusMinus);
  return { low: tidy(unit.fromSI(low)), high: tidy(unit.fromSI(high)) };
}

/** Without the tail that binary fractions leave. */
const tidy = (value: number): number => Number(value.toPrecision(7));
