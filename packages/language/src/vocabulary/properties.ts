/** The table of all kinds and their properties; each is in `kinds/`. A new property is one entry there. */
import { AIRFRAME, ITEM, LEAD, LOAD, MOUNT, PLUG_TYPE } from './kinds/fittings.ts';
import { BENCH, BUILD, FLIGHT, OBSERVED, RULES } from './kinds/flying.ts';
import { MOTOR } from './kinds/motor-kind.ts';
import { PACK } from './kinds/pack-kind.ts';
import { ESC, RAIL, REGULATOR } from './kinds/power.ts';
import { PROPELLER } from './kinds/propeller-kind.ts';
import { SHORTLIST } from './kinds/shortlist-kind.ts';
import type { BlockKind, BlockSchema } from './schema.ts';

const SCHEMAS: Readonly<Record<BlockKind, BlockSchema>> = {
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
};

export function schemaOf(kind: BlockKind): BlockSchema {
  return SCHEMAS[kind];
}

/** In the order in which people meet them. */
export const BLOCK_KINDS = Object.keys(SCHEMAS) as readonly BlockKind[];

/** A property in plain words: `no_load_current` is the no-load current. */
export function propertyInWords(name: string): string {
  return name
    .replace(/^no_load/, 'no-load')
    .replace(/^pwm/, 'PWM')
    .replaceAll('_', ' ');
}
