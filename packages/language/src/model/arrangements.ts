/** How rotors are arranged, and which parts share what is learnt. */
import type { PropertyNode } from '../grammar/generated/ast.ts';
import { conditionOf, nameBehind } from '../syntax/clauses.ts';
import type { Amount } from './amounts.ts';
import type { Build, PackOption, Part } from './build.ts';
import type { Nameable } from './named.ts';
import { slotsOf } from './slots.ts';

/** What is plugged in, as its line states it: `Mast800_5S`, `2 x Mast800_5S in series`, `Long850_4S with Long650_4S in parallel`; its own second name where it has one. */
export function packWords({ name, part, count, arrangement, beside }: PackOption): string {
  const [first, ...others] = beside ?? [];
  if (first)
    return name === first.part.name
      ? `${[severally(first), ...others.map(severally)].join(' with ')} in parallel`
      : name;
  return arrangement === 'single' || name !== part.name ? name : `${severally({ part, count })} in ${arrangement}`;
}

/** What those words name. */
export function namedByPackWords(option: PackOption): Nameable[] {
  const [first, ...others] = option.beside ?? [];
  return first?.part.name === option.name ? [option, ...others.map(({ part }) => part)] : [option];
}

const severally = ({ part, count }: { readonly part: Part; readonly count: number }): string =>
  count === 1 ? part.name : `${count} x ${part.name}`;

/** At most so many builds calibrate another one: more of one file add hardly anything new. */
export const MOST_KIN = 8;

/** What two builds may have in common that an observation applies to. */
export const teachingParts = (build: Build): Part[] => slotsOf(build, ['rotors', 'packs']).map(({ part }) => part);

export function isDuty(limit: Amount | undefined): boolean {
  return limit?.unit === '%' && limit.value > 0 && limit.value <= 1;
}

/** Undefined while several packs do not state how they are joined. */
export function arrangementOf(line: PropertyNode, count: number): PackOption['arrangement'] | undefined {
  const stated = nameBehind(line, 'in');
  if (stated === 'parallel' || stated === 'series') return stated;
  return stated === undefined && !conditionOf(line, 'in') && count === 1 ? 'single' : undefined;
}

export function isDefined<T>(value: T | undefined): value is T {
  return value !== undefined;
}
