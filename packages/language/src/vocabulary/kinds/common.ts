/** What several kinds have in common. */
import {
  AREA,
  LENGTH,
  MASS,
  NONE,
  POWER,
  RESISTANCE,
  TEMPERATURE_POINT,
  THERMAL_RESISTANCE,
  TIME,
} from '../../units/dimension.ts';
import { keysOf, lookup } from '../../units/lookup-table.ts';
import type { BlockKind, BlockSchema, ClauseRule, Property, Shape } from '../schema.ts';

/** A property without its name, which is the key it is listed under. What is measured has a dimension and a plausible range. */
export type Described<Name extends string = never> = Omit<Property<Name>, 'name' | 'shape'> &
  (
    | (Required<Pick<Property, 'dimension' | 'plausible'>> & { readonly shape: 'quantity' | 'range' })
    | { readonly shape: Exclude<Shape, 'quantity' | 'range'> }
  );

/** The shape of each property, by its name. */
type Shapes = Readonly<Record<string, Shape>>;

/** A kind whose type has the names of its properties and their shapes. */
interface ShapedSchema<Of extends Shapes> extends BlockSchema<keyof Of & string> {
  readonly properties: { readonly [Name in keyof Of & string]: Property<keyof Of & string, Name, Of[Name]> };
}

export function block<Of extends Shapes>(
  kind: BlockKind,
  description: string,
  described: { readonly [Name in keyof Of]: { readonly shape: Of[Name] } & Described<NoInfer<keyof Of & string>> },
): ShapedSchema<Of>;
export function block<Name extends string>(
  kind: BlockKind,
  description: string,
  described: Readonly<Record<Name, Described<Name>>>,
): BlockSchema<Name> {
  const properties: Record<string, Property<Name>> = {};
  for (const name of keysOf(described)) properties[name] = named<Name>(name, described[name]);
  return { kind, description, properties: lookup(properties) };
}

function named<Name extends string>(name: Name, { mistaken, clauses, ...property }: Described<Name>): Property<Name> {
  return {
    name,
    ...property,
    ...(mistaken && { mistaken: lookup(mistaken) }),
    ...(clauses && { clauses: lookup(clauses) }),
  };
}

/** Lengths of one part: drawings and callipers agree to a percent. */
export const DRAWN = { stated: { relative: 0.01 } } as const;

/** `mass:` of a part. `claimed` is the relative half-width practice sees between a page's mass and the scale. */
export function mass(
  kind: string,
  range: readonly [number, number],
  claimed: number,
  estimated?: string,
): Described & { readonly shape: 'quantity' } {
  return {
    shape: 'quantity',
    dimension: MASS,
    unit: 'g',
    otherUnits: ['kg', 'oz', 'lb'],
    mistaken: { gf: 'g', gr: 'g', mm: 'g', G: 'g' },
    plausible: range,
    tolerance: { stated: { relative: claimed }, measured: { relative: 0.01 }, estimated: { relative: 0.15 } },
    ...(estimated === undefined ? {} : { estimated }),
    description: `What the ${kind} weighs as it flies, one of them.`,
  };
}

export const PRICE = {
  shape: 'money',
  unit: 'EUR',
  otherUnits: ['GBP', 'USD', 'CHF'],
  clauses: { for: { shape: 'quantity', dimension: NONE } },
  description: 'What it costs; `for 8` when that buys more than one. Currencies are added up apart, never converted.',
} as const satisfies Described;

/** After a burst rating: how long it may last. */
export const FOR_SECONDS: ClauseRule = { shape: 'quantity', dimension: TIME, unit: 's' };

/** Behind a part's line in a build: its position, for the balance. */
export const AT_POSITION: ClauseRule = { shape: 'quantity', dimension: LENGTH, unit: 'mm' };

export const OUTER_SIZE = {
  shape: 'size',
  dimension: LENGTH,
  unit: 'mm',
  sides: ['length', 'width', 'height'],
  plausible: [1, 400],
  description: 'Length, width and height, outside.',
} as const satisfies Described;

export const BOARD_BOLTS = {
  shape: 'pattern',
  dimension: LENGTH,
  unit: 'mm',
  plausible: [5, 60],
  clauses: { on: { shape: 'size', dimension: LENGTH, unit: 'mm' } },
  description: 'Its bolts: how many, which thread, and the rectangle they form, as in `4 x M2 on 25.5 x 25.5 mm`.',
} as const satisfies Described;

export const MOTOR_BOLTS_CLAUSES = { on: { shape: 'size', dimension: LENGTH, unit: 'mm' } } as const;

/** Plugs by their make of contact; their ratings are in `plugs.ts`. */
export const PLUG_WORDS = ['Pitch125', 'Pitch200', 'Pitch250', 'Pin1', 'Bullet2', 'Bullet35', 'Bullet45'] as const;

export const PLUG = {
  shape: 'part',
  words: PLUG_WORDS,
  parts: ['plug'],
  description: 'The plug at its end: a built-in type (`Bullet2` has round 2 mm contacts) or a `plug` of your own.',
} as const satisfies Described;

/** Where plus is in one half of a plug; the halves fit where it is the other one's opposite. */
const PLUS_WORDS = ['pin', 'socket', 'left', 'right'] as const;

export const PLUS = {
  shape: 'word',
  words: PLUS_WORDS,
  description:
    'Where plus is in its half of the plug: on its `pin` or its `socket`; of flat plugs `left` or `right`, looking into the contacts with the key up.',
} as const satisfies Described;

export const HEAT_RESISTANCE = {
  shape: 'quantity',
  dimension: THERMAL_RESISTANCE,
  unit: 'K/W',
  plausible: [0.5, 500],
  tolerance: { stated: { relative: 0.3 }, measured: { relative: 0.15 } },
  description:
    'Rise above the air’s temperature per watt lost in it, in flight. Without it no temperature is computed.',
} as const satisfies Described;

export const MAX_TEMPERATURE = {
  shape: 'quantity',
  dimension: TEMPERATURE_POINT,
  unit: 'degC',
  otherUnits: ['degF'],
  mistaken: { C: 'degC', deg: 'degC', F: 'degF' },
  plausible: [40, 200],
  description: 'The hottest it may get inside.',
} as const satisfies Described;

export const LOSS_RESISTANCE = {
  dimension: RESISTANCE,
  unit: 'mohm',
  otherUnits: ['ohm'],
  mistaken: { Mohm: 'mohm', m: 'mohm', mm: 'mohm' },
} as const;

export const COPPER_AREA: ClauseRule = { shape: 'quantity', dimension: AREA, unit: 'AWG', plausible: [2, 40] };

export const HEAT_POWER = { dimension: POWER, unit: 'W', otherUnits: ['mW', 'kW'] } as const;

export const RESERVE = {
  shape: 'share',
  dimension: NONE,
  unit: '%',
  plausible: [0, 60],
  tolerance: { stated: { relative: 0 } },
  clauses: { of: { shape: 'word', words: ['capacity'] } },
  estimated: '20 % for lipo and lihv, 12 % for liion.',
  description: 'Charge to land with: `20 % of capacity`.',
} as const;
