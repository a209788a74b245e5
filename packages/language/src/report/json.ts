import { expanded } from '../analysis/estimate.ts';
import type { Finding } from '../checks/finding.ts';
import type { CheckedBuild } from '../checks/run.ts';
import type { Place } from '../model/place.ts';
import { displayUnit } from '../units/print.ts';
import type { Checked } from './checked.ts';

/** Version of the JSON's shape; raised when a field changes its meaning or goes. */
const VERSION = 1;

/** The whole run as one JSON text. Numbers stand in the unit beside them; ± is expanded (k = 2). */
export const toJson = (checked: Checked): string => `${JSON.stringify(jsonOf(checked), null, 2)}\n`;

function jsonOf(checked: Checked) {
  return {
    version: VERSION,
    builds: checked.builds.map((build) => buildOf(checked, build)),
    findings: checked.findings.map((finding) => findingOf(checked, finding)),
    failures: checked.failures,
  };
}

function buildOf(checked: Checked, { build, assessments }: CheckedBuild) {
  return {
    name: build.name,
    title: build.title,
    file: checked.pathOf(build.uri),
    options: assessments.map((assessment) => ({
      pack: assessment.option.name,
      dutyLimit: assessment.option.dutyLimit.value,
      results: Object.fromEntries(
        [...assessment.results.values()].map(({ name, unit, estimate }) => [
          name,
          numberOf(estimate.value, expanded(estimate), unit),
        ]),
      ),
      missing: Object.fromEntries([...assessment.missing.values()].map(({ name, reason }) => [name, reason])),
    })),
  };
}

function findingOf(checked: Checked, finding: Finding) {
  return {
    id: finding.id,
    severity: finding.severity,
    message: finding.message,
    ...locationOf(checked, finding.place),
    build: finding.build,
    pack: finding.pack,
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
