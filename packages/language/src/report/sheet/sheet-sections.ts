/** The sections of a build sheet as HTML, by the questions of the job: put together to a page here, shown one by one by an editor. */

import { formatPrinted } from '../../analysis/uncertainty/print-estimate.ts';
import { packsOf } from '../../checks/finding.ts';
import type { Place } from '../../syntax/place.ts';
import { formatEnd, formatValue } from '../../units/print.ts';
import { flightSentences, LEG_HEADINGS, LEGS_NOTE, legCells } from '../flights/flight-words.ts';
import { differs } from '../observe/found-words.ts';
import { svg } from '../present/chart.ts';
import { limitWords } from '../present/limit-words.ts';
import { type Content, Markup, markup } from '../present/markup.ts';
import { CAUTION, severityWord } from '../present/report-words.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { flightLegsChart } from './charts/flight-legs.ts';
import { LEDGER_WIDTHS, ledgerChart } from './charts/ledger.ts';
import { LOGGED_WIDTHS, loggedVoltageChart } from './charts/logged-voltage.ts';
import { PACK_CHARTS, type PackChartKind } from './charts/of-packs.ts';
import { type LedgerLine, PENDING, type SheetData, type SheetOption, type SheetRow } from './sheet-data.ts';
import type { LimitLine } from './sheet-limits.ts';
import {
  GLANCE_NOTE,
  glanceFigures,
  gramsLeftText,
  LAND_NOTE,
  LEDGER_NOTE,
  LOG_NOTE,
  ledgerText,
  limitName,
  limitText,
  measureWords,
  optionName,
  QUESTION,
  rowsByProminence,
  SHAKE_NOTE,
  SIZE_NOTE,
  sheetVerdictOf,
} from './sheet-words.ts';

/** Where a sheet leads. A page on paper leads nowhere and names the places; an editor makes its places links. */
export interface Ways {
  /** "builds/spire.fettle:7" */
  where(place: Place): string;
  /** An attribute for what leads to a place, or to how a result came about; none where nothing leads. */
  toPlace(place: Place): Markup | undefined;
  toDerivation(pack: string, result: string): Markup | undefined;
}

/** Attributes of a link between pages; a view that draws sheets itself makes buttons of its own attributes. */
export class PageLink extends Markup {}

export interface SectionKind {
  /** What it is about; unique in a sheet. */
  readonly id: string;
  /** Nothing where there is nothing to report. */
  of(data: SheetData, ways: Ways): Markup | undefined;
}

/** In their order on the page. */
export const SHEET_SECTIONS: readonly SectionKind[] = [
  { id: 'head', of: head },
  answer('findings', findingsList),
  answer('asked', requirementsTable),
  answer('fly', resultsOfAll),
  answer('surer', measureText),
  answer('land', ({ options }) => chartsOf(options, 'land'), LAND_NOTE),
  answer('legs', ({ options }, ways) => flightsOfAll(options, ways), LEGS_NOTE),
  answer('limits', ({ options }, ways) => limitsOfAll(options, ways)),
  answer(
    'weight',
    ({ options }, ways) => ledgerOfAll(options, ways),
    ({ isWeighed }) => (isWeighed ? undefined : LEDGER_NOTE),
  ),
  answer('sizes', ({ options }) => chartsOf(options, 'size'), SIZE_NOTE),
  answer('shake', ({ options }) => chartsOf(options, 'shake'), SHAKE_NOTE),
  answer('compared', comparedLogs, LOG_NOTE),
  { id: 'caution', of: () => markup`<footer>${CAUTION} ${COMPUTED_BY}</footer>` },
];

function head(data: SheetData, ways: Ways): Markup {
  const { build, title, place, findings, unjudged, options } = data;
  const { worry, sentence } = sheetVerdictOf(findings, unjudged);
  const nothing =
    options.length === 0
      ? markup`<p>Nothing can be computed yet.</p>`
      : markup`<div class="glance">${options.map((option) => glanceAt(option, data, ways))}</div><p class="quiet">${GLANCE_NOTE}</p>`;
  return markup`<header>
<p class="quiet">Build sheet · <code>${build}</code> · ${link(ways.toPlace(place), ways.where(place))}</p>
<h1>${title ?? build}</h1>
<p class="verdict ${worry}">${sentence}</p>
${nothing}</header>`;
}

