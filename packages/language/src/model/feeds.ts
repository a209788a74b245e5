/** Rails of a build and what they are fed from: esc rails, regulators, the pack. */
import {
  isAlias,
  isNamedNode,
  isRailNode,
  isUseNode,
  type NamedNode,
  type PartNode,
} from '../grammar/generated/ast.ts';
import { conditionOf } from '../syntax/clauses.ts';
import type { Entry } from '../syntax/entries.ts';
import type { Place } from '../syntax/place.ts';
import { isHalfNamed } from '../syntax/source.ts';
import type { ResultKey } from '../vocabulary/results.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Feed, Part, RailUse, Use } from './build.ts';

/** A board or regulator with the line that fits it. */
export interface Fitted<Kind extends BlockKind = BlockKind> {
  readonly use: Use<Kind>;
  readonly entry: Entry;
  readonly node: PartNode;
}

export type FeedResult =
  | { readonly feed: Feed }
  | { readonly missing: 'unreadable' } // half-typed or unknown: another check reports it
  | { readonly missing: 'not-fitted' | 'ambiguous' | 'rail'; readonly choices: readonly string[] };

const PACK: Feed = { pack: true };

interface Draft {
  readonly name: string;
  readonly part: RailUse['part'];
  readonly place: Place;
  from: Feed;
}

export interface FeedLoop {
  readonly names: readonly string[];
  readonly place: Place;
}

export class Feeds {
  /** A source comes before what it feeds. */
  readonly rails: readonly RailUse[];
  /** Rails that feed one another in a circle; each then counts as fed from the pack. */
  readonly loops: readonly FeedLoop[];
  readonly #boards: readonly Fitted<'esc'>[];
  readonly #regulators: readonly Fitted<'regulator'>[];
  readonly #byBoard = new Map<Fitted, Map<string, Draft>>();
  readonly #byRegulator = new Map<Fitted, Draft>();

  constructor(boards: readonly Fitted<'esc'>[], regulators: readonly Fitted<'regulator'>[]) {
    this.#boards = boards;
    this.#regulators = regulators;
    this.#draftRails();
    this.#connect();
    const sorted = sourcesFirst([...this.#drafts()]);
    this.rails = sorted.rails;
    this.loops = sorted.loops;
  }

  /** What `from …` means; the pack when nothing is stated. */
  resolve(line: Entry['line']): FeedResult {
    const clause = conditionOf(line, 'from');
    if (!clause) return { feed: PACK };
    return isNamedNode(clause.value) ? this.#resolveName(clause.value) : { missing: 'unreadable' };
  }

  /**
   * The result of this build that is meant: `rail.Board35.video.voltage` is `rail.video.voltage` where Board35 has no
   * second name, and a rail of a board that a variant exchanged is the rail of that name on the new board.
   */
  resultInBuild(written: ResultKey): ResultKey {
    if (written.of !== 'rail' || this.rails.some(({ name }) => name === written.owner.join('.'))) return written;
    const [railName, boardName] = written.owner.toReversed();
    const boards = this.#boards.filter((board) => board.use.name === boardName || board.use.part.name === boardName);
    const among = boards.length > 0 ? boards : this.#boards;
    const found = among
      .map((board) => this.#byBoard.get(board)?.get(railName ?? ''))
      .filter((rail) => rail !== undefined);
    const [only] = found;
    return only && found.length === 1 ? { ...written, owner: [only.name] } : written;
  }

  *#drafts(): Iterable<Draft> {
    for (const rails of this.#byBoard.values()) yield* rails.values();
    yield* this.#byRegulator.values();
  }

  #draftRails(): void {
    const unqualified = this.#boards.filter((board) => !hasSecondName(board)).flatMap((board) => board.use.part.rails);
    for (const board of this.#boards) {
      const rails = new Map<string, Draft>();
      for (const rail of board.use.part.rails) {
        const clashes = unqualified.filter((other) => other.name === rail.name).length > 1;
        const name = hasSecondName(board) || clashes ? `${board.use.name}.${rail.name}` : rail.name;
        rails.set(rail.name, { name, part: rail, place: rail.place, from: PACK });
      }
      this.#byBoard.set(board, rails);
    }
    for (const regulator of this.#regulators) {
      const { name, part, place } = regulator.use;
      this.#byRegulator.set(regulator, { name, part, place, from: PACK });
    }
  }

  #connect(): void {
    for (const rails of this.#byBoard.values()) connectRails(rails);
    for (const [regulator, draft] of this.#byRegulator) {
      const result = this.resolve(regulator.entry.line);
      if ('feed' in result) draft.from = result.feed;
    }
  }

  #resolveName(named: NamedNode): FeedResult {
    if (isHalfNamed(named)) return { missing: 'unreadable' };
    const references = [named.head, ...named.tail];
    const path = isUseNode(named.head.ref) ? references.slice(1) : references;
    const [first, second] = path;
    if (first?.$refText === 'pack' && path.length === 1) return { feed: PACK };
    if (!first?.ref || path.length > 2) return { missing: 'unreadable' };
    if (!second) return this.#regulatorFeed(first.ref, first.$refText);
    // A variant may have exchanged the board: then the rail's name decides, whether or not the old board is known.
    return this.#boardFeed(first.ref, first.$refText, second.$refText, isRailNode(second.ref));
  }

  #regulatorFeed(target: unknown, name: string): FeedResult {
    const boards = this.#boards.filter((board) => isMeant(board, target, name));
    if (boards.length > 0) {
      const choices = boards.flatMap((board) => board.use.part.rails.map((rail) => `${board.use.name}.${rail.name}`));
      return { missing: 'rail', choices };
    }
    const fitted = this.#regulators.filter((regulator) => isMeant(regulator, target, name));
    const [only] = fitted;
    const draft = only && this.#byRegulator.get(only);
    if (draft && fitted.length === 1) return { feed: { rail: draft } };
    const missing = fitted.length > 1 ? 'ambiguous' : 'not-fitted';
    const among = fitted.length > 1 ? fitted : this.#regulators;
    return { missing, choices: among.map((regulator) => regulator.use.name) };
  }

