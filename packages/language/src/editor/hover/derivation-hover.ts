/** How a result came about: formula, the numbers put in and where they come from, source. Markdown. */
import type { Assessment } from '../../analysis/assessment.ts';
import { type Derivation, derivationOf } from '../../analysis/explain/derivation.ts';
import type { DerivationTerm } from '../../analysis/explain/explanation.ts';
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { notesOf, notesWithSpread, originWords } from '../../report/present/derivation-words.ts';
import { type ResultId, resultOf } from '../../vocabulary/results.ts';
import { fettleCode, paragraphs, plain, table } from './hover-markdown.ts';
import { printedResult } from './results-hover.ts';

/** A section of a hover: formula, numbers, source. */
export function derivationText(name: ResultId, assessment: Assessment): string | undefined {
  const derivation = derivationOf(name, assessment);
  return derivation && sectionOf(derivation, notesOf(derivation));
}

/** The result, and below it every other result that it rests on, each once. */
export function wholeDerivation(name: ResultId, assessment: Assessment): string | undefined {
  const first = derivationOf(name, assessment);
  if (first === undefined) return undefined;
  const derivations = new Map<ResultId, Derivation>([[name, first]]);
  for (const { terms } of derivations.values()) {
    for (const { result } of terms) {
      const next = result === undefined || derivations.has(result) ? undefined : derivationOf(result, assessment);
      if (next !== undefined) derivations.set(next.name, next);
    }
  }
  const { build, option } = assessment;
  const head = `${plain(build.name)} on ${plain(option.name)}`;
  const [own, ...others] = [...derivations.values()].map((derivation, index) => {
    const [mark, notes] = index === 0 ? ['#', notesWithSpread(derivation, assessment)] : ['##', notesOf(derivation)];
    return `${mark} ${headingOf(derivation.name, assessment)}\n\n${sectionOf(derivation, notes)}`;
  });
  const rest = others.length === 0 ? undefined : paragraphs('It depends on:', ...others);
  return `${paragraphs(head, own, rest)}\n`;
}

function headingOf(name: ResultId, assessment: Assessment): string {
  return `${plain(resultOf(name).label)}: ${printedResult(assessment, name)}`;
}

function sectionOf({ formula, description, terms }: Derivation, notes: readonly string[]): string {
  return paragraphs(
    fettleCode(formula),
    plain(description),
    terms.length === 0 ? undefined : table(['', 'value', 'what', 'from'], terms.map(rowOf), ['what', 'from']),
    ...notes.map((note) => `${plain(note).replace(/\.$/, '')}.`),
  );
}

function rowOf(term: DerivationTerm): string[] {
  const { symbol, label, unit, origin, because, result } = term;
  const from = result === undefined ? (origin ? originWords(origin) : '') : 'computed';
  const why = because === undefined ? '' : ` (${plain(because)})`;
  return [fettleCode(symbol), plain(formatMeasurable(term, unit)), plain(label), from + why];
}
