/** Which properties bound what a build does, what a part states of one, and whether it allows more than another. */
import { ratedCurrent } from '../../checks/shared/ratings.ts';
import type { Figure, Part } from '../../model/build.ts';
import { isOfKind } from '../../model/of-kind.ts';
import { equal } from '../../units/dimension.ts';
import { isFigureProperty, type PropertyName, type ShapedProperty, schemaOf } from '../../vocabulary/properties.ts';
import type { BlockKind } from '../../vocabulary/schema.ts';

/** To which side a limit allows more; `higher`: of a range only its upper end bounds; `fits`: it has to suit another one. */
type Side = 'more' | 'less' | 'wider' | 'higher' | 'fits';

const SUPPLY = { supply: 'wider' } as const;
const RATINGS = { continuous: 'more', burst: 'more', max: 'more' } as const;
const HEAT = { thermal_resistance: 'less', max_temperature: 'more' } as const;
const CONVERTER = { type: 'fits', dropout: 'fits', ...SUPPLY, ...RATINGS, ...HEAT } as const;

type Limits<Kind extends BlockKind = BlockKind> = Readonly<Partial<Record<PropertyName<Kind>, Side>>>;

/** By kind: properties that a check judges by. */
const LIMITS: { readonly [Kind in BlockKind]?: Limits<Kind> } = {
  motor: { rated: 'higher', ...RATINGS, power: 'more', ...HEAT, bolts: 'fits', screw_depth: 'more', shaft: 'fits' },
  propeller: { max_speed: 'more', bore: 'fits' },
  esc: { channels: 'fits', cells: 'wider', ...SUPPLY, ...RATINGS, ...HEAT, bolts: 'fits' },
  rail: CONVERTER,
  regulator: CONVERTER,
  load: { ...SUPPLY, bolts: 'fits' },
  pack: {
    chemistry: 'fits',
    discharge: 'more',
    burst: 'more',
    reserve: 'less',
    plug: 'fits',
    plus: 'fits',
    size: 'fits',
  },
  lead: { wire: 'fits', plug: 'fits', plus: 'fits' },
  plug: { continuous: 'more', burst: 'more', mates: 'fits' },
  airframe: {
    rotors: 'fits',
    wheelbase: 'more',
    guard_diameter: 'more',
    bay: 'more',
    bolts: 'fits',
    motor_bolts: 'fits',
  },
};

/** What else bounds the same. */
const REPLACED_BY: Readonly<Partial<Record<PropertyName, readonly PropertyName[]>>> = {
  continuous: ['max'],
  burst: ['max'],
  max: ['burst'],
  cells: ['supply'],
  supply: ['cells'],
};

export const limitsOfKind = (kind: BlockKind): Limits => LIMITS[kind] ?? {};

/** Whether a property is stated, or another one in its place. */
export const isStated = (part: Part, property: PropertyName): boolean =>
  [property, ...(REPLACED_BY[property] ?? [])].some((one) => part.placeOf(one) !== undefined || part.holes.has(one));

export function allowsMore(before: Part, now: Part, name: PropertyName): boolean {
  const side = limitsOfKind(now.kind)[name];
  const property = schemaOf(now.kind).properties[name];
  if (!property || side === undefined || side === 'fits') return false;
  if (property.shape === 'range') {
    const [old, range] = [before.range(property.name), now.range(property.name)];
    if (!old || !range) return false;
    return range.high > old.high || (side === 'wider' && range.low < old.low);
  }
  if (property.shape === 'size') {
    const [old, size] = [before.size(property.name)?.sides, now.size(property.name)?.sides];
    return size?.some((one, i) => one > (old?.[i] ?? one)) ?? false;
  }
  if (!isFigureProperty(property)) return false;
  // Where nothing was stated, what was estimated counted.
  const [was, is] = [before.figure(property.name), now.declared(property.name)];
  if (!was || !is) return false;
  if (isOfKind(before, 'pack') && isOfKind(now, 'pack') && side === 'more' && was.unit !== is.unit) {
    // One states its rate as a multiple of the capacity, the other one in amperes.
    const [rated, rates] = [ratedCurrent(before, was), ratedCurrent(now, is)];
    return rated !== undefined && rates !== undefined && rates > rated * (1 + SAME);
  }
  if (!equal(was.dimension, is.dimension)) return false;
  return side === 'less' ? is.value < was.value : is.value > was.value;
}

/** Share within which a limit in another unit is the same one. */
const SAME = 1e-9;

/** The same wherever the value is the same, in whatever unit. */
export function statedOf(part: Part, name: PropertyName): string {
  const property = schemaOf(part.kind).properties[name];
  return (property && statedBy(part, property)) ?? '';
}

function statedBy(part: Part, property: ShapedProperty): string | undefined {
  switch (property.shape) {
    case 'range': {
      const range = part.range(property.name);
      return range && `${printedLimit(range.low)} .. ${printedLimit(range.high)}`;
    }
    case 'cells': {
      const cells = part.cells(property.name);
      return cells && `${cells.series} ${cells.parallel}`;
    }
    case 'size':
      return part.size(property.name)?.sides.map(printedLimit).join(' x ');
    case 'pattern': {
      const bolts = part.bolts(property.name);
      return bolts && `${bolts.count} ${bolts.thread} ${bolts.sides.map(printedLimit).join(' x ')}`;
    }
    case 'word':
      return part.word(property.name);
    case 'date':
      return part.day(property.name);
    case 'part':
      return part.word(property.name) ?? part.part(property.name)?.name;
    default: {
      const figure = isFigureProperty(property) ? part.declared(property.name) : undefined;
      return figure && statedFigure(figure);
    }
  }
}

/** With the clauses behind it: `for 5 s`. */
export const statedFigure = ({ value, dimension, conditions }: Figure): string => {
  const clauses = Object.entries(conditions).map(([word, one]) => ` ${word} ${printedLimit(one.value)}`);
  return `${printedLimit(value)} ${Object.values(dimension).join()}${clauses.sort().join('')}`;
};

export const printedLimit = (value: number): string => String(Number(value.toPrecision(12)));
