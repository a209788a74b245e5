/** Which declaration of one version is which of the other: by file and name, else by name where a file was moved or renamed. */
import type { Declaration } from '../../model/statements.ts';

type Declared = ReadonlyMap<string, Declaration>;

export class Pairing {
  /** From an id of the old version to that of the new one, where they differ. */
  readonly #moved: ReadonlyMap<string, string>;
  readonly #back: ReadonlyMap<string, string>;

  constructor(before: Declared, after: Declared) {
    const moved = movedIds(before, after);
    this.#moved = moved;
    this.#back = new Map([...moved].map(([from, to]) => [to, from]));
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

function byName(declarations: readonly Declaration[]): Map<string, Declaration[]> {
  const groups = new Map<string, Declaration[]>();
  for (const one of declarations) {
    const name = `${one.kind} ${one.name}`;
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return groups;
}
