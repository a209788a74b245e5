import type { Ends } from '../../analysis/uncertainty/linearity.ts';
import type { Finding } from '../../checks/finding.ts';
import { locationIn, numberIn, spreadIn, tidy } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import type { NamedSources } from '../present/sources.ts';
import type { BuildRecord, ExplainedRecord, FlightRecord, LearntRecord, Recorded, ResultRecord } from './record.ts';

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/**
 * The whole run as one JSON text. Numbers are in the stated unit; ± is expanded (k = 2). Where a derivation is recorded it is
 * with its result.
 */
export const recordedJson = (checked: Recorded): string => jsonText(jsonOf(checked));

function jsonOf(checked: Recorded) {
  return {
    version: VERSION,
    builds: checked.builds.map((build) => buildOf(checked, build)),
    findings: checked.findings.map((finding) => findingOf(checked, finding)),
    failures: checked.failures.map(({ path, message }) => ({ path, message })),
  };
}

/** A build with its results on each pack. */
export function buildOf(checked: NamedSources, { name, title, uri, options }: BuildRecord) {
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
        ...locationIn(checked, place),
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
function flightOf(checked: NamedSources, { name, title, legs, turnBack, reason }: FlightRecord) {
  const numberIf = (one: { value: number; plusMinus: number; unit: string } | undefined) =>
    one && knownOf(one.value, one.plusMinus, one.unit);
  return {
    name,
    title,
    legs: legs.map(({ text, place, time, charge, cellVoltage, restingVoltage, mass, cheapest, isShort }) => ({
      leg: text,
      ...locationIn(checked, place),
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

function resultOf(checked: NamedSources, { value, plusMinus, unit, ends, derivation }: ResultRecord) {
  return {
    ...knownOf(value, plusMinus, unit),
    ...(ends && { straightLine: straightLineOf(ends, unit) }),
    ...(derivation && { derivation: derivationOf(checked, derivation) }),
  };
}

/** Whether the ± may be trusted as a straight line: what the result is with all inputs at either end, and if that is the stated end. */
const straightLineOf = ({ straight, low, high }: Ends, unit: string) => ({
  holds: straight,
  low: numberIn(unit, low),
  high: numberIn(unit, high),
});

function derivationOf(
  checked: NamedSources,
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
      ...(place && locationIn(checked, place)),
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

export function findingOf(checked: NamedSources, finding: Finding) {
  return {
    id: finding.id,
    severity: finding.severity,
    message: finding.message,
    ...locationIn(checked, finding.place),
    build: finding.build,
    pack: finding.pack,
    packs: finding.packs,
    numbers: Object.fromEntries(
      finding.numbers.map(({ name, value, unit, plusMinus }) => [name, numberOf(value, plusMinus, unit)]),
    ),
    related: finding.related.map(({ message, place }) => ({ message, ...locationIn(checked, place) })),
    fixes: finding.fixes.map(({ title, edits }) => ({
      title,
      edits: edits.map(({ place, newText }) => ({ ...locationIn(checked, place), newText })),
    })),
    accepted: finding.accepted,
  };
}

const numberOf = (si: number, plusMinus: number | undefined, unit: string) =>
  plusMinus === undefined ? { value: numberIn(unit, si), unit } : knownOf(si, plusMinus, unit);

const knownOf = (value: number, plusMinus: number, unit: string) => ({
  value: numberIn(unit, value),
  unit,
  ...spreadIn(unit, { value, plusMinus }),
});
