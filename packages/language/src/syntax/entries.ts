/** The lines of a build that name what is in it, after `like`, `without` and `none`. */
import {
  isFigure,
  isProperty,
  type Named,
  type Part as PartNode,
  type Property as PropertyLine,
} from '../grammar/generated/ast.ts';
import { schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { chainOf } from './chain.ts';
import { aliasOf, isUnset } from './clauses.ts';
import { remember } from './memory.ts';
import { lastName, namedOf, partOfTarget, targetOf } from './source.ts';

export interface Entry {
  /** `motors`, `load`, `pack` … */
  readonly word: string;
  readonly line: PropertyLine;
  /** The build whose text it is in. */
  readonly build: PartNode;
  /** Its second name, else the part's, else the quoted label. */
  readonly name: string;
}

/** The rotors of a variant replace the rotors of its base, however they are arranged. */
const REPLACED_TOGETHER: Readonly<Record<string, readonly string[]>> = {
  motors: ['motors', 'upper_motors', 'lower_motors'],
  upper_motors: ['motors', 'upper_motors'],
  lower_motors: ['motors', 'lower_motors'],
};

/** Of a build with all it inherits. */
export function entriesOfBuild(build: PartNode): readonly Entry[] {
  return remember(build, entriesOfBuild, () => entriesOf(chainOf(build).parts));
}

/** `chain`: the build first, its last ancestor last. */
export function entriesOf(chain: readonly PartNode[]): Entry[] {
  const schema = schemaOf('build');
  let entries: Entry[] = [];
  for (const build of chain.toReversed()) {
    const lines = build.lines.filter(isProperty).filter((line) => schema.properties[line.key]?.shape === 'part');
    const removed = new Set(lines.filter((line) => line.key === 'without').map(nameOf));
    const dropped = new Set<string>();
    for (const line of lines) {
      const replaces = isUnset(line) || schema.properties[line.key]?.inBuild === 'replace';
      if (replaces) for (const word of REPLACED_TOGETHER[line.key] ?? [line.key]) dropped.add(word);
    }
    const kept = entries.filter((entry) => !removed.has(entry.name) && !dropped.has(entry.word));
    const own = lines
      .filter((line) => line.key !== 'without' && !isUnset(line))
      .map((line): Entry => ({ word: line.key, line, build, name: nameOf(line) }));
    entries = [...kept, ...own];
  }
  return entries;
}

export function nameOf(line: PropertyLine): string {
  const named = namedOf(line);
  const label = isFigure(line.value) ? line.value.label : undefined;
  return aliasOf(line) ?? (named ? lastName(named) : (label ?? ''));
}

/** Something with rails that supply loads. */
export const isBoard = ({ word }: Pick<Entry, 'word'>): boolean => word === 'esc' || word === 'regulator';

/** The part a line names, when it is found and of a kind that is allowed there. */
export function namedPart(line: PropertyLine): PartNode | undefined {
  return partAmong(namedOf(line), schemaOf('build').properties[line.key]?.parts);
}

export function partAmong(named: Named | undefined, kinds: readonly BlockKind[] | undefined): PartNode | undefined {
  const part = partOfTarget(targetOf(named));
  return part && (!kinds || kinds.includes(part.kind)) ? part : undefined;
}

/** How many: the whole number before the `x`, one without it; undefined when it is no count. */
export function countOf(line: PropertyLine): number | undefined {
  if (!isFigure(line.value)) return 1;
  const { number, unit, times, negative } = line.value;
  const count = Number(number);
  const isCount = times.length === 1 && unit === undefined && !negative && Number.isInteger(count) && count > 0;
  return isCount ? count : undefined;
}
