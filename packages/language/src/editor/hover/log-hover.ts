/** What was found in a log: for the pointer on its line. */
import { comparisonsOf } from '../../analysis/log/comparison.ts';
import { flightIn } from '../../analysis/log/flight-in-log.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import type { FlightLog } from '../../model/build.ts';
import { differs, foundWords } from '../../report/observe/found-words.ts';
import { formatValue } from '../../units/print.ts';
import { paragraphs, plain } from './hover-markdown.ts';

export function logHover(log: FlightLog, checked: CheckedBuild | undefined): string {
  const flight = flightIn(log);
  if ('none' in flight) return `No flight: ${plain(flight.none)}.`;
  const found = foundWords(flight)
    .map((sentence) => `- ${plain(sentence)}`)
    .join('\n');
  const comparison = (checked?.assessments ?? [])
    .flatMap(({ build, option }) => comparisonsOf(build, option))
    .find((one) => one.flight.log.content === log.content);
  if (!comparison) return found;
  const rows = comparison.compared.map(
    ({ words, unit, measured, predicted, plusMinus }) =>
      `| ${plain(words)} | ${plain(formatValue(measured, unit))} | ${plain(formatMeasurable({ value: predicted, plusMinus }, unit))} |`,
  );
  const volts = comparison.volts && `Voltage over the logged current: ${differs(comparison.volts.rms)} off on average.`;
  return paragraphs(found, ['| | measured | by the build |', '|:--|--:|--:|', ...rows].join('\n'), volts);
}
