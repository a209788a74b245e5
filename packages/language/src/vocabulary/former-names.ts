/** Names that the language had before. A file that uses one is understood, pointed out by a hint, and mended by its fix. */
import type { PropertyName } from './properties.ts';
import type { BlockKind } from './schema.ts';

export interface FormerName<Name extends string = string> {
  readonly name: Name;
  /** Where the quantity changed with its name: how many of the new unit one of the old is. */
  readonly times?: number;
}

const STANDBY = { name: 'standby_current' } as const;
const HEAT = { heat_path: { name: 'thermal_resistance' }, hottest: { name: 'max_temperature' } } as const;

const FORMER_PROPERTIES: {
  readonly [Kind in BlockKind]?: Readonly<Record<string, FormerName<PropertyName<Kind>>>>;
} = {
  airframe: {
    guard: { name: 'guard_diameter' },
    arm: { name: 'arm_thickness' },
    screw: { name: 'screw_length' },
  },
  motor: { idle: { name: 'no_load_current' }, screw: { name: 'screw_depth' }, ...HEAT },
  propeller: { top_speed: { name: 'max_speed' } },
  esc: { idle: STANDBY, switching: { name: 'pwm_frequency' }, ...HEAT },
  rail: { idle: STANDBY, ...HEAT },
  regulator: { idle: STANDBY, ...HEAT },
  // The former unit was a hundred charges.
  pack: { seasons: { name: 'cycles', times: 100 } },
  observed: { bell: { name: 'motor_temperature' } },
};

const FORMER_WORDS: Readonly<Record<string, string>> = {
  blocked_current: 'stall_current',
  blocked_ratio: 'stall_ratio',
  both: 'buck_boost',
};

export function formerProperty(kind: BlockKind, name: string): FormerName | undefined {
  const names = FORMER_PROPERTIES[kind];
  return names && Object.hasOwn(names, name) ? names[name] : undefined;
}

/** `keep 20 % in hand on …`, the former spelling */
export const FORMER_MARGIN = { former: 'hand', now: 'reserve' } as const;

/** Of a result or a choice. */
export function formerWord(name: string): string | undefined {
  return Object.hasOwn(FORMER_WORDS, name) ? FORMER_WORDS[name] : undefined;
}

/** Whether a text may use a former name at all: most do not, and are not looked through. */
export const MAY_BE_FORMER = new RegExp(
  `\\b(?:${[...Object.values(FORMER_PROPERTIES).flatMap((names) => Object.keys(names)), ...Object.keys(FORMER_WORDS), `in\\s+${FORMER_MARGIN.former}`].join('|')})\\b`,
);
