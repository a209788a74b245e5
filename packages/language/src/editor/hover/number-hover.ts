/** A number in other units, with its ± and where it comes from. Markdown. */
import { printedFigure } from '../../analysis/uncertainty/spread.ts';
import type { Figure } from '../../model/build.ts';
import { alike, NONE } from '../../units/dimension.ts';
import { otherUnitsOf, parseUnit, type Unit, unitFor, unitNamed } from '../../units/parse.ts';
import { formatValue } from '../../units/print.ts';
import { fettleCode, paragraphs, plain } from './hover-markdown.ts';
import { originInWords } from './part-hover.ts';

const MOST_UNITS = 5;
/** In other units a figure keeps the digits it was written with, and at least these. */
const LEAST_DIGITS = 3;

/** `figure` is the value the number belongs to, when the model has it. */
export function numberText(
  number: string,
  unitText: string | undefined,
  figure: Figure | undefined,
): string | undefined {
  const unit = unitText === undefined ? undefined : parseUnit(unitText).unit;
  const isPlain = unit !== undefined && alike(unit.dimension, NONE);
  const others = unit === undefined || isPlain ? [] : inOtherUnits(Number(number), unit, figure, digitsOf(number));
  const here = figure && `${plain(printedFigure(figure))}, ${originInWords(figure)}`;
  const why = figure?.because === undefined ? undefined : plain(figure.because);
  if (others.length === 0 && here === undefined) return undefined;
  const written = fettleCode(unitText === undefined ? number : `${number} ${unitText}`);
  const equal = others.length === 0 ? written : `${written} = ${others.map(plain).join(' = ')}`;
  return paragraphs(equal, here, why);
}

/** Units the trade uses for this dimension, those in which the number stays readable. */
function inOtherUnits(value: number, unit: Unit, figure: Figure | undefined, digits: number): string[] {
  const fitted = figure === undefined ? unit : (unitFor(unit, figure.dimension) ?? unit);
  const si = fitted.toSI(value);
  return otherUnitsOf(unit)
    .map((name) => unitNamed(name))
    .map((other) => ({ other, size: Math.abs(other.fromSI(si)) }))
    .filter(({ size }) => size === 0 || (size >= 0.1 && size < 1e4))
    .slice(0, MOST_UNITS)
    .map(({ other }) => formatValue(si, other, digits));
}

function digitsOf(number: string): number {
  const digits = number
    .replace(/[eE].*$/, '')
    .replace('.', '')
    .replace(/^0+/, '').length;
  return Math.min(6, Math.max(LEAST_DIGITS, digits));
}
