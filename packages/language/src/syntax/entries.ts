/** The lines of a build that name what is in it, after `like`, `without` and `none`. */
import {
  isFigureNode,
  isPropertyNode,
  type NamedNode,
  type PartNode,
  type PropertyNode,
} from '../grammar/generated/ast.ts';
import { type PropertyName, schemaOf } from '../vocabulary/properties.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import { chainOf } from './chain.ts';
import { aliasOf, isUnset } from './clauses.ts';
import { remembered } from './memory.ts';
import { lastName, namedOf, partOfTarget, targetOf } from './source.ts';
import { isCount, numberOf } from './written-number.ts';

type EntryWord = PropertyName<'build'>;

export interface Entry {
  /** `motors`, `load`, `pack` … */
  readonly word: EntryWord;
  readonly line: PropertyNode;
  /** The build whose text it is in. */
  readonly build: PartNode;
  /** Its second name, else the part's, else the quoted label. */
  readonly name: string;
}

/** The rotors of a variant replace the rotors of its base, however they are arranged. */
const REPLACED_TOGETHER: Readonly<Partial<Record<EntryWord, readonly EntryWord[]>>> = {
  motors: ['motors', 'upper_motors', 'lower_motors'],
  upper_motors: ['motors', 'upper_motors'],
  lower_motors: ['motors', 'lower_motors'],
};

/** Of a build with all it inherits. */
export const entriesOfBuild = remembered((build: PartNode): readonly Entry[] => entriesOf(chainOf(build).parts));

/** `chain`: the build first, its last ancestor last. */
export function entriesOf(chain: readonly PartNode[]): Entry[] {
  const schema = schemaOf('build');
  let entries: Entry[] = [];
  for (const build of chain.toReversed()) {
    const lines = build.lines.filter(isPropertyNode).flatMap((line) => {
      const { shape, name: word, inBuild } = schema.properties[line.key] ?? {};
      return word && shape === 'part' ? [{ line, word, replaces: isUnset(line) || inBuild === 'replace' }] : [];
    });
    const removed = new Set(lines.filter(({ word }) => word === 'without').map(({ line }) => nameOf(line)));
    const dropped = new Set<EntryWord>();
    for (const { word, replaces } of lines)
      if (replaces) for (const one of REPLACED_TOGETHER[word] ?? [word]) dropped.add(one);
    const kept = entries.filter((entry) => !removed.has(entry.name) && !dropped.has(entry.word));
    const own = lines
      .filter(({ line, word }) => word !== 'without' && !isUnset(line))
      .map(({ line, word }): Entry => ({ word, line, build, name: nameOf(line) }));
    entries = [...kept, ...own];
  }
  return entries;
}

export function nameOf(line: PropertyNode): string {
  const named = namedOf(line);
  const label = isFigureNode(line.value) ? line.value.label : undefined;
  return aliasOf(line) ?? (named ? lastName(named) : (label ?? ''));
}

/** Something with rails that supply loads. */
export const isBoard = ({ word }: Pick<Entry, 'word'>): boolean => word === 'esc' || word === 'regulator';

/** The part a line names, when it is found and of a kind that is allowed there. */
export function namedPart(line: PropertyNode): PartNode | undefined {
  return partAmong(namedOf(line), schemaOf('build').properties[line.key]?.parts);
}

export function partAmong(named: NamedNode | undefined, kinds: readonly BlockKind[] | undefined): PartNode | undefined {
  const part = partOfTarget(targetOf(named));
  return part && (!kinds || kinds.includes(part.kind)) ? part : undefined;
}

/** How many: the whole number before the `x`, one without it; undefined when it is no count. */
export function countOf(line: PropertyNode): number | undefined {
  if (!isFigureNode(line.value)) return 1;
  const { unit, times } = line.value;
  return times.length === 1 && unit === undefined && isCount(line.value) ? numberOf(line.value) : undefined;
}
