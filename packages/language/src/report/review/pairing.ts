/**
 * Which declaration of one version is which of the other: by file and name, else by name where a file was moved or renamed; also by
 * its content, where it goes by another name.
 */
import { splitId } from '../../model/identities.ts';
import type { Declaration } from '../../model/statements.ts';
import { kindAndName } from '../present/report-words.ts';

type Declared = ReadonlyMap<string, Declaration>;

export class Pairing {
  /** From an id of the old version to that of the new one, where they differ. */
  readonly #moved: ReadonlyMap<string, string>;
  readonly #back: ReadonlyMap<string, string>;

  constructor(before: Declared, after: Declared) {
    const moved = movedIds(before, after);
    this.#moved = new Map([...moved, ...renamedBuilds(before, after, moved), ...renamedParts(before, after, moved)]);
    this.#back = new Map([...this.#moved].map(([from, to]) => [to, from]));
  }

  /** The id under which the new version knows a declaration or figure of the old one, if it does. */
  toNew(id: string): string {
    return translated(id, this.#moved);
  }

  toOld(id: string): string {
    return translated(id, this.#back);
  }
}

function translated(id: string, ids: ReadonlyMap<string, string>): string {
  if (ids.size === 0) return id;
  const { declaration, rest } = splitId(id);
  return `${ids.get(declaration) ?? declaration}${rest}`;
}

/** Gone from one file and come in another, once each. */
function movedIds(before: Declared, after: Declared): Map<string, string> {
  const gone = byName([...before.values()].filter(({ id }) => !after.has(id)));
  const come = byName([...after.values()].filter(({ id }) => !before.has(id)));
  const moved = new Map<string, string>();
  for (const [name, [from, ...othersGone]] of gone) {
    const [to, ...othersCome] = come.get(name) ?? [];
    if (from && to && othersGone.length === 0 && othersCome.length === 0) moved.set(from.id, to.id);
  }
  return moved;
}

/** Of the lines of two builds, the share that makes them one under two names, when no other came or went; ours. */
const ALIKE = 0.75;

function renamedBuilds(before: Declared, after: Declared, moved: ReadonlyMap<string, string>): Map<string, string> {
  const { gone, come } = unpaired(before, after, moved, ({ kind, name }) => kind === 'build' && name !== '');
  const renamed = renamedAmong(gone, come);
  const [from, to] = [gone[0], come[0]];
  if (from && to && gone.length === 1 && come.length === 1 && likeness(from, to) >= ALIKE) renamed.set(from.id, to.id);
  return renamed;
}

function renamedParts(before: Declared, after: Declared, moved: ReadonlyMap<string, string>): Map<string, string> {
  const { gone, come } = unpaired(before, after, moved, ({ kind }) => kind !== 'build');
  return renamedAmong(gone, come);
}

/** What has content, is in one version only, and was not moved. */
function unpaired(
  before: Declared,
  after: Declared,
  moved: ReadonlyMap<string, string>,
  isWanted: (one: Declaration) => boolean,
): { readonly gone: readonly Declaration[]; readonly come: readonly Declaration[] } {
  const arrived = new Set(moved.values());
  const counts = (one: Declaration) => isWanted(one) && one.statements.length > 0;
  return {
    gone: [...before.values()].filter((one) => counts(one) && !after.has(one.id) && !moved.has(one.id)),
    come: [...after.values()].filter((one) => counts(one) && !before.has(one.id) && !arrived.has(one.id)),
  };
}

/** Those of equal content under a new name, as no other of their kind does that went or came. */
const renamedAmong = (gone: readonly Declaration[], come: readonly Declaration[]): Map<string, string> =>
  new Map(
    twins(gone, come, (one, other) => one.kind === other.kind && likeness(one, other) === 1).map(([from, to]) => [
      from.id,
      to.id,
    ]),
  );

/** Of what went and what came each pair that is alike, and like no other. */
export function twins<T>(
  gone: readonly T[],
  come: readonly T[],
  isAlike: (one: T, other: T) => boolean,
): (readonly [from: T, to: T])[] {
  return gone.flatMap((from) => {
    const [to, ...others] = come.filter((one) => isAlike(from, one));
    const isOnly = to !== undefined && others.length === 0 && gone.filter((one) => isAlike(one, to)).length === 1;
    return isOnly ? [[from, to] as const] : [];
  });
}

/** Share of lines in both, in any order. */
function likeness(one: Declaration, other: Declaration): number {
  const left = one.statements.map(({ sense }) => sense);
  let common = 0;
  for (const { sense } of other.statements) {
    const i = left.indexOf(sense);
    if (i < 0) continue;
    left.splice(i, 1);
    common += 1;
  }
  return common / Math.max(one.statements.length, other.statements.length);
}

function byName(declarations: readonly Declaration[]): Map<string, Declaration[]> {
  const groups = new Map<string, Declaration[]>();
  for (const one of declarations) {
    const name = kindAndName(one);
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return groups;
}
