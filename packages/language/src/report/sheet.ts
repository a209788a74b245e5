/** The build sheet: one page by the questions that a builder asks, as HTML, Markdown or one SVG. */
import { formatPlusMinus } from '../units/print.ts';
import { CHART_STYLE, type Chart, svg } from './charts/chart.ts';
import { ledgerChart } from './charts/ledger.ts';
import { limitsChart } from './charts/limits.ts';
import { packMassChart } from './charts/pack-mass.ts';
import { voltageChart } from './charts/voltage.ts';
import type { Checked } from './checked.ts';
import { Markup, markup } from './markup.ts';
import { page } from './page.ts';
import { cellCode, code, prose } from './review/markdown-safe.ts';
import type { LedgerLine, SheetData, SheetOption, SheetRow } from './sheet-data.ts';
import {
  LAND_NOTE,
  LEDGER_NOTE,
  optionName,
  rowsByProminence,
  SIZE_NOTE,
  sayGramsLeft,
  sayQuantity,
  verdictOf,
} from './sheet-words.ts';
import { CAUTION, nameOf } from './words.ts';

/** Where the sheet's places are, as a person would write them. */
type Naming = Pick<Checked, 'pathOf' | 'sources'>;

export function sheetHtml(data: SheetData, naming: Naming): string {
  const { worry, sentence } = verdictOf(data.findings);
  const { first, others } = rowsByProminence(data);
  const body = markup`<header>
<p class="quiet">Build sheet · <code>${data.build}</code> · ${placeOf(data.place, naming)}</p>
<h1>${data.title ?? data.build}</h1>
<p class="verdict ${worry}">${sentence}</p>
</header>
<main>
${findingsSection(data, naming)}
${data.options.length === 0 ? markup`<p>Nothing can be computed yet.</p>` : undefined}
${section('How does it fly, on each pack?', data.options.length > 0 && [resultsTable(data, first), folded('Everything else', resultsTable(data, others))])}
${section(
  'When must it land?',
  pairOf(data.options, ({ flight, pack }, id) => flight && voltageChart(pack, flight, id), 'land'),
  LAND_NOTE,
)}
${section(
  'How near are the limits?',
  pairOf(
    data.options,
    ({ limits, pack }, id) => (limits.length > 0 ? limitsChart(pack, limits, id) : undefined),
    'limit',
  ),
)}
${section('What does it weigh?', data.options.some(({ ledger }) => ledger.length > 0) && [svg(ledgerChart(data.options, 'ledger'), 'ledger'), folded('The ledger as a table', ledgerTable(data.options))], LEDGER_NOTE)}
${section('What if the pack were larger or smaller?', pairOf(data.options, packMassChart, 'size'), SIZE_NOTE)}
${section('What was asked of it?', requirementsTable(data))}
${section('What would make these figures surer?', measureText(data))}
</main>
<footer>${CAUTION}</footer>`;
  return page(data.title ?? data.build, body);
}

function section(
  question: string,
  content: Markup | readonly Markup[] | false | undefined,
  note?: string,
): Markup | undefined {
  if (!content) return undefined;
  const remark = note === undefined ? undefined : markup`<p class="quiet">${note}</p>`;
  return markup`<section><h2>${question}</h2>${content}${remark}</section>`;
}

function findingsSection({ findings }: SheetData, naming: Naming): Markup | undefined {
  if (findings.length === 0) return undefined;
  const items = findings.map((finding) => {
    const about = finding.pack === undefined ? '' : ` on ${(finding.packs ?? [finding.pack]).join(', ')}`;
    const accepted =
      finding.accepted === undefined ? undefined : markup` <strong>Accepted:</strong> ${finding.accepted}`;
    return markup`<li class="${finding.accepted === undefined ? finding.severity : 'accepted'}"><strong>${nameOf(finding.severity)}</strong> <code>${finding.id}</code>${about}: ${finding.message}${accepted} <span class="quiet">${placeOf(finding.place, naming)}</span></li>`;
  });
  return section('What was found?', markup`<ul class="findings">${items}</ul>`);
}

function placeOf(place: SheetData['place'], { pathOf, sources }: Naming): string {
  const line = sources.excerpt(place)?.start.line;
  return line === undefined ? pathOf(place.uri) : `${pathOf(place.uri)}:${line}`;
}

function pairOf(
  options: readonly SheetOption[],
  chartOf: (option: SheetOption, id: string) => Chart | undefined,
  kind: string,
): Markup | undefined {
  const figures = options.flatMap((option, i) => {
    const id = `${kind}${i}`;
    const chart = chartOf(option, id);
    return chart ? [markup`<figure><figcaption>${optionName(option)}</figcaption>${svg(chart, id)}</figure>`] : [];
  });
  return figures.length > 0 ? markup`<div class="pair">${figures}</div>` : undefined;
}

