/** What was found in a log, what was predicted, and what would be learnt from it. */
import { assess, learntOn, setAsideOn } from '../../analysis/assess.ts';
import type { Assessment } from '../../analysis/assessment.ts';
import { flightFound, tooFull } from '../../analysis/learn/log-lines.ts';
import { type PackObserved, packsObserved } from '../../analysis/learn/observed-lines.ts';
import { type Compared, comparisonOf } from '../../analysis/log/comparison.ts';
import type { FlightInLog } from '../../analysis/log/flight-series.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { setAsideWords } from '../../checks/shared/set-aside-words.ts';
import type { Build } from '../../model/build.ts';
import { resultOf } from '../../vocabulary/results.ts';

export interface Level {
  readonly value: number;
  /** k = 2 */
  readonly plusMinus: number;
}

interface Taught {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly before: Level;
  readonly after: Level;
}

export interface ObserveData {
  readonly build: string;
  readonly pack: string;
  readonly title: string;
  readonly log: string;
  readonly observed: PackObserved;
  readonly flight: FlightInLog;
  readonly compared: readonly Compared[];
  /** Root mean square of what the volts over the logged current differ from what was predicted, relative. */
  readonly volts?: number;
  readonly taught: readonly Taught[];
  /** Why nothing, or not all of it, is learnt from: one message each. */
  readonly setAside: readonly string[];
  /** V per cell at rest before take-off, above what the pack's chemistry allows. */
  readonly tooFull?: { readonly cell: number; readonly full: number };
}

/** What people decide by. */
const REPORTED = ['hover_power', 'hover_time', 'full_current', 'thrust_to_weight', 'land_by_hover_voltage'];

/** The build without one of its observations. */
const without = (build: Build, { id }: { readonly id: string }): Build => ({
  ...build,
  observations: build.observations.filter((one) => one.id !== id),
});

/** @param title of the observation that has the log; or why there is nothing to show */
export function observeData(build: Build, title: string): ObserveData | { readonly none: string } {
  const observed = packsObserved(build).find(({ observation }) => observation.title === title && observation.log);
  if (!observed) return { none: 'the log cannot be read' };
  const flight = flightFound(observed);
  if (typeof flight === 'string') return { none: flight };
  const before = without(build, observed.observation);
  const comparison = comparisonOf(observed, learntOn(before), true);
  if (!flight || !comparison)
    return { none: 'the build states too little to predict a flight: fettle check reports what is missing' };
  const full = tooFull(observed);
  return {
    build: build.name,
    pack: observed.option.name,
    title,
    log: flight.log.file,
    observed,
    flight,
    compared: comparison.compared,
    ...(comparison.volts && { volts: comparison.volts.rms }),
    taught: taughtBy(before, build, observed),
    setAside: setAsideOn(build)
      .filter(({ line, what }) => line.source === observed.observation.id && what !== 'line')
      .map((one) => setAsideWords(one)),
    ...(full && { tooFull: full }),
  };
}

function taughtBy(before: Build, after: Build, { option }: PackObserved): Taught[] {
  const [first, then] = [assess(before, option), assess(after, option)];
  return REPORTED.flatMap((name) => {
    const described = resultOf(name);
    const [one, other] = [levelOf(name, first), levelOf(name, then)];
    return described && one && other
      ? [{ name, label: described.label, unit: described.unit, before: one, after: other }]
      : [];
  });
}

function levelOf(name: string, { results }: Assessment): Level | undefined {
  const estimate = results.get(name)?.estimate;
  return estimate && { value: estimate.value, plusMinus: expanded(estimate) };
}
