/** How far a figure goes until a requirement fails, for a terminal, a pull request or a program. */

import type { Estimate } from '../../analysis/assessment.ts';
import type { Knob } from '../../analysis/decide/knobs.ts';
import type { Direction, Solved } from '../../analysis/decide/solver.ts';
import { ends, expanded } from '../../analysis/uncertainty/estimate.ts';
import { formatEstimate } from '../../analysis/uncertainty/print-estimate.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { formatValue, joined, printedValue } from '../../units/print.ts';
import { listed } from '../../vocabulary/phrasing.ts';
import { columns } from '../present/display-width.ts';
import { differenceIn, numberIn } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';

export interface SolvedOption {
  readonly pack: string;
  /** Several packs as several. */
  readonly packWords: string;
  readonly knob: Knob;
  readonly solved: Solved;
  /** Ids of checks that warn there and do not today. */
  readonly warning: readonly string[];
  /** Requirements of the build itself that fail there and hold today. */
  readonly failing: readonly string[];
}

export interface SolvedTable {
  readonly build: string;
  readonly direction: Direction;
  readonly kept: readonly string[];
  readonly options: readonly SolvedOption[];
}

const END: Readonly<Record<Direction, string>> = {
  most: 'the largest value that was tried',
  least: 'the smallest value that was tried',
};

/** The answer, today's value, and what stops it. */
function cells({ knob, solved }: SolvedOption, direction: Direction): [string, string, string] {
  const now = knob.now === 0 ? '' : formatValue(knob.now, knob.unit);
  if ('never' in solved) return ['none', now, `no value meets all requirements; nearest: ${solved.words}`];
  if ('unlimited' in solved) return [formatValue(solved.unlimited, knob.unit), now, `nothing up to ${END[direction]}`];
  return [answerWords(knob, solved.value), now, solved.stop.text];
}

/** With its ±, as far as the figure can go: no duty limit is above 100 %. */
function answerWords({ unit, range: [least, most] }: Knob, of: Estimate): string {
  const { low, high } = ends(of);
  if (low >= least && high <= most) return formatEstimate(of, unit);
  const numberOf = (si: number) => printedValue(si, unit, 2).number;
  const interval = `${numberOf(Math.max(low, least))} to ${numberOf(Math.min(high, most))}`;
  const value = printedValue(of.value, unit, 2);
  return joined({ ...value, number: `${value.number} (${interval})` });
}

function notes({ packWords, warning, failing }: SolvedOption): string[] {
  const reported = [...failing.map((text) => `\`${text}\` fails`), ...warning.map((id) => `${id} warns`)];
  return reported.length > 0 ? [`at that value, on ${packWords}: ${reported.join(', ')}`] : [];
}

function headOf({ build, direction, kept, options }: SolvedTable): string {
  const [first] = options;
  const along = first?.knob.along ? ` (${first.knob.along})` : '';
  const isOne = options.every(({ knob }) => knob.label === first?.knob.label);
  return `${direction} ${(isOne ? first?.knob.label : first?.knob.name) ?? ''}${along} of ${build} that keeps ${listed(kept)}`;
}

export function solvedText(table: SolvedTable): string {
  const { direction, options } = table;
  const rows = [
    ['pack', direction, 'now', 'limited by'],
    ...options.map((option) => [option.packWords, ...cells(option, direction)]),
  ];
  const printed = options.flatMap(notes).map((line) => `${terminalSafe(line)}\n`);
  return `${terminalSafe(headOf(table))}\n\n${columns(rows)}${printed.length > 0 ? '\n' : ''}${printed.join('')}`;
}

export function solvedMarkdown(table: SolvedTable): string {
  const rows = table.options.map((option) => {
    const [answer, now, stop] = cells(option, table.direction);
    return `| ${cellCode(option.packWords)} | ${prose(answer)} | ${prose(now)} | ${prose(stop)} |`;
  });
  return [
    prose(headOf(table)),
    '',
    `| pack | ${table.direction} | now | limited by |`,
    '|:--|--:|--:|:--|',
    ...rows,
    '',
    ...table.options.flatMap(notes).map((line) => `${prose(line)}\n`),
  ].join('\n');
}

export const solvedJson = ({ build, direction, kept, options }: SolvedTable): string =>
  jsonText({
    version: 1,
    build,
    direction,
    keep: kept,
    options: options.map(({ pack, knob, solved, warning, failing }) => ({
      pack,
      knob: knob.name,
      label: knob.label,
      along: knob.along,
      unit: knob.unit,
      now: numberIn(knob.unit, knob.now),
      ...('value' in solved && {
        value: numberIn(knob.unit, solved.value.value),
        plusMinus: differenceIn(knob.unit, expanded(solved.value)),
        stoppedBy: solved.stop.text,
      }),
      ...('unlimited' in solved && { value: numberIn(knob.unit, solved.unlimited), stoppedBy: null }),
      ...('never' in solved && { value: null, stoppedBy: solved.never.text, reason: solved.words }),
      warns: warning,
      fails: failing,
    })),
  });
