/** Figures that nobody declared, from the vocabulary's estimates. */
import type { Dimension } from '../units/quantity.ts';
import type { Estimator, FigurePath, KnownFigures } from '../vocabulary/estimators.ts';
import { propertyNamed } from '../vocabulary/properties.ts';
import type { Figure, Part, Reading } from './build.ts';
import type { Identity } from './figures.ts';

/** The dimension of what is estimated and the unit to print it in. */
export interface PrintedIn {
  readonly dimension: Dimension;
  readonly unit: string;
}

/**
 * The first estimate whose needs are met. Its value follows every reading of the part's other figures, so that moving a kv moves the
 * resistance estimated from it; its own scatter comes on top.
 */
export function estimatedFigure(
  first: Estimator,
  printed: PrintedIn,
  identity: Identity,
  part: Part,
): Figure | undefined {
  const nominal = known(part, (figure) => figure.value);
  for (let estimator: Estimator | undefined = first; estimator; estimator = estimator.otherwise) {
    const value = estimator.value(nominal);
    if (value === undefined) continue;
    const chosen = estimator;
    const scatter = chosen.scatter(nominal);
    return {
      ...identity,
      ...printed,
      value,
      standardUncertainty: 'relative' in scatter ? scatter.relative * Math.abs(value) : scatter.absolute,
      origin: chosen.needs.length > 0 ? 'estimated' : 'default',
      because: chosen.because,
      conditions: {},
      // Far-off readings may leave the formula's range: the nominal value is better than none.
      recompute: (read) => chosen.value(known(part, read)) ?? value,
    };
  }
  return undefined;
}

function known(part: Part, read: Reading): KnownFigures {
  return {
    number: (path) => numberAt(part, path, read),
    word: (property) => part.word(property),
    dimension: (property) => part.figure(property)?.dimension,
  };
}

/** A property, or one aspect of it: `stator.diameter`, `rated.high`, `cells.parallel`. */
function numberAt(part: Part, path: FigurePath, read: Reading): number | undefined {
  const [word = '', aspect] = path.split('.');
  const property = propertyNamed(part.kind, word);
  if (property === undefined) return undefined;
  if (aspect === undefined) {
    const figure = part.figure(property);
    return figure && read(figure);
  }
  if (aspect === 'low' || aspect === 'high') return part.range(property)?.[aspect];
  if (aspect === 'series' || aspect === 'parallel') return part.cells(property)?.[aspect];
  const named = part.part(property);
  const ofNamed = named && propertyNamed(named.kind, aspect);
  const figure = ofNamed && named.figure(ofNamed);
  if (figure) return read(figure);
  const sides: Readonly<Record<string, number | undefined>> = part.size(property)?.named ?? {};
  return sides[aspect];
}
