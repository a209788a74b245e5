/** Figures that nobody declared, from the vocabulary's estimates. */
import type { Dimension } from '../units/quantity.ts';
import type { Estimator, KnownFigures } from '../vocabulary/estimators.ts';
import { isFigureProperty, schemaOf } from '../vocabulary/properties.ts';
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

/** A figure, or one aspect of another property: `stator.diameter`, `rated.high`, `cells.parallel`. */
function numberAt(part: Part, path: string, read: Reading): number | undefined {
  const [word = '', aspect = ''] = path.split('.');
  const property = schemaOf(part.kind).properties[word];
  if (!property) return undefined;
  switch (property.shape) {
    case 'range':
      return aspect === 'low' || aspect === 'high' ? part.range(property.name)?.[aspect] : undefined;
    case 'cells':
      return aspect === 'series' || aspect === 'parallel' ? part.cells(property.name)?.[aspect] : undefined;
    case 'size': {
      const sides: Readonly<Record<string, number | undefined>> = part.size(property.name)?.named ?? {};
      return sides[aspect];
    }
    case 'part': {
      const named = part.part(property.name);
      return named && numberAt(named, aspect, read);
    }
    default: {
      const figure = isFigureProperty(property) ? part.figure(property.name) : undefined;
      return figure && read(figure);
    }
  }
}