/** What one wants to know of a pack before all else, each figure at the end that is safe to fly by. */
function glanceAt(option: SheetOption, { findings }: SheetData, ways: Ways): Markup {
  const figures = glanceFigures(option).map(({ name, label, end, value }) => {
    const large = value === undefined ? '–' : formatEnd(value.value, value.plusMinus, value.unit, end);
    const way = value === undefined ? undefined : ways.toDerivation(option.pack, name);
    const whole = value === undefined ? 'cannot be computed yet' : formatPrinted(value);
    return markup`<div><dt>${label}</dt><dd><b>${link(way, large)}</b> <span class="quiet">${whole}</span></dd></div>`;
  });
  const worst = findings.find((finding) => finding.accepted === undefined && packsOf(finding).includes(option.pack));
  const reported =
    worst === undefined
      ? markup`<p class="quiet">nothing found on this pack alone</p>`
      : markup`<p class="worst ${worst.severity}"><strong>${severityWord(worst.severity)}</strong> ${link(ways.toPlace(worst.place), worst.id)}</p>`;
  return markup`<div class="pack"><p class="name">${link(ways.toPlace(option.place), breaking(optionName(option)))}</p><dl>${figures}</dl>${reported}</div>`;
}

/** A section under its question; none where there is no answer. */
function answer(
  id: keyof typeof QUESTION,
  contentOf: (data: SheetData, ways: Ways) => Content,
  note?: string | ((data: SheetData) => string | undefined),
): SectionKind {
  return {
    id,
    of(data, ways) {
      const content = contentOf(data, ways);
      if (content === undefined) return undefined;
      const words = typeof note === 'function' ? note(data) : note;
      const remark = words === undefined ? undefined : markup`<p class="quiet">${words}</p>`;
      return markup`<section><h2>${QUESTION[id]}</h2>${content}${remark}</section>`;
    },
  };
}

/** What leads somewhere can be reached by keyboard. */
export function link(way: Markup | undefined, content: Content): Content {
  if (way instanceof PageLink) return markup`<a${way}>${content}</a>`;
  return way ? markup`<button type="button" class="way"${way}>${content}</button>` : content;
}

/** A page links its words, a view also what is drawn. */
const drawn =
  ({ toPlace }: Ways): Ways['toPlace'] =>
  (place) => {
    const way = toPlace(place);
    return way instanceof PageLink ? undefined : way;
  };

function findingsList({ findings }: SheetData, ways: Ways): Markup | undefined {
  if (findings.length === 0) return undefined;
  const items = findings.map((finding) => {
    const about = finding.pack === undefined ? '' : ` on ${packsOf(finding).join(', ')}`;
    const accepted =
      finding.accepted === undefined ? undefined : markup` <strong>Accepted:</strong> ${finding.accepted}`;
    const where = link(ways.toPlace(finding.place), ways.where(finding.place));
    const start = markup`<strong>${severityWord(finding.severity)}</strong> <code>${finding.id}</code>${about}`;
    const rest = markup`${finding.message}${accepted} <span class="quiet">${where}</span>`;
    const content =
      finding.brief === undefined
        ? markup`${start}: ${rest}`
        : markup`<details><summary>${start}: ${finding.brief}</summary>${rest}</details>`;
    return markup`<li class="${finding.accepted === undefined ? finding.severity : 'accepted'}">${content}</li>`;
  });
  return markup`<ul class="findings">${items}</ul>`;
}

function chartsOf(options: readonly SheetOption[], kind: PackChartKind, ways?: Ways): Markup | undefined {
  const figures = options.flatMap((option, i) => {
    const id = `${kind}${i}`;
    const chart = PACK_CHARTS[kind](option, id, ways && drawn(ways));
    return chart
      ? [markup`<figure><figcaption>${breaking(optionName(option))}</figcaption>${svg(chart, id)}</figure>`]
      : [];
  });
  return figures.length > 0 ? markup`<div class="pair ${kind}">${figures}</div>` : undefined;
}

const table = (caption: string, headings: Content, rows: Content, look: string): Markup =>
  markup`<div class="scroll"><table class="${look}"><caption>${caption}</caption><thead><tr>${headings}</tr></thead><tbody>${rows}</tbody></table></div>`;

interface Column {
  readonly name: string;
  readonly way?: Markup | undefined;
}

interface Row {
  readonly head: Content;
  readonly about?: string;
  /** One a column: a value, or why there is none. */
  readonly cells: readonly (Markup | undefined)[];
}

/** More columns than these have no room side by side on a small screen: there each value names its own. */
const SIDE_BY_SIDE = 2;

/** Values by pack or by quantity. */
function grid(caption: string, columns: readonly Column[], rows: readonly Row[], corner = ''): Markup {
  const isMany = columns.length > SIDE_BY_SIDE;
  const first = corner === '' ? markup`<td></td>` : markup`<th scope="col">${corner}</th>`;
  const headings = columns.map(
    ({ name, way }) => markup`<th scope="col" class="number">${link(way, breaking(name))}</th>`,
  );
  const lines = rows.map(({ head, about, cells }) => {
    const values = cells.map((cell, i) => {
      const of = isMany ? markup` data-of="${columns[i]?.name ?? ''}"` : undefined;
      return cell === undefined
        ? markup`<td class="number"></td>`
        : markup`<td class="${cell instanceof Reason ? 'none' : 'number'}"${of}>${cell}</td>`;
    });
    return markup`<tr><th scope="row"${about === undefined ? undefined : markup` title="${about}"`}>${head}</th>${values}</tr>`;
  });
  return table(caption, [first, ...headings], lines, isMany ? 'by-pack many' : 'by-pack');
}

