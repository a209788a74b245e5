/** Who weighs what: one bar per pack, divided by part, on one scale. */
import { scaleLinear } from 'd3-scale';
import { formatMeasurable } from '../../../analysis/uncertainty/print-estimate.ts';
import type { Place } from '../../../syntax/place.ts';
import { formatValue } from '../../../units/print.ts';
import { type Chart, fitting, hatch, label, textWidth } from '../../present/chart.ts';
import { type Markup, markup } from '../../present/markup.ts';
import type { LedgerLine, SheetOption } from '../sheet-data.ts';

/** Drawn so that the writing is readable on a page of that width. */
export const LEDGER_WIDTHS = { wide: 880, narrow: 520 } as const;
const LEFT = 12;
const BAR = 34;
const ROW = 74;
const COLOURS = 6;
/** Room behind a bar for its sum. */
const SUM_ROOM = 110;

/**
 * @param id unique on the page
 * @param wayTo an attribute for what leads to a place
 */
export function ledgerChart(
  options: readonly SheetOption[],
  id: string,
  width: number,
  wayTo?: (place: Place) => Markup | undefined,
): Chart {
  const sums = options.map(({ ledger }) => sumOf(ledger));
  const x = scaleLinear()
    .domain([0, Math.max(...sums, 1e-9)])
    .range([LEFT, width - SUM_ROOM]);
  const labels = [...new Set(options.flatMap(({ ledger }) => ledger.map((line) => line.label)))];
  const rows = options.map((option, row) => {
    let before = 0;
    const top = row * ROW + 24;
    const segments = drawnOf(option.ledger).map(({ line, drawn }) => {
      const [from, to] = [x(before), x(before + drawn)];
      before += drawn;
      return segment(
        line,
        drawn,
        from,
        to,
        top,
        labels.indexOf(line.label),
        `${id}-hatch`,
        line.place && wayTo?.(line.place),
      );
    });
    const sum = options[row] ? formatValue(sums[row] ?? 0, 'g') : '';
    return markup`${label(LEFT, top - 7, fitting(option.packWords, width - LEFT), 'strong')}${segments}${label(x(before) + 8, top + BAR / 2 + 4, sum, 'strong')}`;
  });
  return {
    width,
    height: options.length * ROW + 4,
    title: 'Mass by part',
    description: options
      .map(
        ({ packWords, ledger }, i) =>
          `${packWords}: ${formatValue(sums[i] ?? 0, 'g')}; ${ledger.map(described).join(', ')}`,
      )
      .join('. '),
    body: markup`${hatch(`${id}-hatch`)}${rows}`,
  };
}

/** What was taken out since the craft was weighed shortens what it was weighed in. */
function drawnOf(ledger: readonly LedgerLine[]): { readonly line: LedgerLine; readonly drawn: number }[] {
  let missing = ledger.reduce((sum, { mass }) => sum + Math.max(0, -mass.value), 0);
  return ledger
    .filter(({ mass }) => mass.value >= 0)
    .map((line) => {
      const drawn = Math.max(0, line.mass.value - missing);
      missing = Math.max(0, missing - line.mass.value);
      return { line, drawn };
    });
}

const sumOf = (ledger: readonly LedgerLine[]): number => ledger.reduce((sum, { mass }) => sum + mass.value, 0);

const described = ({ label: name, count, mass }: LedgerLine): string =>
  `${count > 1 ? `${count} × ` : ''}${name} ${formatMeasurable(mass, 'g')}`;

function segment(
  line: LedgerLine,
  drawn: number,
  from: number,
  to: number,
  top: number,
  colour: number,
  hatching: string,
  way: Markup | undefined,
): Markup {
  const width = to - from;
  const name = line.count > 1 ? `${line.count} × ${line.label}` : line.label;
  const mass = formatValue(drawn, 'g');
  const middle = (from + to) / 2;
  const fits = (text: string) => textWidth(text) < width - 6;
  return markup`<g${way}><title>${described(line)}</title><rect class="f${colour % COLOURS} soft" x="${from}" y="${top}" width="${width}" height="${BAR}"/>${
    colour % 2 === 1
      ? markup`<rect fill="url(#${hatching})" x="${from}" y="${top}" width="${width}" height="${BAR}"/>`
      : undefined
  }<rect class="edge" fill="none" x="${from}" y="${top}" width="${width}" height="${BAR}"/>${
    fits(mass) ? label(middle, top + BAR / 2 + 4, mass, '', 'middle') : undefined
  }${fits(name) ? label(middle, top + BAR + 14, name, 'quiet', 'middle') : undefined}</g>`;
}
