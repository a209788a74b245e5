/** What a step of each knob does to a result, for a terminal, a pull request or a program. */
import type { Turn } from '../../analysis/decide/sensitivities.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { differenceUnit, formatValue, stepsOf } from '../../units/print.ts';
import { columns } from '../present/display-width.ts';
import { changeIn, differenceIn, numberIn } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';

export interface SensitivityTable {
  readonly build: string;
  readonly pack: string;
  readonly result: string;
  readonly label: string;
  readonly unit: string;
  /** SI. */
  readonly level: number;
  readonly turns: readonly Turn[];
}

const NOTE =
  'One step each, all else alike; what it moves by less than a thousandth is left out. ± k = 2, of the change.';

/** "10 g more", "10 K colder", "10 % less" */
function stepWords({ knob, step }: Turn): string {
  const { unit, name } = knob;
  const size = formatValue(Math.abs(step), differenceUnit(unit));
  if (name === 'air') return `${size} ${step < 0 ? 'colder' : 'warmer'}`;
  if (name === 'altitude') return `${size} ${step < 0 ? 'lower' : 'higher'}`;
  return `${size} ${step < 0 ? 'less' : 'more'}`;
}

const knobWords = ({ knob: { label, along } }: Turn): string => (along ? `${label} (${along})` : label);

/** All in the digits that the finest of them needs. */
function effects({ unit, level, turns }: SensitivityTable): string[] {
  return turns.map(({ effect }) => {
    if (!effect) return 'ends it';
    const steps = stepsOf(unit, [{ value: effect.value, halfWidth: effect.plusMinus }]);
    return steps.difference(level, level + effect.value, effect.plusMinus);
  });
}

export function sensitivityText(tables: readonly SensitivityTable[]): string {
  const blocks = tables.map((table) => {
    const printed = effects(table);
    const rows = table.turns.map((turn, i) => [
      `  ${stepWords(turn)}`,
      terminalSafe(knobWords(turn)),
      printed[i] ?? '',
    ]);
    const head = `${table.label} of ${table.build} on ${table.pack}: ${formatValue(table.level, table.unit)}`;
    return `${terminalSafe(head)}\n${rows.length > 0 ? columns(rows) : '  none of the figures changes it\n'}`;
  });
  return `${blocks.join('\n')}\n${NOTE}\n`;
}

export function sensitivityMarkdown(tables: readonly SensitivityTable[]): string {
  const blocks = tables.map((table) => {
    const printed = effects(table);
    return [
      `**${prose(table.label)}** of ${cellCode(table.build)} on ${cellCode(table.pack)}: ${prose(formatValue(table.level, table.unit))}`,
      '',
      '| step | of | does |',
      '|:--|:--|--:|',
      ...table.turns.map(
        (turn, i) => `| ${prose(stepWords(turn))} | ${prose(knobWords(turn))} | ${prose(printed[i] ?? '')} |`,
      ),
      '',
    ].join('\n');
  });
  return `${blocks.join('\n')}\n${prose(NOTE)}\n`;
}

export const sensitivityJson = (tables: readonly SensitivityTable[]): string =>
  jsonText({
    version: 1,
    options: tables.map(({ build, pack, result, label, unit, level, turns }) => ({
      build,
      pack,
      result,
      label,
      unit,
      value: numberIn(unit, level),
      knobs: turns.map(({ knob, step, effect }) => ({
        name: knob.name,
        label: knob.label,
        along: knob.along,
        step: { value: differenceIn(knob.unit, step), unit: differenceUnit(knob.unit).name },
        effect: effect && { ...changeIn(unit, effect), unit },
      })),
    })),
  });
