/** What was found in a log, what was predicted, and what would be learnt from it. */
import { assess, learntOn, setAsideOn } from '../../analysis/assess.ts';
import { flightFound, tooFull } from '../../analysis/learn/log-lines.ts';
import { type PackObserved, packsObserved } from '../../analysis/learn/observed-lines.ts';
import { type ComparedStretches, comparisonOf } from '../../analysis/log/comparison.ts';
import type { FlightInLog } from '../../analysis/log/flight-series.ts';
import { type Measurable, measurableOf } from '../../analysis/uncertainty/estimate.ts';
import { setAsideWords } from '../../checks/shared/set-aside-words.ts';
import type { Build } from '../../model/build.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import { resultOf } from '../../vocabulary/results.ts';

interface Taught {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly before: Measurable;
  readonly after: Measurable;
}

export interface ObserveData {
  readonly build: string;
  readonly pack: string;
  readonly title: string;
  readonly log: string;
  readonly observed: PackObserved;
  readonly flight: FlightInLog;
  readonly compared: readonly ComparedStretches[];
  /** Root mean square of what the volts over the logged current differ from what was predicted, relative. */
  readonly volts?: number;
  readonly taught: readonly Taught[];
  /** Why nothing, or not all of it, is learnt from: one message each. */
  readonly setAside: readonly string[];
  /** V per cell at rest before take-off, above what the pack's chemistry allows. */
  readonly tooFull?: { readonly cell: number; readonly full: number };
}

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
  return HEADLINES.observe.flatMap((name) => {
    const described = resultOf(name);
    const [one, other] = [measurableOf(name, first), measurableOf(name, then)];
    return described && one && other
      ? [{ name, label: described.label, unit: described.unit, before: one, after: other }]
      : [];
  });
}
