/** From a name in the text to what it refers to. */
import type { AstNode, AstNodeDescription, AstNodeDescriptionProvider, LangiumDocument } from 'langium';
import {
  isAlias,
  isPartNode,
  isRailNode,
  isResultNode,
  isUseNode,
  isWord,
  type PartNode,
  type UseNode,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { type Entry as LineEntry, namedPart } from '../syntax/entries.ts';
import { documentOf, fileOf, partAround, railsOf } from '../syntax/nodes.ts';
import { partOfTarget } from '../syntax/source.ts';
import {
  FLIGHT_RESULTS,
  isFlightResultName,
  isRailResultName,
  isResultName,
  RAIL_RESULTS,
  RESULT_NAMES,
} from '../vocabulary/results.ts';
import type { Kind } from '../vocabulary/schema.ts';
import {
  fedFrom,
  flightsAround,
  hasUnknownBoard,
  hasUnknownPack,
  inheritedEntries,
  isInside,
  packOptions,
  railsAround,
  railsOfBoards,
} from './build-around.ts';
import { describeWord } from './built-in-words.ts';
import { byEntryPlace, type PartEntry } from './folder-names.ts';
import { folderOfFile, LIBRARY_FOLDER } from './keys.ts';
import type { FettleIndex } from './name-index.ts';
import type { Openings } from './openings.ts';
import { type FettleReference, type Holder, segmentsOf } from './reference.ts';
import { type Role, roleOf } from './role.ts';

/** Why a name refers to nothing. */
export type Missing =
  /** Nothing of that name is in scope. */
  | { readonly reason: 'unknown' }
  /** It is in scope and something else. */
  | { readonly reason: 'wrong-kind'; readonly found: PartNode }
  /** Two opened folders have it. */
  | { readonly reason: 'ambiguous'; readonly entries: readonly PartEntry[] }
  /** Another mistake is to blame, which has its own finding. */
  | { readonly reason: 'dependent' };

export type Resolution = AstNodeDescription | Missing;

export function isMissing(found: Resolution): found is Missing {
  return 'reason' in found;
}

const UNKNOWN: Missing = { reason: 'unknown' };
const DEPENDENT: Missing = { reason: 'dependent' };

export class Lookup {
  readonly index: FettleIndex;
  readonly openings: Openings;
  readonly #descriptions: AstNodeDescriptionProvider;
  readonly #described = new WeakMap<AstNode, AstNodeDescription>();

  constructor(index: FettleIndex, openings: Openings, descriptions: AstNodeDescriptionProvider) {
    this.index = index;
    this.openings = openings;
    this.#descriptions = descriptions;
  }

  find(reference: FettleReference): Resolution {
    const holder = reference.container;
    const document = documentOf(holder);
    if (!document) return DEPENDENT;
    const role = roleOf(holder);
    if (reference === holder.head) return this.#findHead(document, holder, role);
    const segments = segmentsOf(holder);
    const before = segments[segments.indexOf(reference) - 1];
    return this.#findAfter(document, reference, role, before?.ref);
  }

  /** Everything that could take the place of a reference, nearest first. */
  candidates(reference: FettleReference): Iterable<AstNodeDescription> {
    const holder = reference.container;
    const document = documentOf(holder);
    if (!document) return [];
    const role = roleOf(holder);
    if (reference === holder.head) return this.#headCandidates(document, holder, role);
    const segments = segmentsOf(holder);
    const before = segments[segments.indexOf(reference) - 1];
    return this.#candidatesAfter(document, holder, role, before?.ref);
  }

  // ---- first words ----

  #findHead(document: LangiumDocument, holder: Holder, role: Role): Resolution {
    const name = holder.head.$refText;
    const qualifier = holder.dots.length > 0 ? this.#qualifier(document, name) : undefined;
    switch (role.sort) {
      case 'word':
        return qualifier ?? describeWord(name);
      case 'choice':
        return name === 'none' || role.words.includes(name) ? describeWord(name) : UNKNOWN;
      case 'result':
        return this.#findResult(holder, name);
      case 'rail': {
        if (name === 'pack' || name === 'none') return describeWord(name);
        const rail = railsAround(holder).get(name);
        return rail ? this.#describe(rail, name) : UNKNOWN;
      }
      case 'part':
        if (name === 'none' || role.words?.includes(name)) return describeWord(name);
        return qualifier ?? this.findPart(document, name, role.kinds);
      case 'feed': {
        if (name === 'pack') return describeWord(name);
        const found = this.#findAddressed(fedFrom(holder), name) ?? qualifier;
        // A board that is not in the build is still a board: the build's reader reports that it is not fitted.
        if (found) return found;
        const board = this.findPart(document, name, ['esc', 'regulator']);
        // That the build has none at all has its own finding.
        if (isMissing(board) && fedFrom(holder).length === 0) return DEPENDENT;
        return this.#unlessInherited(holder, board);
      }
      case 'option':
        return (
          this.#findAddressed(packOptions(holder), name) ??
          qualifier ??
          (hasUnknownPack(holder) ? DEPENDENT : this.#unlessInherited(holder, UNKNOWN))
        );
      case 'inherited':
        return (
          qualifier ?? this.#findAddressed(inheritedEntries(holder), name) ?? this.#unlessInherited(holder, UNKNOWN)
        );
    }
  }

  *#headCandidates(document: LangiumDocument, holder: Holder, role: Role): Iterable<AstNodeDescription> {
    switch (role.sort) {
      case 'word':
        return;
      case 'choice':
        for (const word of role.words) yield describeWord(word);
        return;
      case 'result':
        for (const name of RESULT_NAMES) yield describeWord(name);
        for (const word of isResultNode(holder) ? ['rail', 'flight', 'min', 'max'] : ['rail', 'flight'])
          yield describeWord(word);
        return;
      case 'rail':
        yield describeWord('pack');
        for (const [name, rail] of railsAround(holder)) if (!isInside(holder, name)) yield this.#describe(rail, name);
        return;
      case 'part':
        for (const word of role.words ?? []) yield describeWord(word);
        yield* this.partsInScope(document, role.kinds);
        yield* this.#qualifiers(document);
        return;
      case 'feed':
        yield describeWord('pack');
        yield* this.#addressed(fedFrom(holder));
        return;
      case 'option':
        yield* this.#addressed(packOptions(holder));
        return;
      case 'inherited':
        yield* this.#addressed(inheritedEntries(holder));
    }
  }

  /** Functions and results resolve with and without brackets: the reader of the requirement reports which take them. */
  #findResult(holder: Holder, name: string): Resolution {
    const isFunction = isResultNode(holder) && (name === 'min' || name === 'max');
    const isCall = isResultNode(holder) && holder.call;
    const isOfBlock = (name === 'rail' || name === 'flight') && !isCall;
    return isFunction || isResultName(name) || isOfBlock ? describeWord(name) : UNKNOWN;
  }

  /** Where the build is like one that is not known, the name may come from there. */
  #unlessInherited(holder: Holder, found: Resolution): Resolution {
    const build = partAround(holder);
    return isMissing(found) && build && chainOf(build).broken ? DEPENDENT : found;
  }

  // ---- parts ----

  /** Nearest wins: the file itself, its folder, then what it opens, then the library. */
  findPart(document: LangiumDocument, name: string, kinds: readonly Kind[]): Resolution {
    const isWanted = (entry: PartEntry) => kinds.includes(entry.kind);
    const openings = this.openings.unqualified(document);
    const own = this.index.inFolder(folderOf(document), name);
    const nearest = this.index.inFile(document.uri.toString(), name).find(isWanted) ?? own.find(isWanted);
    if (nearest) return nearest.description;

    const opened = openings.flatMap((opening) => this.openings.entries(opening, name));
    const byFolder = new Map<string, PartEntry>();
    for (const entry of opened.filter(isWanted)) {
      if (!byFolder.has(entry.folder)) byFolder.set(entry.folder, entry);
    }
    const [first, second] = byFolder.values();
    if (first && second) return { reason: 'ambiguous', entries: [...byFolder.values()] };
    if (first) return first.description;

    const shipped = this.index.inFolder(LIBRARY_FOLDER, name);
    const generic = shipped.find(isWanted);
    if (generic) return generic.description;
    if (openings.some((opening) => opening.failed)) return DEPENDENT;
    const other = own[0] ?? opened[0] ?? shipped[0];
    if (other) return { reason: 'wrong-kind', found: other.part };
    return isBehindUnknownKind(document, name) ? DEPENDENT : UNKNOWN;
  }

  /** Nearest first, then by kind as listed, then by place: in which order files were read, or edited, changes no answer. */
  *partsInScope(document: LangiumDocument, kinds: readonly Kind[]): Iterable<AstNodeDescription> {
    const seen = new Set<string>();
    const inOrder = (left: PartEntry, right: PartEntry) =>
      kinds.indexOf(left.kind) - kinds.indexOf(right.kind) || byEntryPlace(left, right);
    const layers = [this.index.partsOfFolder(folderOf(document), kinds)];
    for (const opening of this.openings.unqualified(document)) layers.push(this.openings.allEntries(opening, kinds));
    layers.push(this.index.partsOfFolder(LIBRARY_FOLDER, kinds));
    for (const layer of layers) {
      for (const { name, description } of [...layer].sort(inOrder)) {
        if (seen.has(name)) continue;
        seen.add(name);
        yield description;
      }
    }
  }

  #qualifier(document: LangiumDocument, name: string): AstNodeDescription | undefined {
    const opening = this.openings.of(document).find((candidate) => candidate.use.name === name);
    return opening && this.#describe(opening.use, name);
  }

  *#qualifiers(document: LangiumDocument): Iterable<AstNodeDescription> {
    for (const { use } of this.openings.of(document)) if (use.name) yield this.#describe(use, use.name);
  }

  // ---- words after a dot ----

  #findAfter(
    document: LangiumDocument,
    reference: FettleReference,
    role: Role,
    before: AstNode | undefined,
  ): Resolution {
    const name = reference.$refText;
    if (!before) return DEPENDENT;
    if (isUseNode(before)) return this.#findQualified(document, before, name, qualifiedKinds(role));
    if (role.sort === 'word') return describeWord(name);
    if (isWord(before)) return role.sort === 'result' ? this.#findAfterWord(reference, before.name) : UNKNOWN;
    if (isRailNode(before)) return role.sort === 'result' && isRailResultName(name) ? describeWord(name) : UNKNOWN;
    const board = isAlias(before) || isPartNode(before) ? partOfTarget(before) : undefined;
    if (!board) return DEPENDENT;
    if (board.kind === 'flight' && role.sort === 'result') {
      return isFlightResultName(name) ? describeWord(name) : UNKNOWN;
    }
    if (board.kind === 'regulator' && role.sort === 'result') {
      return isRailResultName(name) ? describeWord(name) : UNKNOWN;
    }
    const rail = role.sort === 'feed' || role.sort === 'result' ? railsOf(board).get(name) : undefined;
    if (rail) return this.#describe(rail, name);
    return chainOf(board).broken ? DEPENDENT : UNKNOWN;
  }

  *#candidatesAfter(
    document: LangiumDocument,
    holder: Holder,
    role: Role,
    before: AstNode | undefined,
  ): Iterable<AstNodeDescription> {
    if (isUseNode(before)) {
      const opening = this.openings.forUse(document, before);
      const kinds = qualifiedKinds(role);
      for (const entry of opening ? this.openings.allEntries(opening, kinds) : []) yield entry.description;
    } else if (isWord(before) && before.name === 'rail' && role.sort === 'result') {
      yield* this.#addressed(fedFrom(holder));
      for (const [name, rail] of railsOfBoards(holder)) yield this.#describe(rail, name);
    } else if (isWord(before) && before.name === 'flight' && role.sort === 'result') {
      yield* this.#addressed(flightsAround(holder));
    } else if (role.sort === 'result' && partOfBefore(before)?.kind === 'flight') {
      for (const { name } of FLIGHT_RESULTS) yield describeWord(name);
    } else if (isRailNode(before) || (role.sort === 'result' && partOfBefore(before)?.kind === 'regulator')) {
      if (role.sort === 'result') for (const { name } of RAIL_RESULTS) yield describeWord(name);
    } else {
      const board = partOfBefore(before);
      for (const [name, rail] of board ? railsOf(board) : []) yield this.#describe(rail, name);
    }
  }

  #findQualified(
    document: LangiumDocument,
    use: UseNode,
    name: string,
    kinds: readonly Kind[] | undefined,
  ): Resolution {
    const opening = this.openings.forUse(document, use);
    if (!opening || opening.failed) return DEPENDENT;
    const entries = this.openings.entries(opening, name);
    const wanted = entries.find((entry) => !kinds || kinds.includes(entry.kind));
    if (wanted) return wanted.description;
    return entries[0] ? { reason: 'wrong-kind', found: entries[0].part } : UNKNOWN;
  }

  #findAfterWord(reference: FettleReference, before: string): Resolution {
    const first = reference.container.head.$refText;
    if (first === 'flight') return this.#findAfterFlight(reference, before);
    return first === 'rail' ? this.#findAfterRail(reference, before) : UNKNOWN;
  }

  /** `flight.TowerRound`: a flight by its name in the build. */
  #findAfterFlight(reference: FettleReference, before: string): Resolution {
    const holder = reference.container;
    const name = reference.$refText;
    // Rules do not know the builds they will apply to.
    if (partAround(holder)?.kind !== 'build')
      return before === 'flight' || isFlightResultName(name) ? describeWord(name) : UNKNOWN;
    if (before !== 'flight') return UNKNOWN;
    const flights = flightsAround(holder);
    const isUnsure = flights.some((entry) => !namedPart(entry.line));
    return this.#findAddressed(flights, name) ?? (isUnsure ? DEPENDENT : this.#unlessInherited(holder, UNKNOWN));
  }

  /** `rail.video`, `rail.Top`: a rail of a board, or a board or regulator by its name in the build. */
  #findAfterRail(reference: FettleReference, before: string): Resolution {
    const holder = reference.container;
    const name = reference.$refText;
    const build = partAround(holder);
    if (build?.kind !== 'build') {
      // Rules do not know the builds they will apply to; that a result comes last is known.
      const isLast = reference === segmentsOf(holder).at(-1) && before !== 'rail';
      return isLast && !isRailResultName(name) ? UNKNOWN : describeWord(name);
    }
    if (before !== 'rail') return UNKNOWN;
    const rail = railsOfBoards(holder).get(name);
    const addressed = this.#findAddressed(fedFrom(holder), name);
    if (addressed && !isMissing(addressed)) return addressed;
    if (rail) return this.#describe(rail, name);
    return addressed ?? (hasUnknownBoard(holder) ? DEPENDENT : UNKNOWN);
  }

  // ---- what a build has named ----

  #findAddressed(entries: readonly LineEntry[], name: string): Resolution | undefined {
    const entry = entries.find((candidate) => candidate.name === name);
    return entry && (this.#describeEntry(entry) ?? DEPENDENT);
  }

  *#addressed(entries: readonly LineEntry[]): Iterable<AstNodeDescription> {
    for (const entry of entries) {
      const description = this.#describeEntry(entry);
      if (description) yield description;
    }
  }

  #describeEntry(entry: LineEntry): AstNodeDescription | undefined {
    const alias = entry.line.clauses.find(isAlias);
    const target = alias?.name ? alias : namedPart(entry.line);
    return target && this.#describe(target, entry.name);
  }

  #describe(node: AstNode, name: string): AstNodeDescription {
    let description = this.#described.get(node);
    if (!description) {
      description = this.#descriptions.createDescription(node, name);
      this.#described.set(node, description);
    }
    return description;
  }
}

/** `moter M1606 { … }`: the word before the name has its own problem, of which the name is a consequence. */
function isBehindUnknownKind(document: LangiumDocument, name: string): boolean {
  const { unknowns } = fileOf(document);
  return unknowns.some(({ words, block }) => block && words[1] === name);
}

export const folderOf = (document: LangiumDocument): string => folderOfFile(document.uri.toString());

function partOfBefore(before: AstNode | undefined): PartNode | undefined {
  return isAlias(before) || isPartNode(before) ? partOfTarget(before) : undefined;
}

function qualifiedKinds(role: Role): readonly Kind[] | undefined {
  if (role.sort === 'part') return role.kinds;
  if (role.sort === 'feed') return ['esc', 'regulator'];
  return role.sort === 'option' ? ['pack'] : undefined;
}
