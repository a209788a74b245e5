/** How a result came about: formula, the numbers put in and where they come from, source. Markdown. */
import type { Assessment } from '../../analysis/assessment.ts';
import { type Derivation, type DerivationTerm, derivationOf } from '../../analysis/explain/derivation.ts';
import { sourceWords } from '../../report/present/report-words.ts';
import { taughtWords } from '../../report/present/taught-words.ts';
import { formatPlusMinus } from '../../units/print.ts';
import { resultOf } from '../../vocabulary/results.ts';
import { code, paragraphs, plain, table } from './hover-markdown.ts';
import { printedResult } from './results-hover.ts';

/** A section of a hover: formula, numbers, source. */
export function derivationText(name: string, assessment: Assessment): string | undefined {
  const derivation = derivationOf(name, assessment);
  return derivation && sectionOf(derivation, resultOf(name)?.unit ?? '');
}

/** The result, and below it every other result that it rests on, each once. */
export function wholeDerivation(name: string, assessment: Assessment): string | undefined {
  const first = derivationOf(name, assessment);
  if (first === undefined) {
    return undefined;
  }
  const derivations = new Map<string, Derivation>([[name, first]]);
  for (const { terms } of derivations.values()) {
    for (const { result } of terms) {
      const next = result === undefined || derivations.has(result) ? undefined : derivationOf(result, assessment);
      if (next !== undefined) {
        derivations.set(next.name, next);
      }
    }
  }
  const { build, option } = assessment;
  const head = `${plain(build.name)} on ${plain(option.name)}`;
  const [own, ...others] = [...derivations.values()].map(
    (derivation, index) =>
      `${index === 0 ? '#' : '##'} ${headingOf(derivation.name, assessment)}\n\n${sectionOf(derivation, resultOf(derivation.name)?.unit ?? '')}`,
  );
  const rest = others.length === 0 ? undefined : paragraphs('It depends on:', ...others);
  return `${paragraphs(head, own, rest)}\n`;
}

function headingOf(name: string, assessment: Assessment): string {
  return `${plain(resultOf(name)?.label ?? name)}: ${printedResult(assessment, name)}`;
}

function sectionOf(derivation: Derivation, unit: string): string {
  const { formula, description, terms, source, neglects, calibration } = derivation;
  const taught = taughtWords(derivation, unit);
  return paragraphs(
    code(formula),
    plain(description),
    terms.length === 0 ? undefined : table(['', 'value', 'what', 'from'], terms.map(rowOf), ['what', 'from']),
    `Source: ${plain(source)}.`,
    calibration && `Calibrated by ${plain(sourceWords(calibration))}.`,
    taught && `${plain(taught)}.`,
    neglects === undefined ? undefined : `Leaves out: ${plain(neglects)}.`,
  );
}

function rowOf({ symbol, label, value, unit, plusMinus, origin, because, result }: DerivationTerm): string[] {
  const from = result === undefined ? (origin === 'default' ? 'usual value' : (origin ?? '')) : 'computed';
  const why = because === undefined ? '' : ` (${plain(because)})`;
  return [code(symbol), plain(formatPlusMinus(value, plusMinus ?? 0, unit)), plain(label), from + why];
}
