/** The build sheet in Markdown, question by question as on its page. */
import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import { formatValue } from '../../units/print.ts';
import { flightSentences, LEG_HEADINGS, legCells } from '../flights/flight-words.ts';
import { cellCode, code, prose } from '../present/markdown-safe.ts';
import { CAUTION, severityWord } from '../present/report-words.ts';
import { type NamedSources, pathAndLine } from '../present/sources.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { PENDING, type SheetData, type SheetLog, type SheetRow } from './sheet-data.ts';
import { ledgerRows } from './sheet-sections.ts';
import {
  gramsLeftText,
  ledgerText,
  limitName,
  limitText,
  measureWords,
  optionName,
  QUESTION,
  rowsByProminence,
  sheetVerdictOf,
} from './sheet-words.ts';

export function sheetMarkdown(data: SheetData, naming: NamedSources): string {
  const blocks = SECTIONS.flatMap((section) => section(data, naming));
  return `${blocks.join('\n\n')}\n`;
}

/** Its heading and what is below it; nothing of a question that does not arise. */
type Section = (data: SheetData, naming: NamedSources) => readonly string[];

const SECTIONS: readonly Section[] = [
  titleAndVerdict,
  findings,
  resultsOnPacks,
  flights,
  comparedLogs,
  requirements,
  whatToMeasure,
  () => [`<sub>${CAUTION} ${COMPUTED_BY}</sub>`],
];

const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;

/** Words on the left, numbers on the right. */
const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string =>
  [row(heads).replace('|  |', '| |'), `|:--|${'--:|'.repeat(heads.length - 1)}`, ...rows.map(row)].join('\n');

const list = (items: readonly string[]): string => items.map((item) => `- ${item}`).join('\n');

function titleAndVerdict(data: SheetData, naming: NamedSources): string[] {
  return [
    `# ${prose(data.title ?? data.build)}`,
    `${code(data.build)}, ${code(pathAndLine(naming, data.place))}`,
    `**${prose(sheetVerdictOf(data.findings, data.unjudged).sentence)}**`,
  ];
}

function findings({ findings: found }: SheetData, naming: NamedSources): string[] {
  if (found.length === 0) return [];
  const items = found.map(({ id, severity, message, brief, accepted, place }) => {
    const head = `**${severityWord(severity)}** ${code(id)}: `;
    const reason = accepted === undefined ? '' : ` Accepted: ${prose(accepted)}`;
    const reported = `${prose(message)}${reason} ${code(pathAndLine(naming, place))}`;
    if (brief === undefined) return head + reported;
    return `${head}${prose(brief)} <details><summary>more</summary>${reported}</details>`;
  });
  return [`## ${QUESTION.findings}`, list(items)];
}

function resultsOnPacks(data: SheetData): string[] {
  const { options } = data;
  if (options.length === 0) return [];
  const heads = ['', ...options.map((option) => cellCode(optionName(option)))];
  const { first, others } = rowsByProminence(data);
  const weights = ledgerRows(options).map(({ label, lines }) => [
    prose(label),
    ...lines.map((line) => (line ? prose(ledgerText(line)) : '')),
  ]);
  const limits = options.map((option) => {
    const items = option.limits.map((limit) => `${prose(limitName(limit))}: ${prose(limitText(limit))}`);
    return `${code(optionName(option))}\n\n${list(items)}`;
  });
  return [
    `## ${QUESTION.fly}`,
    table(heads, first.map(resultCells)),
    `<details><summary>Everything else</summary>\n\n${table(heads, others.map(resultCells))}\n\n</details>`,
    `## ${QUESTION.weight}`,
    table(heads, weights),
    `## ${QUESTION.limits}`,
    limits.join('\n\n'),
  ];
}

const resultCells = ({ label, cells }: SheetRow): string[] => [
  prose(label),
  ...cells.map((cell) => (typeof cell === 'string' ? '–' : prose(formatPrinted(cell)))),
];

function flights({ options }: SheetData): string[] {
  const blocks = options.flatMap((option) =>
    option.flights.map((flight) => {
      const rows = flight.legs.map((leg, i) => [`${i + 1}. ${prose(leg.text)}`, ...legCells(leg).map(prose)]);
      const legs = flight.charge ? `\n\n${table(LEG_HEADINGS, rows)}` : '';
      return `**${prose(flight.title ?? flight.name)}** on ${code(optionName(option))}: ${prose(flightSentences(flight).join(' '))}${legs}`;
    }),
  );
  return blocks.length > 0 ? [`## ${QUESTION.legs}`, ...blocks] : [];
}

function comparedLogs({ logs, learnt }: SheetData): string[] {
  if (logs.length === 0) return [];
  const items = learnt.map(({ label, before, now }) =>
    prose(`${label}: ${formatPrinted(before)}, now ${formatPrinted(now)}`),
  );
  return [`## ${QUESTION.compared}`, ...logs.map(comparedLog), ...(items.length > 0 ? [list(items)] : [])];
}

function comparedLog({ title, pack, found, compared }: SheetLog): string {
  const rows = compared.map(({ words, measured, predicted }) => [
    prose(words),
    prose(formatValue(measured.value, measured.unit)),
    prose(formatPrinted(predicted)),
  ]);
  return `**${prose(title)}** on ${code(pack)}: ${prose(found.join(' '))}\n\n${table(['', 'logged', 'by the model'], rows)}`;
}

function requirements({ requirements: required }: SheetData): string[] {
  if (required.length === 0) return [];
  const items = required.flatMap(({ text, onPacks }) =>
    onPacks.map(({ pack, verdict, words, packGramsLeft: grams }) => {
      const left = grams && grams !== PENDING ? prose(`; ${gramsLeftText(grams)}`) : '';
      return `${code(text)} on ${code(pack)}: **${verdict}**, ${prose(words)}${left}`;
    }),
  );
  return [`## ${QUESTION.asked}`, list(items)];
}

function whatToMeasure(data: SheetData): string[] {
  const measure = measureWords(data);
  return measure === undefined ? [] : [`## ${QUESTION.surer}`, prose(measure)];
}