/** What no column has room for is broken between its words. */
const BROKEN_FROM = 16;

const breaking = (name: string): Content =>
  name.split(' ').every(({ length }) => length < BROKEN_FROM)
    ? name
    : name.split(/(?<=_)/).map((part, i) => (i > 0 ? markup`<wbr>${part}` : part));

/** Why there is no value. */
class Reason extends Markup {}

/** A value breaks between its parts only: before its interval, and before the limit that it is compared with. */
export const unbroken = (value: string): Markup =>
  markup`${value.split(/(?<= )(?=\(|of )/).map((part) => markup`<span>${part.trimEnd()}</span>${part.endsWith(' ') ? ' ' : ''}`)}`;

/** Each pack leads to its line. */
const packColumns = (options: readonly SheetOption[], ways: Ways): Column[] =>
  options.map((option) => ({ name: optionName(option), way: ways.toPlace(option.place) }));

/** @param look `in-print`: open on paper, in place of the charts before it */
const folded = (title: string, content: Markup, look = ''): Markup =>
  markup`<details class="${look}"><summary>${title}</summary>${content}</details>`;

function resultsOfAll(data: SheetData, ways: Ways): Content {
  if (data.options.length === 0) return undefined;
  const { first, others } = rowsByProminence(data);
  const further = resultsTable('Further results on each pack', data, others, ways);
  return [resultsTable('Results on each pack', data, first, ways), folded('Everything else', further)];
}

function resultsTable(caption: string, { options }: SheetData, rows: readonly SheetRow[], ways: Ways): Markup {
  const lines = rows.map(({ name, label, description, cells }): Row => {
    const values = cells.map((cell, i) => {
      if (typeof cell === 'string') return new Reason(markup`${cell}`.text);
      const pack = options[i]?.pack;
      const way = pack === undefined ? undefined : ways.toDerivation(pack, name);
      return markup`${link(way, unbroken(formatPrinted(cell)))}`;
    });
    return { head: label, about: description, cells: values };
  });
  return grid(caption, packColumns(options, ways), lines);
}

/** Each flight: on each pack its results and a picture, then leg by leg. */
function flightsOfAll(options: readonly SheetOption[], ways: Ways): Content {
  const names = [...new Set(options.flatMap(({ flights }) => flights.map(({ name }) => name)))];
  if (names.length === 0) return undefined;
  return names.map((name, j) => {
    const flown = options.flatMap((option, i) =>
      option.flights
        .filter((flight) => flight.name === name)
        .map((flight) => ({ option, flight, id: `legs${i}-${j}` })),
    );
    const [first] = flown;
    const title = first?.flight.title;
    const figures = flown.map(({ option, flight, id }) => {
      const chart = flightLegsChart(option.packWords, flight);
      return markup`<figure><figcaption>${breaking(optionName(option))}</figcaption>${chart && svg(chart, id)}<p>${flightSentences(flight).join(' ')}</p></figure>`;
    });
    const tables = flown.flatMap(({ option, flight }) => (flight.charge ? [legsTable(option, flight, ways)] : []));
    const heading = link(first && ways.toPlace(first.flight.place), title === undefined ? name : `${name}, ${title}`);
    return markup`<h3>${heading}</h3><div class="pair legs">${figures}</div>${tables.length > 0 ? folded('Leg by leg', markup`${tables}`) : undefined}`;
  });
}

function legsTable(option: SheetOption, { name, legs }: SheetOption['flights'][number], ways: Ways): Markup {
  const rows = legs.map(
    (leg, i): Row => ({
      head: markup`${i + 1}. ${link(ways.toPlace(leg.place), leg.text)}`,
      cells: legCells(leg).map(unbroken),
    }),
  );
  const [corner, ...names] = LEG_HEADINGS;
  const columns = names.map((one): Column => ({ name: one }));
  return markup`<p class="name">${optionName(option)}</p>${grid(`${name} on ${optionName(option)}, leg by leg`, columns, rows, corner)}`;
}

/** The pack's own limits are in one row: its name heads the column. */
const limitRow = (limit: LimitLine): string =>
  limit.subject.of === 'pack' ? limitWords(limit.subject) : limitName(limit);

