import type { Assessment } from '../../analysis/assessment.ts';
import { type Derivation, type DerivationTerm, derivationOf } from '../../analysis/explain/derivation.ts';
import { endsOf } from '../../analysis/uncertainty/linearity.ts';
import { leading } from '../../analysis/uncertainty/sensitivity.ts';
import { formatEstimate, percent } from '../../checks/shared/finding-numbers.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { formatPlusMinus } from '../../units/print.ts';
import type { Checked } from '../checked.ts';
import { roughWords, sourceWords } from './report-words.ts';
import { taughtWords } from './taught-words.ts';

/** How many of the inputs that make a ± are named. */
const MOST_NAMED = 5;

/** How a result of a build on a pack came about, as a text; undefined where the build has no such result. */
export function explanationText(name: string, assessment: Assessment, checked: Checked): string | undefined {
  const result = assessment.results.get(name);
  const derivation = derivationOf(name, assessment);
  if (!result || !derivation) return undefined;
  const { build, option } = assessment;
  const causes = leading(result.estimate, assessment.inputs, MOST_NAMED).filter(({ share }) => share >= 0.01);
  const rough = roughWords(endsOf(name, assessment), result.unit);
  const taught = taughtWords(derivation, result.unit);
  const lines = [
    `${name} of ${build.name} on ${option.name}: ${formatEstimate(result.estimate, result.unit)}`,
    derivation.description,
    '',
    `  ${derivation.formula}`,
    '',
    ...termLines(derivation, build.name, checked),
    '',
    `Source: ${derivation.source}`,
    ...(rough ? [rough] : []),
    ...(derivation.calibration ? [`Calibrated by: ${sourceWords(derivation.calibration)}`] : []),
    ...(taught === undefined ? [] : [taught]),
    ...(derivation.neglects ? [`Leaves out: ${derivation.neglects}`] : []),
    ...(causes.length > 0
      ? [
          `The ± comes from: ${causes.map(({ input, share }) => `${input.label} ${percent(share)}`).join(', ')} (of its variance)`,
        ]
      : []),
  ];
  return `${lines.map(terminalSafe).join('\n')}\n`;
}

function termLines({ terms }: Derivation, build: string, checked: Checked): string[] {
  const rows = terms.map((term) => [
    term.symbol,
    formatPlusMinus(term.value, term.plusMinus ?? 0, term.unit),
    term.label,
    whence(term, build, checked),
  ]);
  const widths = [0, 1, 2].map((column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map(([symbol = '', value = '', label = '', from = '']) =>
    `  ${symbol.padEnd(widths[0] ?? 0)} = ${value.padEnd(widths[1] ?? 0)}   ${label.padEnd(widths[2] ?? 0)}   ${from}`.trimEnd(),
  );
}

/** Where a number comes from: another result, the line of a file, or the reason of an estimate. */
function whence(term: DerivationTerm, build: string, checked: Checked): string {
  if (term.result) return `fettle explain ${term.result} ${build}`;
  const start = term.place && checked.sources.excerpt(term.place)?.start;
  const line = term.place && start ? `${checked.pathOf(term.place.uri)}:${start.line}:${start.column}` : '';
  return [term.origin === 'stated' ? '' : (term.origin ?? ''), line, term.because ?? ''].filter(Boolean).join(', ');
}
