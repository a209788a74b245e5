/** Computed values in words. Markdown. */

import type { Assessment } from '../../analysis/assessment.ts';
import { nextMeasurement, WORTH } from '../../analysis/learn/next-measurement.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { endsOf } from '../../analysis/uncertainty/linearity.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { isModelForm, leading } from '../../analysis/uncertainty/sensitivity.ts';
import { printedFigure } from '../../analysis/uncertainty/spread.ts';
import { roughWords } from '../../report/present/report-words.ts';
import { formatDifference, formatShare } from '../../units/print.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import { type ResultId, resultOf } from '../../vocabulary/results.ts';
import { type FolderSettings, preferredUnit } from '../engine/folder-settings.ts';
import { fettleCode, paragraphs, plain, table } from './hover-markdown.ts';

/** A share below this is not worth a line. */
const SMALL_SHARE = 0.05;
const CAUSES = 3;

/** `98.4 ± 1.9 g`, or a dash where there is no such value. */
export function printedResult(assessment: Assessment, name: ResultId, settings: Units = { units: [] }): string {
  const result = assessment.results.get(name);
  return result === undefined ? '–' : plain(formatEstimate(result.estimate, preferredUnit(result.unit, settings)));
}

/** In which units a folder wants its values. */
export type Units = Pick<FolderSettings, 'units'>;

/** What a result is, its value on each pack, and how it came about; `detail` comes last. */
export function resultText(
  name: ResultId,
  assessments: readonly Assessment[],
  settings: Units,
  detail?: string,
): string {
  const schema = resultOf(name);
  const rows = assessments.map((assessment) => [
    fettleCode(assessment.option.name),
    printedResult(assessment, name, settings),
  ]);
  return paragraphs(
    `**${plain(schema.label)}** ${fettleCode(name)}`,
    plain(schema.description),
    rows.length === 0 ? undefined : table(['on', 'value'], rows),
    ...reasonsOf(name, assessments),
    assessments[0] && causesOf(name, assessments[0], assessments.length > 1),
    detail && '---',
    detail,
  );
}

function reasonsOf(name: ResultId, assessments: readonly Assessment[]): string[] {
  const reasons = assessments.flatMap((assessment) => assessment.missing.get(name)?.reason ?? []);
  return [...new Set(reasons)].map((reason) => `No value: ${plain(reason)}`);
}

/** The numbers put in: the parts of a mass, or the inputs that the ± comes from. */
function causesOf(name: ResultId, assessment: Assessment, severalPacks: boolean): string | undefined {
  const on = severalPacks ? ` on ${fettleCode(assessment.option.name)}` : '';
  const ledger = name === 'all_up_weight' ? ledgerOf(assessment) : undefined;
  const result = assessment.results.get(name);
  if (result === undefined) return undefined;
  const causes = leading(result.estimate, assessment.inputs, CAUSES).filter(({ share }) => share >= SMALL_SHARE);
  const rows = causes.map(({ input, share, contribution }) => [
    plain(input.label),
    isModelForm(input) ? '' : plain(printedFigure(input)),
    plain(formatShare(share)),
    plain(formatDifference(Math.abs(contribution), result.unit)),
  ]);
  const inputs = rows.length === 0 ? undefined : table(['± mostly from', 'input', 'share', 'makes ±'], rows);
  const uneven = roughWords(endsOf(name, assessment), result.unit);
  return paragraphs(
    ledger && `Summed${on}:\n\n${ledger}`,
    inputs && on && !ledger ? `Here${on}:` : undefined,
    inputs,
    uneven && plain(uneven),
  );
}

function ledgerOf(assessment: Assessment): string {
  const rows = assessment.masses.map(({ label, count, mass }) => [
    plain(count > 1 ? `${count} x ${label}` : label),
    plain(printedFigure(mass)),
  ]);
  return table(['part', 'mass'], rows);
}

/** More digits of a ± state nothing. */
const twoDigits = (plusMinus: number): number => Number(plusMinus.toPrecision(2));

/** The one measurement that would narrow a result most. */
export function measureFirst(assessment: Assessment): string | undefined {
  for (const name of HEADLINES.measure) {
    const result = assessment.results.get(name);
    const advised = result && nextMeasurement(assessment, result.estimate);
    const now = result && expanded(result.estimate);
    if (result !== undefined && now && advised !== undefined && advised.plusMinusThen < (1 - WORTH) * now) {
      const from = formatDifference(twoDigits(now), result.unit);
      const to = formatDifference(twoDigits(advised.plusMinusThen), result.unit);
      if (from === to) continue;
      return `Measure first: **${plain(advised.what)}**. It takes the ± of ${plain(result.label)} from ${plain(from)} to ${plain(to)}.`;
    }
  }
  return undefined;
}
