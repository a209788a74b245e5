/**
 * Which declaration of one version is which of the other: by file and name, else by name where a file was moved or renamed; also by
 * what it says, where it goes by another name.
 */
import type { Declaration } from '../../model/statements.ts';

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

/** A figure's id begins with that of the part that declares it. */
function translated(id: string, ids: ReadonlyMap<string, string>): string {
  if (ids.size === 0) return id;
  const dot = id.indexOf('.', id.indexOf('#'));
  const [part, rest] = dot < 0 ? [id, ''] : [id.slice(0, dot), id.slice(dot)];
  return `${ids.get(part) ?? part}${rest}`;
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

/** Of what two builds say, the share that makes them one under two names, when no other came or went; ours. */
const ALIKE = 0.75;

function renamedBuilds(before: Declared, after: Declared, moved: ReadonlyMap<string, string>): Map<string, string> {
  const arrived = new Set(moved.values());
  const isNamedBuild = ({ kind, name, statements }: Declaration) =>
    kind === 'build' && name !== '' && statements.length > 0;
  const gone = [...before.values()].filter((one) => isNamedBuild(one) && !after.has(one.id) && !moved.has(one.id));
  const come = [...after.values()].filter((one) => isNamedBuild(one) && !before.has(one.id) && !arrived.has(one.id));
  const renamed = new Map<string, string>();
  for (const from of gone) {
    const twins = come.filter((to) => likeness(from, to) === 1);
    const rivals = gone.filter((other) => likeness(from, other) === 1);
    if (twins[0] && twins.length === 1 && rivals.length === 1) renamed.set(from.id, twins[0].id);
  }
  const [from, to] = [gone[0], come[0]];
  if (from && to && gone.length === 1 && come.length === 1 && likeness(from, to) >= ALIKE) renamed.set(from.id, to.id);
  return renamed;
}

/** A part says the same under its new name, as no other of its kind does that went or came. */
function renamedParts(before: Declared, after: Declared, moved: ReadonlyMap<string, string>): Map<string, string> {
  const arrived = new Set(moved.values());
  const isPart = ({ kind, statements }: Declaration) => kind !== 'build' && statements.length > 0;
  const gone = [...before.values()].filter((one) => isPart(one) && !after.has(one.id) && !moved.has(one.id));
  const come = [...after.values()].filter((one) => isPart(one) && !before.has(one.id) && !arrived.has(one.id));
  const isTwin = (one: Declaration, other: Declaration) => one.kind === other.kind && likeness(one, other) === 1;
  const renamed = new Map<string, string>();
  for (const from of gone) {
    const [to, ...others] = come.filter((one) => isTwin(from, one));
    if (to && others.length === 0 && gone.filter((one) => isTwin(one, to)).length === 1) renamed.set(from.id, to.id);
  }
  return renamed;
}

/** Share of lines that both say, in any order. */
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
    const name = `${one.kind} ${one.name}`;
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return groups;
}
