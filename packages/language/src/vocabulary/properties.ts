/** The table of all kinds and their properties; each is in `kinds/`. A new property is one entry there. */
import { keysOf } from '../units/lookup-table.ts';
import { AIRFRAME, ITEM, LEAD, LOAD, MOUNT, PLUG_TYPE } from './kinds/fittings.ts';
import { BENCH, BUILD, FLIGHT, OBSERVED, RULES } from './kinds/flying.ts';
import { MOTOR } from './kinds/motor-kind.ts';
import { PACK } from './kinds/pack-kind.ts';
import { ESC, RAIL, REGULATOR } from './kinds/power.ts';
import { PROPELLER } from './kinds/propeller-kind.ts';
import { SHORTLIST } from './kinds/shortlist-kind.ts';
import {
  type BlockKind,
  type BlockSchema,
  FIGURE_SHAPES,
  type FigureShape,
  type Property,
  type Shape,
} from './schema.ts';

const TABLES = {
  airframe: AIRFRAME,
  motor: MOTOR,
  propeller: PROPELLER,
  esc: ESC,
  regulator: REGULATOR,
  pack: PACK,
  load: LOAD,
  item: ITEM,
  lead: LEAD,
  plug: PLUG_TYPE,
  mount: MOUNT,
  bench: BENCH,
  rules: RULES,
  build: BUILD,
  shortlist: SHORTLIST,
  flight: FLIGHT,
  rail: RAIL,
  observed: OBSERVED,
} as const satisfies Readonly<Record<BlockKind, BlockSchema>>;

type Tables = { readonly [Kind in BlockKind]: (typeof TABLES)[Kind]['properties'] };

/** Names of the properties in a table that have a shape. */
type NamesOfShape<Table, Sought extends Shape> = {
  [Name in keyof Table]: Table[Name] extends { readonly shape: Sought } ? Name : never;
}[keyof Table];

// `as Kind`: so that the names of a kind that is not known yet are still known to be among those of all kinds.
type Names = {
  readonly [Sought in Shape]: { readonly [Kind in BlockKind as Kind]: NamesOfShape<Tables[Kind], Sought> };
};
type AllNames = { readonly [Kind in BlockKind as Kind]: keyof Tables[Kind] };
type FigureNames = { readonly [Kind in BlockKind as Kind]: NamesOfShape<Tables[Kind], FigureShape> };
type WordNames = { readonly [Kind in BlockKind as Kind]: NamesOfShape<Tables[Kind], 'word' | 'part'> };

/** The names of the properties of a kind, of any of several, or of all. */
export type PropertyName<Kind extends BlockKind = BlockKind> = AllNames[Kind];

/** Those whose value is one number. */
export type FigureName<Kind extends BlockKind = BlockKind> = FigureNames[Kind];

/** Those whose value is a word, or may be one in place of a part. */
export type WordName<Kind extends BlockKind = BlockKind> = WordNames[Kind];

/** Those that name another part. */
export type PartName<Kind extends BlockKind = BlockKind> = Names['part'][Kind];

export type RangeName<Kind extends BlockKind = BlockKind> = Names['range'][Kind];
export type DateName<Kind extends BlockKind = BlockKind> = Names['date'][Kind];
export type SizeName<Kind extends BlockKind = BlockKind> = Names['size'][Kind];
export type PatternName<Kind extends BlockKind = BlockKind> = Names['pattern'][Kind];
export type CellsName<Kind extends BlockKind = BlockKind> = Names['cells'][Kind];

/** A property of a kind: its shape determines what its name may be read as. */
export type ShapedProperty<Kind extends BlockKind = BlockKind> = {
  [Sought in Shape]: Property<PropertyName<Kind>, Names[Sought][Kind], Sought>;
}[Shape];

export type KindSchema<Kind extends BlockKind> = BlockSchema<PropertyName<Kind>, ShapedProperty<Kind>>;

const SCHEMAS: { readonly [Kind in BlockKind]: KindSchema<Kind> } = TABLES;

export function schemaOf<Kind extends BlockKind>(kind: Kind): KindSchema<Kind> {
  return SCHEMAS[kind];
}

/** The property of a kind that has it. For a word of a text, which may name none, there is `schemaOf`. */
export function propertyOf<Kind extends BlockKind>(kind: Kind, name: PropertyName<Kind>): ShapedProperty<Kind> {
  const property = schemaOf(kind).properties[name];
  if (!property) throw new Error(`${kind} has no ${name}`);
  return property;
}

export const isFigureProperty = (
  property: ShapedProperty,
): property is Extract<ShapedProperty, { readonly shape: FigureShape }> =>
  FIGURE_SHAPES.some((shape) => shape === property.shape);

/** In the order of the table. */
export const propertyNames = <Kind extends BlockKind>(kind: Kind): readonly PropertyName<Kind>[] =>
  Object.values(schemaOf(kind).properties).map(({ name }) => name);

/** The property of a kind that a word of a text names. */
export const propertyNamed = <Kind extends BlockKind>(kind: Kind, word: string): PropertyName<Kind> | undefined =>
  schemaOf(kind).properties[word]?.name;

/** In the order in which people meet them. */
export const BLOCK_KINDS: readonly BlockKind[] = keysOf(TABLES);

/** A property in plain words: `no_load_current` is the no-load current. */
export function propertyInWords(name: string): string {
  return name
    .replace(/^no_load/, 'no-load')
    .replace(/^pwm/, 'PWM')
    .replaceAll('_', ' ');
}
