/** What the build or the board around a name has on its lines: what the name can refer to without a look into other files. */
import { isRailNode } from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { entriesOf, entriesOfBuild, isBoard, type Entry as LineEntry, namedPart } from '../syntax/entries.ts';
import { partAround, railsOf } from '../syntax/nodes.ts';
import type { FettleReference, Holder } from './reference.ts';

const NO_ENTRIES: readonly LineEntry[] = [];

function entriesAround(holder: Holder): readonly LineEntry[] {
  const build = partAround(holder);
  return build?.kind === 'build' ? entriesOfBuild(build) : NO_ENTRIES;
}

/** Boards and regulators. */
export function fedFrom(holder: Holder): readonly LineEntry[] {
  return entriesAround(holder).filter(isBoard);
}

export function packOptions(holder: Holder): readonly LineEntry[] {
  return entriesAround(holder).filter((entry) => entry.word === 'pack');
}

export const flightsAround = (holder: Holder): readonly LineEntry[] =>
  entriesAround(holder).filter((entry) => entry.word === 'flight');

export function inheritedEntries(holder: Holder): readonly LineEntry[] {
  const build = partAround(holder);
  if (build?.kind !== 'build') return NO_ENTRIES;
  return entriesOf(chainOf(build).parts.slice(1));
}

export function railsAround(holder: Holder): ReturnType<typeof railsOf> {
  const board = partAround(holder);
  return board ? railsOf(board) : new Map();
}

export function railsOfBoards(holder: Holder): ReturnType<typeof railsOf> {
  const rails: ReturnType<typeof railsOf> = new Map();
  for (const entry of fedFrom(holder)) {
    const board = entry.word === 'esc' ? namedPart(entry.line) : undefined;
    for (const [name, rail] of board ? railsOf(board) : []) if (!rails.has(name)) rails.set(name, rail);
  }
  return rails;
}

export function hasUnknownPack(holder: Holder): boolean {
  if (partAround(holder)?.kind !== 'build') return false;
  const packs = packOptions(holder);
  // That there is none at all has its own finding.
  return packs.length === 0 || packs.some((entry) => !namedPart(entry.line));
}

export function hasUnknownBoard(holder: Holder): boolean {
  const build = partAround(holder);
  if (!build || chainOf(build).broken) return true;
  const boards = fedFrom(holder);
  // That there is none at all has its own finding.
  if (boards.length === 0) return true;
  return boards.some((entry) => {
    const board = namedPart(entry.line);
    return !board || chainOf(board).broken;
  });
}

/** Rails of that name in the build, in full: `Board35.video`. */
export function railsCalled(reference: FettleReference): string[] {
  return fedFrom(reference.container).flatMap((entry) => {
    const board = namedPart(entry.line);
    return board && railsOf(board).has(reference.$refText) ? [`${entry.name}.${reference.$refText}`] : [];
  });
}

/** A rail is not fed from itself. */
export function isInside(holder: Holder, rail: string): boolean {
  const line = holder.$container;
  return isRailNode(line.$container) && line.$container.name === rail;
}
