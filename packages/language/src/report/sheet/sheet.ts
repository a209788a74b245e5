/** The build sheet: one page by the questions of a builder, as HTML or one SVG. */
import { CHART_COLOURS, CHART_STYLE, type Chart } from '../present/chart.ts';
import { Markup, markup } from '../present/markup.ts';
import { page } from '../present/page.ts';
import { CAUTION } from '../present/report-words.ts';
import { type NamedSources, pathAndLine } from '../present/sources.ts';
import { COMPUTED_BY } from '../present/version.ts';
import { flightLegsChart } from './charts/flight-legs.ts';
import { LEDGER_WIDTHS, ledgerChart } from './charts/ledger.ts';
import { LOGGED_WIDTHS, loggedVoltageChart } from './charts/logged-voltage.ts';
import { PACK_CHARTS, type PackChartKind } from './charts/of-packs.ts';
import type { SheetData } from './sheet-data.ts';
import { SHEET_SECTIONS } from './sheet-sections.ts';
import { optionName, QUESTION } from './sheet-words.ts';

/** Two pages: charts at half their size, limits as figures. */
const PRINT_STYLE = `
@page { margin: 10mm; }
@media print {
  html { font-size: 9pt; }
  body { font-size: 7.6pt; line-height: 1.22; }
  h1 { font-size: 15pt; } h2 { font-size: 10.5pt; margin: 2.5mm 0 1mm; padding-top: 1mm; }
  p, ul.findings { margin: 0.5mm 0; } ul.findings li { margin: 0.5mm 0; padding: 0.3mm 0 0.3mm 2mm; }
  th, td { padding: 0.35mm 3mm 0.35mm 0; }
  .glance { grid-template-columns: repeat(auto-fit, minmax(40mm, 1fr)); gap: 2mm; margin: 1.5mm 0 1mm; }
  .pack { padding: 0.7mm 2mm; } .pack dl div { padding: 0; } .pack dt { flex: 0 1 auto; } .pack dd b { font-size: 1.2em; }
  .pair { grid-template-columns: repeat(auto-fill, minmax(56mm, 1fr)); gap: 0 3mm; }
  .pair:has(> :nth-child(4)) { grid-template-columns: repeat(4, minmax(0, 1fr)); }
  .pair:has(> :nth-child(4)) .chart text { font-size: 15px; }
  .wide .chart { max-height: 32mm; }
  .on-screen { display: none; }
  details.in-print, details.in-print:not([open]) { display: block; margin: 0; }
  details.in-print::details-content { content-visibility: visible; display: block; height: auto; }
  details.in-print > summary { display: none; }
  footer { margin-top: 2mm; padding-top: 1mm; }
}
`;

/** One page that is on its own. */
export function sheetHtml(data: SheetData, naming: NamedSources): string {
  const nowhere = () => undefined;
  const ways = {
    where: (place: SheetData['place']) => pathAndLine(naming, place),
    toPlace: nowhere,
    toDerivation: nowhere,
  };
  const sections = SHEET_SECTIONS.flatMap(({ of }) => of(data, ways) ?? []).map((one) => markup`${one}\n`);
  return page(data.title ?? data.build, sections, PRINT_STYLE);
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
  const pairs = (title: string, kind: PackChartKind) =>
    inPairs(
      title,
      data.options.flatMap((option, i) => {
        const id = `${kind}${i}`;
        const chart = PACK_CHARTS[kind](option, id);
        return chart ? [{ chart, name: optionName(option), id }] : [];
      }),
    );
  const inPairs = (
    title: string,
    charts: readonly { readonly chart: Chart; readonly name: string; readonly id: string }[],
  ) => {
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
    heading(QUESTION.weight);
    const chart = ledgerChart(data.options, 'ledger', LEDGER_WIDTHS.wide);
    place(chart, 'ledger', MARGIN);
    y += chart.height + 12;
  }
  pairs(QUESTION.land, 'land');
  inPairs(
    QUESTION.legs,
    data.options.flatMap((option, i) =>
      option.flights.flatMap((flight, j) => {
        const chart = flightLegsChart(option.packWords, flight);
        return chart ? [{ chart, name: `${flight.name} on ${optionName(option)}`, id: `legs${i}-${j}` }] : [];
      }),
    ),
  );
  pairs(QUESTION.limits, 'limit');
  pairs(QUESTION.sizes, 'size');
  pairs(QUESTION.shake, 'shake');
  const logged = data.logs.flatMap((log) => loggedVoltageChart(log, LOGGED_WIDTHS.wide) ?? []);
  if (logged.length > 0) heading(QUESTION.compared);
  for (const [i, chart] of logged.entries()) {
    place(chart, `log${i}`, MARGIN);
    y += chart.height + 12;
  }
  const height = y + 56;
  const foot = [CAUTION, COMPUTED_BY].map(
    (line, i) =>
      markup`<text class="quiet" x="${MARGIN}" y="${height - 30 + 16 * i}" style="font-size:11px">${line}</text>`,
  );
  return markup`<svg class="chart" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SVG_WIDTH} ${height}" width="${SVG_WIDTH}" height="${height}" role="img" aria-labelledby="sheet"><title id="sheet">${data.title ?? data.build}</title><style>${new Markup(CHART_COLOURS + CHART_STYLE)}</style><rect width="100%" height="100%" style="fill:var(--paper)"/><text class="strong" x="${MARGIN}" y="42" style="font-size:22px">${data.title ?? data.build}</text>${parts}${foot}</svg>
`.text;
}
