/** How rotors are arranged, and which parts share what is learnt. */
import type { Property as PropertyLine } from '../grammar/generated/ast.ts';
import { conditionOf, nameBehind } from '../syntax/clauses.ts';
import type { Amount } from './amounts.ts';
import type { Build, PackOption, Part } from './build.ts';

/** What is plugged in, as its line states it: `Mast800_5S`, `2 x Mast800_5S in series`, `Long850_4S with Long650_4S in parallel`; its own second name where it has one. */
export function packWords({ name, part, count, arrangement, beside }: PackOption): string {
  const [first, ...others] = beside ?? [];
  if (first)
    return name === first.part.name
      ? `${[severally(first), ...others.map(severally)].join(' with ')} in parallel`
      : name;
  return arrangement === 'single' || name !== part.name ? name : `${severally({ part, count })} in ${arrangement}`;
}

const severally = ({ part, count }: { readonly part: Part; readonly count: number }): string =>
  count === 1 ? part.name : `${count} x ${part.name}`;

/** At most so many builds calibrate another one: more of one file add hardly anything new. */
export const MOST_KIN = 8;

/** The same for two readings of one part: a build that is read later than another may have read its parts anew. */
export const partKey = ({ kind, name, place }: Part): string => `${place.uri}#${place.start} ${kind} ${name}`;

/** What two builds may have in common that an observation applies to. */
export const teachingParts = ({ rotors, packs }: Build): Part[] => [
  ...rotors.flatMap(({ motor, propeller }) => [motor, propeller]),
  ...packs.map(({ part }) => part),
];

export function isDuty(limit: Amount | undefined): boolean {
  return limit?.unit === '%' && limit.value > 0 && limit.value <= 1;
}

/** Undefined while several packs do not state how they are joined. */
export function arrangementOf(line: PropertyLine, count: number): PackOption['arrangement'] | undefined {
  const stated = nameBehind(line, 'in');
  if (stated === 'parallel' || stated === 'series') return stated;
  return stated === undefined && !conditionOf(line, 'in') && count === 1 ? 'single' : undefined;
}

export function isDefined<T>(value: T | undefined): value is T {
  return value !== undefined;
}
