/** Computed values in words. Markdown. */

import type { Assessment, Estimate } from '../../analysis/assessment.ts';
import { nextMeasurement, WORTH } from '../../analysis/learn/next-measurement.ts';
import { expanded } from '../../analysis/uncertainty/estimate.ts';
import { endsOf } from '../../analysis/uncertainty/linearity.ts';
import { isModelForm, leading } from '../../analysis/uncertainty/sensitivity.ts';
import { printedFigure } from '../../analysis/uncertainty/spread.ts';
import { roughWords } from '../../report/present/report-words.ts';
import { formatPlusMinus, formatShare, formatValue } from '../../units/print.ts';
import { resultOf } from '../../vocabulary/results.ts';
import { type FolderSettings, preferredUnit } from '../engine/folder-settings.ts';
import { code, paragraphs, plain, table } from './hover-markdown.ts';

/** A share below this is not worth a line. */
const SMALL_SHARE = 0.05;
const CAUSES = 3;

/** `98.4 ± 1.9 g`, or a dash where there is no such value. */
export function printedResult(assessment: Assessment, name: string, settings: Units = { units: [] }): string {
  const result = assessment.results.get(name);
  return result === undefined ? '–' : plain(printed(result.estimate, preferredUnit(result.unit, settings)));
}

/** In which units a folder wants its values. */
export type Units = Pick<FolderSettings, 'units'>;

export function printed(estimate: Estimate, unit: string): string {
  return formatPlusMinus(estimate.value, expanded(estimate), unit);
}

/** What a result is, its value on each pack, and how it came about; `detail` comes last. */
export function resultText(
  name: string,
  assessments: readonly Assessment[],
  settings: Units,
  detail?: string,
): string | undefined {
  const schema = resultOf(name);
  if (schema === undefined) {
    return undefined;
  }
  const rows = assessments.map((assessment) => [
    code(assessment.option.name),
    printedResult(assessment, name, settings),
  ]);
  return paragraphs(
    `**${plain(schema.label)}** ${code(name)}`,
    plain(schema.description),
    rows.length === 0 ? undefined : table(['on', 'value'], rows),
    ...reasonsOf(name, assessments),
    assessments[0] && causesOf(name, assessments[0], assessments.length > 1),
    detail && '---',
    detail,
  );
}

function reasonsOf(name: string, assessments: readonly Assessment[]): string[] {
  const reasons = assessments.flatMap((assessment) => assessment.missing.get(name)?.reason ?? []);
  return [...new Set(reasons)].map((reason) => `No value: ${plain(reason)}`);
}

/** The numbers put in: the parts of a mass, or the inputs that the ± comes from. */
function causesOf(name: string, assessment: Assessment, severalPacks: boolean): string | undefined {
  const on = severalPacks ? ` on ${code(assessment.option.name)}` : '';
  const ledger = name === 'all_up_weight' ? ledgerOf(assessment) : undefined;
  const result = assessment.results.get(name);
  if (result === undefined) {
    return undefined;
  }
  const causes = leading(result.estimate, assessment.inputs, CAUSES).filter(({ share }) => share >= SMALL_SHARE);
  const rows = causes.map(({ input, share, contribution }) => [
    plain(input.label),
    isModelForm(input) ? '' : plain(printedFigure(input)),
    plain(formatShare(share)),
    plain(formatValue(Math.abs(contribution), differenceUnit(result.unit))),
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

/** A difference of temperatures is in kelvin, of times in seconds. */
function differenceUnit(unit: string): string {
  return unit === 'degC' ? 'K' : unit;
}

/** More digits of a ± state nothing. */
const twoDigits = (plusMinus: number): number => Number(plusMinus.toPrecision(2));

/** The one measurement that would narrow a result most. */
export function measureFirst(assessment: Assessment): string | undefined {
  for (const name of ['hover_time', 'thrust_to_weight', 'all_up_weight']) {
    const result = assessment.results.get(name);
    const advised = result && nextMeasurement(assessment, result.estimate);
    const now = result && expanded(result.estimate);
    if (result !== undefined && now && advised !== undefined && advised.plusMinusThen < (1 - WORTH) * now) {
      const from = formatValue(twoDigits(now), differenceUnit(result.unit));
      const to = formatValue(twoDigits(advised.plusMinusThen), differenceUnit(result.unit));
      if (from === to) continue;
      return `Measure first: **${plain(advised.what)}**. It takes the ± of ${plain(result.label)} from ${plain(from)} to ${plain(to)}.`;
    }
  }
  return undefined;
}
