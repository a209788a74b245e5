/** `fettle measure BUILD`: what to measure next with the tools at hand. */

import type { Assessment, Estimate } from '../analysis/assessment.ts';
import { withResult } from '../analysis/decide/pack-grams.ts';
import { measurementsFor, type Ranked } from '../analysis/learn/next-measurement.ts';
import { expanded, measurable } from '../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../analysis/uncertainty/print-estimate.ts';
import { worthMeasuring } from '../analysis/uncertainty/sensitivity.ts';
import { differenceIn, levelIn, numberIn, tidy } from '../report/present/json-number.ts';
import { jsonText } from '../report/present/json-text.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { formatDifference, formatValue } from '../units/print.ts';
import { MEASURING_TOOLS, type MeasuringTool } from '../vocabulary/measuring.ts';
import { resultIdOf } from '../vocabulary/results.ts';
import { worstOf } from './checked-files.ts';
import type { ListFormat } from './formats.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { notThere, Refusal } from './refuse.ts';

/** Hardly anybody has one. */
const ALL_BUT_A_STAND = MEASURING_TOOLS.filter((tool) => tool !== 'stand');

export interface MeasureOptions {
  readonly have?: readonly MeasuringTool[];
  readonly for: string;
  readonly with?: string;
  readonly format: ListFormat;
}

interface Advised {
  readonly assessment: Assessment;
  readonly unit: string;
  readonly label: string;
  readonly estimate: Estimate;
  readonly ranked: readonly Ranked[];
  /** Where nothing at hand helps: the one figure that would. */
  readonly otherwise?: { readonly what: string; readonly plusMinusThen: number };
}

/** Prints what to measure next; returns the exit code. */
export async function measure(name: string, paths: readonly string[], options: MeasureOptions): Promise<number> {
  const checked = await checkedAt(paths, [name]);
  const known = assessmentsOn(options.with === undefined ? undefined : [options.with], buildNamed(name, checked));
  const [first] = known;
  if (!first) throw new Refusal(`nothing can be computed for ${name} yet: fettle check reports why`);
  const advised = adviseOn(first, options);
  const print = { text: asText, json: asJson }[options.format];
  process.stdout.write(print(name, options, advised));
  return worstOf(checked.failures);
}

function adviseOn(found: Assessment, { for: result, have = ALL_BUT_A_STAND }: MeasureOptions): Advised {
  const id = resultIdOf(result);
  if (!id) throw notThere('result', result, [...found.results.keys()]);
  const assessment = withResult(id, found);
  const of = assessment.results.get(id);
  const missing = assessment.missing.get(id);
  if (missing) throw new Refusal(`${result} cannot be computed: ${missing.reason}`);
  if (!of) throw notThere('result', result, [...assessment.results.keys()]);
  const { estimate, unit, label } = of;
  const ranked = measurementsFor(assessment, estimate, have);
  const advice = ranked.length === 0 ? worthMeasuring(estimate, assessment.inputs) : undefined;
  const isOfUse = advice && advice.plusMinusWithout < 0.9 * expanded(estimate);
  return {
    assessment,
    unit,
    label,
    estimate,
    ranked,
    ...(advice && isOfUse && { otherwise: { what: advice.how, plusMinusThen: advice.plusMinusWithout } }),
  };
}

function asText(name: string, { have = ALL_BUT_A_STAND }: MeasureOptions, advised: Advised): string {
  const { assessment, unit, label, estimate, ranked, otherwise } = advised;
  const half = (plusMinus: number) => `±${formatDifference(plusMinus, unit, 2)}`;
  const now = expanded(estimate);
  const head = `${name} on ${assessment.option.name}: ${label} ${formatEstimate(estimate, unit)}\n\n`;
  if (ranked.length === 0) {
    const tools = have.join(', ');
    const other = otherwise
      ? ` What would: ${otherwise.what}; then ${half(otherwise.plusMinusThen)}.`
      : ' No single measurement does.';
    return terminalSafe(head.trimEnd()).concat(
      `\n\n${terminalSafe(`With ${tools} no measurement narrows it by a tenth.${other}`)}\n`,
    );
  }
  const items = ranked.map((one, i) => {
    const effect = `${half(now)} → ${half(one.plusMinusThen)}`;
    const lines = one.lines.map(
      (line) => `       ${line.property}: ${formatValue(line.value, line.unit)}${line.clause ? ` ${line.clause}` : ''}`,
    );
    const block = one.id === 'log' || one.lines.length === 0 ? [] : ['     Expected:', ...lines];
    return [
      terminalSafe(`${i + 1}  ${one.what}`),
      `     ${effect}, with ${one.tools.join(', ')}`,
      `     ${terminalSafe(one.how)}`,
      ...block,
    ].join('\n');
  });
  const where = ranked.some(({ id }) => id !== 'capacity' && id !== 'stand')
    ? '\n\nWrite what you read into an observed block of the build; fettle observe does it for a log.'
    : '';
  return `${terminalSafe(head.trimEnd())}\n\n${items.join('\n\n')}${where}\n`;
}

function asJson(name: string, { for: result, have = ALL_BUT_A_STAND }: MeasureOptions, advised: Advised): string {
  const { assessment, unit, label, estimate, ranked, otherwise } = advised;
  return jsonText({
    version: 1,
    build: name,
    pack: assessment.option.name,
    result,
    label,
    unit,
    now: levelIn(unit, measurable(estimate)),
    have,
    measurements: ranked.map(({ id, what, how, tools, lines, plusMinusThen, narrowing }) => ({
      id,
      what,
      how,
      tools,
      plusMinusThen: differenceIn(unit, plusMinusThen),
      narrowing: tidy(narrowing),
      lines: lines.map((line) => ({
        property: line.property,
        value: numberIn(line.unit, line.value),
        unit: line.unit,
        ...(line.clause && { clause: line.clause }),
      })),
    })),
    ...(otherwise && {
      otherwise: { what: otherwise.what, plusMinusThen: differenceIn(unit, otherwise.plusMinusThen) },
    }),
  });
}