function resultsTable({ options }: SheetData, rows: readonly SheetRow[]): Markup {
  const head = options.map((option) => markup`<th scope="col" class="number">${optionName(option)}</th>`);
  const lines = rows.map(({ label, says, cells }) => {
    const values = cells.map((cell) =>
      typeof cell === 'string'
        ? markup`<td class="none">${cell}</td>`
        : markup`<td class="number">${sayQuantity(cell)}</td>`,
    );
    return markup`<tr><th scope="row" title="${says}">${label}</th>${values}</tr>`;
  });
  return markup`<div class="scroll"><table><thead><tr><td></td>${head}</tr></thead><tbody>${lines}</tbody></table></div>`;
}

const folded = (title: string, content: Markup): Markup =>
  markup`<details><summary>${title}</summary>${content}</details>`;

/** Lines of all packs' ledgers, each label once. */
function ledgerRows(options: readonly SheetOption[]): { label: string; lines: (LedgerLine | undefined)[] }[] {
  const labels = [...new Set(options.flatMap(({ ledger }) => ledger.map(({ label }) => label)))];
  return labels.map((label) => ({
    label,
    lines: options.map(({ ledger }) => ledger.find((line) => line.label === label)),
  }));
}

const sayLine = ({ count, mass }: LedgerLine): string => `${count > 1 ? `${count} ×, ` : ''}${sayQuantity(mass)}`;

function ledgerTable(options: readonly SheetOption[]): Markup {
  const head = options.map((option) => markup`<th scope="col" class="number">${optionName(option)}</th>`);
  const rows = ledgerRows(options).map(
    ({ label, lines }) =>
      markup`<tr><th scope="row">${label}</th>${lines.map((line) => markup`<td class="number">${line && sayLine(line)}</td>`)}</tr>`,
  );
  return markup`<div class="scroll"><table><thead><tr><td></td>${head}</tr></thead><tbody>${rows}</tbody></table></div>`;
}

function requirementsTable({ requirements }: SheetData): Markup | undefined {
  const rows = requirements.flatMap(({ text, because, onPacks }) =>
    onPacks.map(
      ({ pack, verdict, words, packGramsLeft }, i) =>
        markup`<tr><th scope="row">${i === 0 ? markup`<code>${text}</code>${because && markup`<br><span class="quiet">${because}</span>`}` : undefined}</th><td>${pack}</td><td><strong>${verdict}</strong></td><td>${words}</td><td class="number">${packGramsLeft && sayQuantity(packGramsLeft)}</td></tr>`,
    ),
  );
  if (rows.length === 0) return undefined;
  return markup`<div class="scroll"><table><thead><tr><th scope="col">asked</th><th scope="col">pack</th><th scope="col">verdict</th><th scope="col">in numbers</th><th scope="col">pack may weigh more by</th></tr></thead><tbody>${rows}</tbody></table></div>`;
}

function measureWords({ measureFirst }: SheetData): string | undefined {
  if (!measureFirst) return undefined;
  const { how, now, plusMinusThen } = measureFirst;
  return `Measure first: ${how}. Minutes in hover, now ${sayQuantity(now)}, would then be known to ${formatPlusMinus(now.value, plusMinusThen, now.unit)}.`;
}

function measureText(data: SheetData): Markup | undefined {
  const words = measureWords(data);
  return words === undefined ? undefined : markup`<p>${words}</p>`;
}

