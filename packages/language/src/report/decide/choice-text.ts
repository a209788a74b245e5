/** A choice for a terminal, a pull request or a program. */
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import { stepsOf } from '../../units/print.ts';
import { plural } from '../../vocabulary/phrasing.ts';
import { columns } from '../present/display-width.ts';
import { changeIn, differenceIn, numberIn } from '../present/json-number.ts';
import { jsonText } from '../present/json-text.ts';
import { cellCode, prose } from '../present/markdown-safe.ts';
import { levelText } from '../present/report-words.ts';
import type { Chosen, JudgedResult, Row } from './choice.ts';

const NOTE =
  'Differences are from today’s build; their ± leaves out what both have in common. * marks one that is larger than its own ±.';

/** "14 of 60 are rejected: 9 plug-mismatch, 3 thrust_to_weight >= 3, 2 pack-too-large" */
function rejectedWords({ count, rejected }: Chosen): string {
  const out = rejected.reduce((sum, one) => sum + one.count, 0);
  if (out === 0) return `${plural(count, 'candidate')}, none of them is rejected`;
  return `${out} of ${count} are rejected: ${rejected.map((one) => `${one.count} ${one.reason}`).join(', ')}`;
}

/** Why fewer are shown than pass. */
function leftOutWords({ passing, rows, preferences, notes }: Chosen): string[] {
  const left = passing - rows.length;
  if (left === 0 || preferences.length < 2 || notes.length > 0) return [];
  const [are, those] = left === 1 ? ['is', 'it is'] : ['are', 'each is'];
  return [
    `${left} of the ${passing} that pass ${are} left out: ${those} no better in anything preferred than one that is shown.`,
  ];
}

export const chanceWords = ({ chance }: JudgedResult): string => {
  if (chance === undefined) return '';
  const percent = Math.round(100 * chance);
  return chance === 0 || chance === 1
    ? `${percent} %`
    : percent === 0
      ? '< 1 %'
      : percent === 100
        ? '> 99 %'
        : `${percent} %`;
};

/** With a star behind what is larger than its own ±. */
const starred = (judged: JudgedResult, unit: string): string =>
  `${differenceWords(judged, unit)}${judged.difference?.isBeyond ? ' *' : ''}`;

/** What nothing of a candidate changes. */
export const isSame = ({ difference }: JudgedResult): boolean => difference?.value === 0 && difference.plusMinus === 0;

export function differenceWords(judged: JudgedResult, unit: string): string {
  const { level, difference } = judged;
  if (!difference || !level) return '';
  if (isSame(judged)) return 'same';
  const steps = stepsOf(unit, [{ value: difference.value, halfWidth: difference.plusMinus }]);
  const before = level.value - difference.value;
  return steps.difference(before, level.value, difference.plusMinus);
}

function cellsOf(row: Row, { preferences }: Chosen): string[] {
  return row.values.flatMap((value, i) => {
    const { unit = '' } = preferences[i] ?? {};
    return [levelText(value.level, unit), starred(value, unit), chanceWords(value)];
  });
}

const headOf = ({ preferences }: Chosen): string[] =>
  preferences.flatMap(({ label, isMoreBetter }) => [
    `${label} (${isMoreBetter ? 'more' : 'less'})`,
    'difference',
    'better',
  ]);

const rankOf = ({ rank, isToday }: Row): string => `${rank}${isToday ? ' today' : ''}`;

/** Which rows cannot be distinguished, and what would part them. */
const MOST_NAMED = 4;

/** @param of one group, or all of them */
export function groupWords({ rows, groups }: Chosen, of?: number): string[] {
  return groups.flatMap(({ group, measure }) => {
    if (of !== undefined && of !== group) return [];
    const members = rows.filter((row) => row.group === group);
    if (members.length < 2) return [];
    const ranks = members.map(({ rank }) => rank);
    // They come one after the other.
    const names = ranks.length > MOST_NAMED ? `${ranks[0]} to ${ranks.at(-1)}` : ranks.join(', ');
    const help = measure === undefined ? '' : `; what would part them most: ${measure}`;
    return [`The figures cannot distinguish ${names}${help}.`];
  });
}

export function surelyWords({ surely, rows, build }: Chosen): string[] {
  const row = rows.find(({ rank }) => rank === surely);
  if (!row) return [];
  const warns = row.warnings.length > 0 ? `, but it warns: ${row.warnings.join(', ')}` : '';
  return [`${row.label} is better than ${build} is today in all that is preferred, beyond the ±${warns}.`];
}

