/**
 * Two packs of one cell count and chemistry that differ in size, side by side, as one pack: charge and mass add, and they share the
 * current as their conductances do. The parts stay what they are: whoever moves a figure of one moves the whole.
 */
import { CURRENT, equal } from '../units/dimension.ts';
import type { FigureName } from '../vocabulary/properties.ts';
import type { Figure, Part, Reading } from './build.ts';
import { partWith } from './made-parts.ts';

/** So many of one pack. */
export interface Several {
  readonly part: Part<'pack'>;
  readonly count: number;
}

type Formula = (read: Reading) => number;

/** In words what is not alike and has to be; undefined where the two are allowed side by side. */
export function unlike(one: Part, other: Part): string | undefined {
  const [cells, others] = [one.cells('cells'), other.cells('cells')];
  if (cells && others && cells.series !== others.series)
    return `${one.name} has ${cells.series} cells in series, ${other.name} ${others.series}: side by side the one burns the other`;
  const [chemistry, otherChemistry] = [one, other].map((part) => part.word('chemistry') ?? 'lipo');
  if (chemistry !== otherChemistry)
    return `${one.name} is ${chemistry}, ${other.name} ${otherChemistry}: only packs of one chemistry may be connected in parallel`;
  return undefined;
}

/** All of them as one pack, `name` on messages. */
export function sideBySide(name: string, all: readonly [Several, ...Several[]]): Part<'pack'> {
  const [{ part: first }] = all;
  const made = new Map<FigureName<'pack'>, Figure | undefined>();
  const figure = (property: FigureName<'pack'>): Figure | undefined => {
    if (!made.has(property)) made.set(property, combined(property, name, all));
    return made.get(property);
  };
  const declared = (property: FigureName<'pack'>) =>
    all.every(({ part }) => part.declared(property)) ? figure(property) : undefined;
  const cells = first.cells('cells');
  return partWith(first, {
    // Each has its own: a bay is judged pack by pack.
    size: () => undefined,
    bolts: () => undefined,
    rails: [],
    name,
    figure,
    declared,
    // Of the whole: what is in parallel inside the packs is in the resistance already.
    cells: (property) => (property === 'cells' && cells ? { ...cells, parallel: 1 } : undefined),
    notes: all.flatMap(({ part }) => part.notes),
    holes: new Set(all.flatMap(({ part }) => [...part.holes])),
  });
}

function combined(
  property: FigureName<'pack'>,
  name: string,
  all: readonly [Several, ...Several[]],
): Figure | undefined {
  const [{ part }] = all;
  const own = all.map((several) => several.part.figure(property));
  const [first] = own;
  const present = own.filter((one) => one !== undefined);
  const isWhole = present.length === all.length;
  switch (property) {
    case 'capacity':
    case 'mass':
    case 'price':
      return first && isWhole
        ? made(first, property, name, (read) => sum(all, (one) => figureOf(one, property, read)))
        : undefined;
    case 'cell_resistance':
    case 'plug_resistance':
      return first && isWhole
        ? made(first, property, name, (read) => 1 / sum(all, (one) => conductance(one, property, read)))
        : undefined;
    case 'lead':
      return first && isWhole ? leadOf(first, name, all) : undefined;
    case 'discharge':
    case 'burst':
      return ratingOf(property, name, all);
    // The older and the colder of them represent all.
    case 'cycles':
      return present.toSorted((a, b) => b.value - a.value)[0];
    case 'temperature':
    case 'reserve':
      return property === 'reserve'
        ? present.toSorted((a, b) => b.value - a.value)[0]
        : present.toSorted((a, b) => a.value - b.value)[0];
    default:
      return part.figure(property);
  }
}

const figureOf = ({ part, count }: Several, property: FigureName<'pack'>, read: Reading): number => {
  const figure = part.figure(property);
  return figure ? count * read(figure) : 0;
};

const sum = <T>(all: readonly T[], of: (one: T) => number): number => all.reduce((total, one) => total + of(one), 0);

/** Of all pieces of one pack; of cells that of a row of groups, by the group. */
function conductance({ part, count }: Several, property: FigureName<'pack'>, read: Reading): number {
  const figure = part.figure(property);
  const parallel = property === 'cell_resistance' ? (part.cells('cells')?.parallel ?? 1) : 1;
  return figure ? (count * parallel) / read(figure) : 0;
}

/** As long as the first, of as much copper as all of them have at that length. */
function leadOf(first: Figure, name: string, all: readonly Several[]): Figure | undefined {
  const areas = all.map(({ part }) => part.figure('lead')?.conditions.of);
  const [area] = areas;
  if (!area || areas.some((one) => one === undefined)) return undefined;
  const whole = made(area, 'lead.of', name, (read) =>
    sum(all, ({ part, count }) => {
      const run = part.figure('lead');
      const copper = run?.conditions.of;
      return run && copper ? (count * read(copper) * read(first)) / read(run) : 0;
    }),
  );
  return { ...first, conditions: { ...first.conditions, of: whole } };
}

/** A: the whole is rated for what it delivers when the first of them is at its limit. */
function ratingOf(property: FigureName<'pack'>, name: string, all: readonly Several[]): Figure | undefined {
  const rated = all.flatMap(({ part, count }) => {
    const figure = part.declared(property);
    const capacity = part.figure('capacity');
    const resistance = part.figure('cell_resistance');
    return figure && capacity && resistance ? [{ one: { part, count }, figure, capacity }] : [];
  });
  const [first] = rated;
  if (!first || rated.length < all.length) return undefined;
  const value: Formula = (read) =>
    Math.min(
      ...rated.map(({ one, figure, capacity }) => {
        const amperes = equal(figure.dimension, CURRENT) ? read(figure) : read(figure) * read(capacity);
        const share =
          conductance(one, 'cell_resistance', read) / sum(all, (each) => conductance(each, 'cell_resistance', read));
        return (one.count * amperes) / share;
      }),
    );
  return { ...made(first.figure, property, name, value), dimension: CURRENT, unit: 'A' };
}

/** A figure that follows others and has no error of its own. */
function made(like: Figure, property: FigureName<'pack'> | 'lead.of', name: string, value: Formula): Figure {
  const { place, source, ...rest } = like;
  return {
    ...rest,
    id: `${like.id} in ${name}`,
    whose: { sort: 'other' },
    label: `${property.replaceAll('_', ' ')} of ${name}`,
    value: value(({ value: written }) => written),
    standardUncertainty: 0,
    recompute: value,
    because: 'of all packs side by side',
    conditions: {},
    ...(place && { place }),
  };
}