export function sheetMarkdown(data: SheetData, naming: Naming): string {
  const { first, others } = rowsByProminence(data);
  const heads = data.options.map((option) => cellCode(optionName(option)));
  const table = (rows: readonly (readonly string[])[]) =>
    [
      `| | ${heads.join(' | ')} |`,
      `|:--|${'--:|'.repeat(heads.length)}`,
      ...rows.map((row) => `| ${row.join(' | ')} |`),
    ].join('\n');
  const resultRows = (rows: readonly SheetRow[]) =>
    rows.map(({ label, cells }) => [
      prose(label),
      ...cells.map((cell) => (typeof cell === 'string' ? '–' : prose(sayQuantity(cell)))),
    ]);
  const measure = measureWords(data);
  const blocks = [
    `# ${prose(data.title ?? data.build)}`,
    `${code(data.build)}, ${code(placeOf(data.place, naming))}`,
    `**${prose(verdictOf(data.findings).sentence)}**`,
    ...(data.findings.length > 0
      ? [
          '## What was found?',
          data.findings
            .map((finding) => {
              const accepted = finding.accepted === undefined ? '' : ` Accepted: ${prose(finding.accepted)}`;
              return `- **${nameOf(finding.severity)}** ${code(finding.id)}: ${prose(finding.message)}${accepted} ${code(placeOf(finding.place, naming))}`;
            })
            .join('\n'),
        ]
      : []),
    ...(data.options.length > 0
      ? [
          '## How does it fly, on each pack?',
          table(resultRows(first)),
          `<details><summary>Everything else</summary>\n\n${table(resultRows(others))}\n\n</details>`,
          '## What does it weigh?',
          table(
            ledgerRows(data.options).map(({ label, lines }) => [
              prose(label),
              ...lines.map((line) => (line ? prose(sayLine(line)) : '')),
            ]),
          ),
          '## How near are the limits?',
          data.options
            .map(
              (option) =>
                `${code(optionName(option))}\n\n${option.limits
                  .map(
                    ({ name, part, allowed, flows }) =>
                      `- ${code(name)} of ${code(part)}: ${prose(sayQuantity(flows))} of ${prose(formatPlusMinus(allowed, 0, flows.unit))}`,
                  )
                  .join('\n')}`,
            )
            .join('\n\n'),
        ]
      : []),
    ...(data.requirements.length > 0
      ? [
          '## What was asked of it?',
          data.requirements
            .flatMap(({ text, onPacks }) =>
              onPacks.map(
                ({ pack, verdict, words, packGramsLeft }) =>
                  `- ${code(text)} on ${code(pack)}: **${verdict}**, ${prose(words)}${packGramsLeft ? prose(`; ${sayGramsLeft(packGramsLeft)}`) : ''}`,
              ),
            )
            .join('\n'),
        ]
      : []),
    ...(measure === undefined ? [] : ['## What would make these figures surer?', prose(measure)]),
    `<sub>${CAUTION}</sub>`,
  ];
  return `${blocks.join('\n\n')}\n`;
}

const SVG_WIDTH = 920;
const MARGIN = 20;

/** All charts below each other, as one picture. */
export function sheetSvg(data: SheetData): string {
  const parts: Markup[] = [];
  let y = 64;
  const heading = (text: string) => {
    parts.push(markup`<text class="strong" x="${MARGIN}" y="${y + 20}" style="font-size:15px">${text}</text>`);
    y += 34;
  };
  const place = (chart: Chart, id: string, x: number) => {
    parts.push(
      markup`<svg x="${x}" y="${y}" width="${chart.width}" height="${chart.height}" role="img" aria-labelledby="${id}-title"><title id="${id}-title">${chart.title}</title><desc>${chart.description}</desc>${chart.body}</svg>`,
    );
  };
  const pairs = (title: string, kind: string, chartOf: (option: SheetOption, id: string) => Chart | undefined) => {
    const charts = data.options.flatMap((option, i) => {
      const chart = chartOf(option, `${kind}${i}`);
      return chart ? [{ chart, name: optionName(option), id: `${kind}${i}` }] : [];
    });
    if (charts.length === 0) return;
    heading(title);
    for (let i = 0; i < charts.length; i += 2) {
      const row = charts.slice(i, i + 2);
      row.forEach(({ name }, column) => {
        parts.push(markup`<text class="quiet" x="${MARGIN + column * 450}" y="${y + 10}">${name}</text>`);
      });
      y += 16;
      row.forEach(({ chart, id }, column) => {
        place(chart, id, MARGIN + column * 450);
      });
      y += Math.max(...row.map(({ chart }) => chart.height)) + 12;
    }
  };
  if (data.options.some(({ ledger }) => ledger.length > 0)) {
    heading('What does it weigh?');
    const chart = ledgerChart(data.options, 'ledger');
    place(chart, 'ledger', MARGIN);
    y += chart.height + 12;
  }
  pairs('When must it land?', 'land', ({ pack, flight }, id) => flight && voltageChart(pack, flight, id));
  pairs('How near are the limits?', 'limit', ({ pack, limits }, id) =>
    limits.length > 0 ? limitsChart(pack, limits, id) : undefined,
  );
  pairs('What if the pack were larger or smaller?', 'size', packMassChart);
  const height = y + 40;
  return markup`<svg class="chart" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SVG_WIDTH} ${height}" width="${SVG_WIDTH}" height="${height}" role="img" aria-labelledby="sheet"><title id="sheet">${data.title ?? data.build}</title><style>${new Markup(CHART_STYLE)}</style><rect width="100%" height="100%" style="fill:var(--paper)"/><text class="strong" x="${MARGIN}" y="42" style="font-size:22px">${data.title ?? data.build}</text>${parts}<text class="quiet" x="${MARGIN}" y="${height - 14}" style="font-size:11px">${CAUTION}</text></svg>
`.text;
}