const remarks = (chosen: Chosen): string[] => [
  ...leftOutWords(chosen),
  ...surelyWords(chosen),
  ...groupWords(chosen),
  ...chosen.notes,
];

export function chosenText(chosen: Chosen): string {
  const { name, title, build, today, rows, preferences } = chosen;
  const head = `${name}${title ? `  ${title}` : ''}\n${rejectedWords(chosen)}`;
  const hasWarnings = rows.some(({ warnings }) => warnings.length > 0);
  const table = [
    ['', 'candidate', ...headOf(chosen), ...(hasWarnings ? ['warns'] : [])],
    [
      '',
      `today: ${build} on ${today.pack}`,
      ...today.values.flatMap((value, i) => [levelText(value.level, preferences[i]?.unit ?? ''), '', '']),
    ],
    ...rows.map((row) => [rankOf(row), row.label, ...cellsOf(row, chosen), row.warnings.join(', ')]),
  ];
  const printed = remarks(chosen).map((line) => `${terminalSafe(line)}\n`);
  const body = rows.length === 0 ? 'No candidate passes: there is nothing to choose.\n' : columns(table);
  return `${terminalSafe(head.split('\n')[0] ?? '')}\n${terminalSafe(rejectedWords(chosen))}\n\n${body}\n${printed.join('')}${printed.length > 0 ? '\n' : ''}${NOTE}\n`;
}

export function chosenMarkdown(chosen: Chosen): string {
  const { name, title, build, today, rows, preferences } = chosen;
  const heads = headOf(chosen);
  return [
    `**${prose(name)}**${title ? ` ${prose(title)}` : ''}`,
    '',
    `${prose(rejectedWords(chosen))}.`,
    '',
    ...(rows.length === 0
      ? ['No candidate passes: there is nothing to choose.']
      : [
          `| | candidate | ${heads.map(prose).join(' | ')} | warns |`,
          `|--:|:--|${'--:|'.repeat(heads.length)}:--|`,
          `| | today: ${cellCode(build)} on ${cellCode(today.pack)} | ${today.values.map((value, i) => `${prose(levelText(value.level, preferences[i]?.unit ?? ''))} | | `).join('| ')}| |`,
          ...rows.map(
            (row) =>
              `| ${rankOf(row)} | ${prose(row.label)} | ${cellsOf(row, chosen).map(prose).join(' | ')} | ${row.warnings.map(cellCode).join(' ')} |`,
          ),
        ]),
    '',
    ...remarks(chosen).map((line) => `${prose(line)}\n`),
    prose(NOTE),
    '',
  ].join('\n');
}

function valueData({ name, level, difference, chance }: JudgedResult, unit: string) {
  return {
    name,
    unit,
    ...(level && { value: numberIn(unit, level.value), plusMinus: differenceIn(unit, level.plusMinus) }),
    ...(difference && { difference: { ...changeIn(unit, difference), isBeyond: difference.isBeyond } }),
    ...(chance !== undefined && { chanceBetter: Number(chance.toFixed(4)) }),
  };
}

/** Plain data, numbers in the stated unit; ± is expanded (k = 2). */
export function chosenData(chosen: Chosen) {
  const { name, title, build, today, preferences, count, passing, rejected, rows, groups, surely, notes } = chosen;
  const valuesOf = (values: readonly JudgedResult[]) =>
    values.map((value, i) => valueData(value, preferences[i]?.unit ?? ''));
  return {
    version: 1,
    shortlist: name,
    title,
    build,
    today: { pack: today.pack, values: valuesOf(today.values) },
    prefer: preferences.map(({ name: of, label, unit, isMoreBetter }) => ({
      name: of,
      label,
      unit,
      better: isMoreBetter ? 'more' : 'less',
    })),
    candidates: count,
    passing,
    rejected,
    rows: rows.map((row) => ({
      rank: row.rank,
      label: row.label,
      choices: row.choices.map(({ axis, label }) => ({ of: axis, label })),
      isToday: row.isToday,
      group: row.group,
      values: valuesOf(row.values),
      warnings: row.warnings,
    })),
    groups: groups.filter(({ group }) => rows.filter((row) => row.group === group).length > 1),
    surelyBetterThanToday: surely ?? null,
    notes,
  };
}

export const chosenJson = (chosen: Chosen): string => jsonText(chosenData(chosen));
