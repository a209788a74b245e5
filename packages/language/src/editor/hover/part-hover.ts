/** Parts, rails and properties. Markdown. */
import { formatMeasurable } from '../../analysis/uncertainty/print-estimate.ts';
import { printedFigure } from '../../analysis/uncertainty/spread.ts';
import type { PartNode } from '../../grammar/generated/ast.ts';
import type { Figure, Part } from '../../model/build.ts';
import type { Range } from '../../model/part-values.ts';
import { originWords } from '../../report/present/derivation-words.ts';
import { limitWords } from '../../report/present/limit-words.ts';
import { formatShare, formatValue } from '../../units/print.ts';
import { firstFew } from '../../vocabulary/phrasing.ts';
import { isFigureProperty, schemaOf } from '../../vocabulary/properties.ts';
import type { Property } from '../../vocabulary/schema.ts';
import { commentAbove } from '../comments.ts';
import { type PartMargin, shareOf } from '../margins.ts';
import { documentationOf } from '../property-text.ts';
import { fettleCode, paragraphs, plain, plainLines, table } from './hover-markdown.ts';

const MOST_FIGURES = 8;
const MOST_BUILDS = 8;

export function partText(
  node: PartNode,
  part: Part | undefined,
  usedIn?: readonly string[],
  worst?: PartMargin,
): string {
  const title = node.title === undefined ? '' : ` – ${plain(node.title)}`;
  const comment = commentAbove(node);
  return paragraphs(
    `**${node.kind} ${plain(node.name ?? '')}**${title}`,
    comment === undefined ? undefined : plainLines(comment),
    part && figuresTable(part),
    worst && marginText(worst),
    usedIn && usedInText(usedIn),
  );
}

function marginText(margin: PartMargin): string {
  const { limit, allowed, unit, build, pack } = margin;
  const flows = formatMeasurable(margin, unit);
  const share = formatShare(shareOf(margin));
  return `Nearest to a limit in ${plain(build)} on ${fettleCode(pack)}: ${plain(flows)} of ${plain(formatValue(allowed, unit))} (${plain(limitWords(limit, margin.name))}), ${share}.`;
}

export function railText(part: Part): string {
  return paragraphs(`**rail ${plain(part.name)}**`, figuresTable(part));
}

/** Figures that somebody stated, then those the language filled in. */
function figuresTable(part: Part): string | undefined {
  const figures = Object.values(schemaOf(part.kind).properties).flatMap((property) => {
    if (property.dimension === undefined || property.shape === 'cells') return [];
    const figure = isFigureProperty(property) ? part.figure(property.name) : part.firstNumber(property.name);
    return figure === undefined ? [] : [{ property, figure }];
  });
  const byOrigin = figures.toSorted((left, right) => rankOf(left.figure) - rankOf(right.figure)).slice(0, MOST_FIGURES);
  const words = Object.values(schemaOf(part.kind).properties).flatMap((property) => {
    const isWord = property.shape === 'word' || (property.shape === 'part' && property.words);
    const word = isWord ? part.word(property.name) : undefined;
    return word === undefined ? [] : [[plain(property.name), fettleCode(word), '']];
  });
  const cells = schemaOf(part.kind).properties.cells?.shape === 'cells' ? part.cells('cells') : undefined;
  const cellRow = cells && [['cells', `${cells.series}S${cells.parallel > 1 ? `${cells.parallel}P` : ''}`, '']];
  const rows = [
    ...(cellRow ?? []),
    ...words,
    ...byOrigin.map(({ property, figure }) => [
      plain(property.name),
      plain(printed(figure, property.shape === 'range' ? part.range(property.name) : undefined)),
      originInWords(figure),
    ]),
  ];
  return rows.length === 0 ? undefined : table(['', 'value', 'origin'], rows, ['origin']);
}

/** Of a range both ends: its figure is the lower one. */
const printed = (figure: Figure, range: Range | undefined): string => range?.text ?? printedFigure(figure);

const RANKS: Readonly<Record<Figure['origin'], number>> = {
  measured: 0,
  stated: 0,
  claimed: 0,
  estimated: 1,
  default: 2,
};

function rankOf(figure: Figure): number {
  return figure.place === undefined ? 1 + RANKS[figure.origin] : RANKS[figure.origin];
}

export function originInWords(figure: Figure): string {
  const source = figure.source === undefined ? '' : ` (${plain(figure.source)})`;
  return originWords(figure.origin) + source;
}

function usedInText(builds: readonly string[]): string | undefined {
  if (builds.length === 0) return 'Used in no build.';
  return `Used in ${firstFew(builds.map(plain), MOST_BUILDS)}.`;
}

export function propertyText(property: Property, figure: Figure | undefined, range?: Range): string {
  const here = figure && `Here ${plain(printed(figure, range))}, ${originInWords(figure)}.`;
  const why = figure?.because === undefined ? undefined : plain(figure.because);
  return paragraphs(`**${plain(property.name)}**`, documentationOf(property), here, why);
}