function limitsOfAll(options: readonly SheetOption[], ways: Ways): Content {
  if (options.every(({ limits }) => limits.length === 0)) return undefined;
  const charts = markup`<div class="on-screen">${chartsOf(options, 'limit', ways)}</div>`;
  const names = [...new Set(options.flatMap(({ limits }) => limits.map(limitRow)))];
  const rows = names.map((name) => {
    const lines = options.map(({ limits }) => limits.find((limit) => limitRow(limit) === name));
    const place = lines.find((line) => line !== undefined)?.place;
    return {
      head: link(place && ways.toPlace(place), name),
      cells: lines.map((line) => line && unbroken(limitText(line))),
    };
  });
  const numbers = grid('What flows, and what is allowed', packColumns(options, ways), rows);
  return [charts, folded('The limits as a table', numbers, 'in-print')];
}

/** The same bars twice, each readable at its width; the style shows one of them. */
function ledgerOfAll(options: readonly SheetOption[], ways: Ways): Content {
  if (options.every(({ ledger }) => ledger.length === 0)) return undefined;
  const bars = (['wide', 'narrow'] as const).map(
    (width) =>
      markup`<div class="${width}">${svg(ledgerChart(options, `ledger-${width}`, LEDGER_WIDTHS[width], drawn(ways)), `ledger-${width}`)}</div>`,
  );
  const rows = ledgerRows(options).map(({ label, lines }) => {
    const place = lines.find((line) => line?.place)?.place;
    return {
      head: link(place && ways.toPlace(place), label),
      cells: lines.map((line) => line && unbroken(ledgerText(line))),
    };
  });
  return [bars, folded('The ledger as a table', grid('Mass by part', packColumns(options, ways), rows))];
}

/** Lines of all packs' ledgers, each label once. */
export function ledgerRows(options: readonly SheetOption[]): { label: string; lines: (LedgerLine | undefined)[] }[] {
  const labels = [...new Set(options.flatMap(({ ledger }) => ledger.map(({ label }) => label)))];
  return labels.map((label) => ({
    label,
    lines: options.map(({ ledger }) => ledger.find((line) => line.label === label)),
  }));
}

/** The logged voltage and the model's, what was found, and what was learnt. */
function comparedLogs({ logs, learnt }: SheetData): Content {
  if (logs.length === 0) return undefined;
  const flights = logs.map((log, i) => {
    const charts = (['wide', 'narrow'] as const).map((width) => {
      const chart = loggedVoltageChart(log, LOGGED_WIDTHS[width]);
      return chart && markup`<div class="${width}">${svg(chart, `log${i}-${width}`)}</div>`;
    });
    const rows = log.compared.map(
      ({ words, measured, predicted }): Row => ({
        head: words,
        cells: [formatValue(measured.value, measured.unit), formatPrinted(predicted)].map(unbroken),
      }),
    );
    const columns = [{ name: 'logged' }, { name: 'by the model' }];
    return markup`<h3>“${log.title}” on ${log.pack}${volts(log)}</h3>${charts}<p>${log.found.join(' ')}</p>${folded('What was logged, line by line', grid(`“${log.title}”`, columns, rows))}`;
  });
  const lines = learnt.map(
    ({ label, before, now }) =>
      markup`<li>${label}: ${formatPrinted(before)}, now <strong>${formatPrinted(now)}</strong></li>`,
  );
  return [flights, lines.length > 0 ? markup`<p>Learnt from all that was measured:</p><ul>${lines}</ul>` : undefined];
}

const volts = ({ volts: off }: SheetData['logs'][number]): string =>
  off === undefined ? '' : `: the voltages differ by ${differs(off)} on average`;

function requirementsTable({ requirements }: SheetData, ways: Ways): Markup | undefined {
  const rows = requirements.flatMap(({ text, because, place, onPacks }) =>
    onPacks.map(({ pack, verdict, words, packGramsLeft }, i) => {
      const reason = because === undefined ? undefined : markup`<br><span class="quiet">${because}</span>`;
      const requested = [link(ways.toPlace(place), markup`<code>${text}</code>`), reason];
      // One header for the rows of all packs: an empty one would be read as a row of nothing.
      const header = i === 0 ? markup`<th scope="rowgroup" rowspan="${onPacks.length}">${requested}</th>` : undefined;
      const left = packGramsLeft === PENDING ? PENDING : packGramsLeft && gramsLeftText(packGramsLeft);
      const numbers = markup`${words}${left && markup`; <span class="quiet">${left}</span>`}`;
      return markup`<tr>${header}<td>${breaking(pack)}</td><td><strong>${verdict}</strong></td><td>${numbers}</td></tr>`;
    }),
  );
  if (rows.length === 0) return undefined;
  const headings = ['required', 'pack', 'verdict', 'in numbers'].map((name) => markup`<th scope="col">${name}</th>`);
  return table('Requirements on each pack', headings, rows, 'asked');
}

function measureText(data: SheetData): Markup | undefined {
  const words = measureWords(data);
  return words === undefined ? undefined : markup`<p>${words}</p>`;
}
