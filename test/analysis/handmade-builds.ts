/** Builds made by hand, figure by figure: what the model makes from files, without the files. */
import type {
  Build,
  Feed,
  Figure,
  LoadUse,
  PackOption,
  Part,
  RotorLine,
  Rules,
  Use,
} from '../../packages/language/src/model/build.ts';
import { draftPart, partWith } from '../../packages/language/src/model/made-parts.ts';
import type { Cells, Range } from '../../packages/language/src/model/part-values.ts';
import type { Place } from '../../packages/language/src/syntax/place.ts';
import { keysOf } from '../../packages/language/src/units/lookup-table.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import type { Dimension } from '../../packages/language/src/units/quantity.ts';
import type { PropertyName } from '../../packages/language/src/vocabulary/properties.ts';
import type { BlockKind, Origin } from '../../packages/language/src/vocabulary/schema.ts';

export const PLACE: Place = { uri: 'file:///build.fettle', start: 0, end: 1 };
/** Where a part is declared: not in the line that uses it. */
const PART_PLACE: Place = { uri: 'file:///parts.fettle', start: 0, end: 1 };

export interface Stated {
  readonly value: number;
  readonly unit: string;
  /** Half-width (k = 2), in the unit. */
  readonly plusMinus?: number;
  readonly origin?: Origin;
  readonly conditions?: Readonly<Record<string, Stated>>;
}

export const stated = (value: number, unit: string, plusMinus = 0, more: Partial<Stated> = {}): Stated => ({
  value,
  unit,
  plusMinus,
  ...more,
});

export function figureOf(
  id: string,
  { value, unit, plusMinus = 0, origin = 'stated', conditions = {} }: Stated,
): Figure {
  const known = unitNamed(unit === '' ? 'cell' : unit);
  const dimension: Dimension = known.dimension;
  return {
    id,
    label: id,
    whose: { sort: 'other' },
    value: known.toSI(value),
    dimension,
    unit,
    standardUncertainty: (plusMinus * (known.scale ?? 1)) / 2,
    origin,
    conditions: Object.fromEntries(
      Object.entries(conditions).map(([word, condition]) => [word, figureOf(`${id}.${word}`, condition)]),
    ),
  };
}

export interface PartText {
  readonly figures?: Readonly<Partial<Record<PropertyName, Stated | Figure>>>;
  readonly words?: Readonly<Partial<Record<PropertyName, string>>>;
  readonly ranges?: Readonly<Partial<Record<PropertyName, readonly [number, number, string]>>>;
  readonly cells?: readonly [number, number];
}

export function part<Kind extends BlockKind>(kind: Kind, name: string, text: PartText): Part<Kind> {
  const figures = new Map<PropertyName, Figure>();
  for (const property of keysOf(text.figures ?? {})) {
    const figure = text.figures?.[property];
    if (figure) figures.set(property, 'id' in figure ? figure : figureOf(`${name}.${property}`, figure));
  }
  const draft = draftPart(kind, name, PART_PLACE, (property) => figures.get(property));
  return partWith(draft, {
    range: (property): Range | undefined => {
      const range = text.ranges?.[property];
      return range && { low: range[0], high: range[1], unit: range[2], place: PLACE, text: '' };
    },
    word: (property) => text.words?.[property],
    cells: (): Cells | undefined => text.cells && { series: text.cells[0], parallel: text.cells[1], place: PLACE },
    placeOf: () => PLACE,
  });
}

export const use = <Kind extends BlockKind>(of: Part<Kind>, count = 1): Use<Kind> => ({
  name: of.name,
  count,
  part: of,
  place: PLACE,
});

const fromPack: Feed = { pack: true };

export const load = (of: Part<'load'>, from: Feed = fromPack): LoadUse => ({ ...use(of), from });

export const rotors = (
  count: number,
  motor: Part<'motor'>,
  propeller: Part<'propeller'>,
  position: RotorLine['position'] = 'single',
) => ({
  count: figureOf('count', stated(count, '')),
  motor,
  propeller,
  position,
  place: PLACE,
});

export const packOption = (of: Part<'pack'>, duty = 1, more: Partial<PackOption> = {}): PackOption => ({
  name: of.name,
  part: of,
  count: 1,
  arrangement: 'single',
  dutyLimit: figureOf(`duty.${of.name}`, stated(duty * 100, '%')),
  place: PLACE,
  ...more,
});

export const rules = (more: Partial<Rules> = {}): Rules => ({
  airTemperature: figureOf('rules.air', stated(15, 'degC', 10)),
  altitude: figureOf('rules.altitude', stated(0, 'm', 200)),
  burstMultiple: figureOf('rules.burst', stated(2.5, '')),
  groundTime: figureOf('rules.ground', stated(0, 's')),
  flown: [
    { share: figureOf('rules.flown', stated(100, '%')), hoverMultiple: figureOf('rules.flown.at', stated(1, '')) },
  ],
  requirements: [],
  margins: [],
  severities: [],
  ...more,
});

export const build = (more: Partial<Build>): Build => ({
  name: 'Craft',
  uri: PLACE.uri,
  place: PLACE,
  rotors: [],
  escs: [],
  regulators: [],
  rails: [],
  loads: [],
  items: [],
  leads: [],
  mounts: [],
  spares: [],
  packs: [],
  flights: [],
  rules: rules(),
  acceptances: [],
  observations: [],
  kin: () => [],
  benches: [],
  notes: [],
  holes: new Set(),
  blocks: [],
  isMadeOf: () => false,
  ...more,
});
