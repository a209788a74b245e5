/** Builds made by hand, figure by figure: what the model makes from files, without the files. */
import type {
  Build,
  Cells,
  Feed,
  Figure,
  LoadUse,
  PackOption,
  Part,
  Range,
  RotorLine,
  Rules,
  Use,
} from '../../packages/language/src/model/build.ts';
import type { Place } from '../../packages/language/src/syntax/place.ts';
import { unitNamed } from '../../packages/language/src/units/parse.ts';
import type { Dimension } from '../../packages/language/src/units/quantity.ts';
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
  readonly figures?: Readonly<Record<string, Stated | Figure>>;
  readonly words?: Readonly<Record<string, string>>;
  readonly ranges?: Readonly<Record<string, readonly [number, number, string]>>;
  readonly cells?: readonly [number, number];
}

export function part(kind: BlockKind, name: string, text: PartText): Part {
  const figures = new Map(
    Object.entries(text.figures ?? {}).map(([property, figure]) => [
      property,
      'id' in figure ? figure : figureOf(`${name}.${property}`, figure),
    ]),
  );
  const nothing = () => undefined;
  return {
    kind,
    name,
    place: PART_PLACE,
    figure: (property) => figures.get(property),
    declared: (property) => figures.get(property),
    usual: nothing,
    range: (property): Range | undefined => {
      const range = text.ranges?.[property];
      return range && { low: range[0], high: range[1], unit: range[2], place: PLACE, text: '' };
    },
    word: (property) => text.words?.[property],
    text: nothing,
    day: nothing,
    size: nothing,
    bolts: nothing,
    cells: (): Cells | undefined => text.cells && { series: text.cells[0], parallel: text.cells[1], place: PLACE },
    part: nothing,
    placeOf: () => PLACE,
    rails: [],
    notes: [],
    holes: new Set(),
  };
}

export const use = (of: Part, count = 1): Use => ({ name: of.name, count, part: of, place: PLACE });

const fromPack: Feed = { pack: true };

export const load = (of: Part, from: Feed = fromPack): LoadUse => ({ ...use(of), from });

export const rotors = (count: number, motor: Part, propeller: Part, position: RotorLine['position'] = 'single') => ({
  count: figureOf('count', stated(count, '')),
  motor,
  propeller,
  position,
  place: PLACE,
});

export const packOption = (of: Part, duty = 1, more: Partial<PackOption> = {}): PackOption => ({
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
