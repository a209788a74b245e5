import type { Assessment } from '../../analysis/assessment.ts';
import { type Derivation, derivationOf } from '../../analysis/explain/derivation.ts';
import type { DerivationTerm } from '../../analysis/explain/explanation.ts';
import { formatEstimate, formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { ResultId } from '../../vocabulary/results.ts';
import { notesWithSpread, originWords } from './derivation-words.ts';
import { type NamedSources, pathAndColumn } from './sources.ts';

/** How a result of a build on a pack came about, as a text; undefined where the build has no such result. */
export function explanationText(name: ResultId, assessment: Assessment, named: NamedSources): string | undefined {
  const result = assessment.results.get(name);
  const derivation = derivationOf(name, assessment);
  if (!result || !derivation) return undefined;
  const { build, option } = assessment;
  const lines = [
    `${name} of ${build.name} on ${option.name}: ${formatEstimate(result.estimate, result.unit)}`,
    derivation.description,
    '',
    `  ${derivation.formula}`,
    '',
    ...termLines(derivation, build.name, named),
    '',
    ...notesWithSpread(derivation, assessment),
  ];
  return `${lines.map(terminalSafe).join('\n')}\n`;
}

function termLines({ terms }: Derivation, build: string, named: NamedSources): string[] {
  const rows = terms.map((term) => [
    term.symbol,
    formatMeasurable(term, term.unit),
    term.label,
    whence(term, build, named),
  ]);
  const widths = [0, 1, 2].map((column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map(([symbol = '', value = '', label = '', from = '']) =>
    `  ${symbol.padEnd(widths[0] ?? 0)} = ${value.padEnd(widths[1] ?? 0)}   ${label.padEnd(widths[2] ?? 0)}   ${from}`.trimEnd(),
  );
}

/** Where a number comes from: another result, the line of a file, or the reason of an estimate. */
function whence(term: DerivationTerm, build: string, named: NamedSources): string {
  if (term.result) return `fettle explain ${term.result} ${build}`;
  // The parts that come with the language are in no file.
  const line = term.place && named.sources.excerpt(term.place) ? pathAndColumn(named, term.place) : '';
  // What is stated has its line.
  const origin = term.origin === undefined || term.origin === 'stated' ? '' : originWords(term.origin);
  return [origin, line, term.because ?? ''].filter(Boolean).join(', ');
}
