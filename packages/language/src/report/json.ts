import type { Assessment } from '../analysis/assessment.ts';
import { derivationOf } from '../analysis/derivation.ts';
import { expanded } from '../analysis/estimate.ts';
import { endsOf } from '../analysis/linearity.ts';
import { withGramsLeft } from '../analysis/pack-grams.ts';
import { leading } from '../analysis/sensitivity.ts';
import type { Finding } from '../checks/finding.ts';
import type { CheckedBuild } from '../checks/run.ts';
import type { Place } from '../model/place.ts';
import { displayUnit } from '../units/print.ts';
import type { Checked } from './checked.ts';

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/**
 * The whole run as one JSON text. Numbers stand in the unit beside them; ± is expanded (k = 2).
 * @param explain with each result, how it came about
 */
export const toJson = (checked: Checked, explain = false): string =>
  `${JSON.stringify(jsonOf(checked, explain), null, 2)}\n`;

function jsonOf(checked: Checked, explain: boolean) {
  return {
    version: VERSION,
    builds: checked.builds.map((build) => buildOf(checked, build, explain)),
    findings: checked.findings.map((finding) => findingOf(checked, finding)),
    failures: checked.failures,
  };
}

/** A build with its results on each pack. */
export function buildOf(checked: Checked, { build, assessments }: CheckedBuild, explain = false) {
  return {
    name: build.name,
    title: build.title,
    file: checked.pathOf(build.uri),
    options: assessments.map(withGramsLeft).map((assessment) => ({
      pack: assessment.option.name,
      dutyLimit: assessment.option.dutyLimit.value,
      calibratedBy: assessment.learnt?.from,
      results: Object.fromEntries(
        [...assessment.results.values()].map(({ name, unit, estimate }) => [
          name,
          {
            ...numberOf(estimate.value, expanded(estimate), unit),
            ...(explain && {
              straightLine: straightLineOf(name, unit, assessment),
              derivation: derivationJson(checked, name, assessment),
            }),
          },
        ]),
      ),
      missing: Object.fromEntries([...assessment.missing.values()].map(({ name, reason }) => [name, reason])),
    })),
  };
}

/** Whether the ± may be trusted as a straight line: what the result is with all inputs at either end, and if that is where it says. */
function straightLineOf(name: string, unitName: string, assessment: Assessment) {
  const ends = endsOf(name, assessment);
  const unit = displayUnit(unitName);
  return ends && { holds: ends.straight, low: tidy(unit.fromSI(ends.low)), high: tidy(unit.fromSI(ends.high)) };
}

/** How many of the inputs that make a ± are named. */
const MOST_NAMED = 5;

function derivationJson(checked: Checked, name: string, assessment: Assessment) {
  const derivation = derivationOf(name, assessment);
  const estimate = assessment.results.get(name)?.estimate;
  if (!derivation || !estimate) return undefined;
  const { formula, says, terms, source, neglects } = derivation;
  return {
    formula,
    says,
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
    causes: leading(estimate, assessment.inputs, MOST_NAMED).map(({ input, share }) => ({
      input: input.label,
      share: tidy(share),
    })),
  };
}

export function findingOf(checked: Checked, finding: Finding) {
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

function locationOf(checked: Checked, place: Place) {
  const excerpt = checked.sources.excerpt(place);
  return { file: checked.pathOf(place.uri), range: excerpt && { start: excerpt.start, end: excerpt.end } };
}

function numberOf(si: number, plusMinus: number | undefined, unitName: string) {
  const unit = displayUnit(unitName);
  const value = unit.fromSI(si);
  const width = plusMinus === undefined ? undefined : unit.fromSI(si + plusMinus) - value;
  return { value: tidy(value), unit: unitName, plusMinus: width === undefined ? undefined : tidy(width) };
}

/** Without the tail that binary fractions leave. */
const tidy = (value: number): number => Number(value.toPrecision(7));
