/** The table of all kinds and their properties; each is in `kinds/`. A new property is one entry there. */
import { keysOf } from '../units/lookup-table.ts';
import { AIRFRAME, ITEM, LEAD, LOAD, MOUNT, PLUG_TYPE } from './kinds/fittings.ts';
import { BENCH, BUILD, FLIGHT, OBSERVED, RULES } from './kinds/flying.ts';
import { MOTOR } from './kinds/motor-kind.ts';
import { PACK } from './kinds/pack-kind.ts';
import { ESC, RAIL, REGULATOR } from './kinds/power.ts';
import { PROPELLER } from './kinds/propeller-kind.ts';
import { SHORTLIST } from './kinds/shortlist-kind.ts';
import type { BlockKind, BlockSchema, Property } from './schema.ts';

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

type PropertyNames = {
  readonly [Kind in BlockKind]: (typeof TABLES)[Kind]['properties'][string]['name'];
};

/** The names of the properties of a kind, of any of several, or of all. */
export type PropertyName<Kind extends BlockKind = BlockKind> = PropertyNames[Kind];

const SCHEMAS: { readonly [Kind in BlockKind]: BlockSchema<PropertyName<Kind>> } = TABLES;

export function schemaOf<Kind extends BlockKind>(kind: Kind): BlockSchema<PropertyName<Kind>> {
  return SCHEMAS[kind];
}

/** The property of a kind that has it. For a word of a text, which may name none, there is `schemaOf`. */
export function propertyOf<Kind extends BlockKind>(kind: Kind, name: PropertyName<Kind>): Property<PropertyName<Kind>> {
  const property = schemaOf(kind).properties[name];
  if (!property) throw new Error(`${kind} has no ${name}`);
  return property;
}

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