  #boardFeed(target: unknown, boardName: string, railName: string, railKnown: boolean): FeedResult {
    const fitted = this.#boards.filter((board) => isMeant(board, target, boardName));
    const withRail = (boards: readonly Fitted[]) => boards.filter((board) => this.#byBoard.get(board)?.has(railName));
    const [only] = withRail(fitted);
    const draft = only && this.#byBoard.get(only)?.get(railName);
    if (draft && fitted.length === 1) return { feed: { rail: draft } };
    if (!railKnown) return { missing: 'unreadable' };
    const missing = fitted.length > 1 ? 'ambiguous' : 'not-fitted';
    const among = withRail(fitted.length > 1 ? fitted : this.#boards);
    return { missing, choices: among.map((board) => `${board.use.name}.${railName}`) };
  }

  /** The rail known by `Board.rail`, as `choices` of a result name it. */
  choice(name: string): Feed | undefined {
    for (const [board, rails] of this.#byBoard) {
      for (const [railName, draft] of rails) if (`${board.use.name}.${railName}` === name) return { rail: draft };
    }
    return undefined;
  }
}

function hasSecondName(fitted: Fitted): boolean {
  return fitted.use.name !== fitted.use.part.name;
}

/** A second name means its own line, a part's name the line that fits that very part. */
function isMeant(fitted: Fitted, target: unknown, name: string): boolean {
  return isAlias(target) ? fitted.use.name === name : fitted.node === target;
}

/** Rails of one board that feed one another in a circle. */
export function railLoops(board: Part): readonly FeedLoop[] {
  const drafts = new Map<string, Draft>();
  for (const rail of board.rails) drafts.set(rail.name, { name: rail.name, part: rail, place: rail.place, from: PACK });
  connectRails(drafts);
  return sourcesFirst([...drafts.values()]).loops;
}

function connectRails(rails: ReadonlyMap<string, Draft>): void {
  for (const draft of rails.values()) {
    const source = rails.get(draft.part.word('from') ?? 'pack');
    if (source) draft.from = { rail: source };
  }
}

function sourcesFirst(drafts: readonly Draft[]): { rails: RailUse[]; loops: FeedLoop[] } {
  const done = new Set<Draft>();
  const loops: FeedLoop[] = [];
  const rails: RailUse[] = [];
  for (const start of drafts) {
    const path: Draft[] = [];
    for (let next: Draft | undefined = start; next && !done.has(next); ) {
      path.push(next);
      const source: Draft | undefined = 'rail' in next.from ? next.from.rail : undefined;
      if (source && path.includes(source)) {
        const loop = path.slice(path.indexOf(source));
        loops.push({ names: loop.map((draft) => draft.name), place: next.place });
        next.from = PACK;
        break;
      }
      next = source;
    }
    for (const draft of path.toReversed()) {
      done.add(draft);
      rails.push(draft);
    }
  }
  return { rails, loops };
}
