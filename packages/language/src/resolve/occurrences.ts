/** Everywhere a part, a rail, a second name or an opened folder is written: for references, renaming and "used in". */
import { AstUtils, type CstNode, GrammarUtils } from 'langium';
import {
  type Alias,
  isPartNode,
  isRailNode,
  isResultNode,
  type PartNode,
  type RailNode,
  type UseNode,
} from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { entriesOfBuild, namedPart } from '../syntax/entries.ts';
import { partAround, partNamed, railsOf } from '../syntax/nodes.ts';
import { buildsUsing } from './builds-using.ts';
import type { FettleIndex } from './name-index.ts';

export type DeclaringNode = PartNode | RailNode | Alias | UseNode;

export interface Occurrence {
  readonly uri: string;
  readonly node: CstNode;
  readonly isDeclaration: boolean;
}

/** Every place where the declared name is written. A rail's name is that of its overrides in variants of its board as well. */
export function occurrencesOf(declaration: DeclaringNode, index: FettleIndex): Occurrence[] {
  const declarations = isRailNode(declaration) ? railFamily(declaration, index) : [declaration];
  const inRules = isRailNode(declaration)
    ? mentionsInRules(declaration, index).map(({ occurrence }) => occurrence)
    : [];
  const written = declarations.flatMap((one) => {
    const uri = AstUtils.getDocument(one).uri.toString();
    const name = GrammarUtils.findNodeForProperty(one.$cstNode, 'name');
    const own: Occurrence[] = name === undefined ? [] : [{ uri, node: name, isDeclaration: true }];
    const references = index.referencesTo(one, uri).flatMap(({ $refNode, container }): Occurrence[] => {
      const source = AstUtils.getDocument(container).uri.toString();
      return $refNode === undefined ? [] : [{ uri: source, node: $refNode, isDeclaration: false }];
    });
    return [...own, ...references];
  });
  return [...written, ...inRules];
}

export interface Mention {
  readonly occurrence: Occurrence;
  readonly rules: PartNode;
  /** A build that the rules apply to, in which the name means another rail. */
  readonly stranger?: PartNode;
}

/** Rules name rails before they know a build: `rail.video.voltage` means the rail of each build they apply to. */
export function mentionsInRules(rail: RailNode, index: FettleIndex): Mention[] {
  const { name } = rail;
  if (name === undefined) return [];
  const family = new Set(railFamily(rail, index));
  const rules = [...index.all()].filter(({ kind }) => kind === 'rules').map(({ part }) => part);
  return rules.flatMap((one) => {
    const written = railNamesIn(one, name);
    const builds = written.length === 0 ? [] : buildsUsing(one, index);
    const meant = builds.map((build) => ({ build, rails: railsOfBuild(build, name) }));
    if (!meant.some(({ rails }) => rails.some((candidate) => family.has(candidate)))) return [];
    const stranger = meant.find(({ rails }) => !rails.some((candidate) => family.has(candidate)))?.build;
    const uri = AstUtils.getDocument(one).uri.toString();
    return written.map((node) => ({
      occurrence: { uri, node, isDeclaration: false },
      rules: one,
      ...(stranger && { stranger }),
    }));
  });
}

/** `video` in `rail.video.voltage` and in `rail.Board35.video.voltage`. */
function railNamesIn(rules: PartNode, name: string): CstNode[] {
  return AstUtils.streamAst(rules)
    .filter(isResultNode)
    .filter(({ head }) => head.$refText === 'rail')
    .flatMap(({ tail }) => tail.slice(0, 2).filter(({ $refText }) => $refText === name))
    .flatMap(({ $refNode }) => $refNode ?? [])
    .toArray();
}

function railsOfBuild(build: PartNode, name: string): RailNode[] {
  return entriesOfBuild(build)
    .filter(({ word }) => word === 'esc')
    .flatMap(({ line }) => {
      const board = namedPart(line);
      return (board && railsOf(board).get(name)) ?? [];
    });
}

/** Parts that are `like` this one, without those that are like them. */
export function heirsOf(part: PartNode, index: FettleIndex): PartNode[] {
  return index.referencesTo(part, AstUtils.getDocument(part).uri.toString()).flatMap(({ container }) => {
    const heir = container.$container;
    return isPartNode(heir) && heir.base === container && partNamed(heir.base) === part ? [heir] : [];
  });
}

/** Parts that are `like` this one, and those that are like them. */
export function variantsOf(part: PartNode, index: FettleIndex): PartNode[] {
  const found = new Set<PartNode>();
  const queue = [part];
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    for (const variant of heirsOf(next, index)) {
      if (variant !== part && !found.has(variant)) {
        found.add(variant);
        queue.push(variant);
      }
    }
  }
  return [...found];
}

/** The rail where it is first declared, and what boards that are like that one declare of it. */
function railFamily(rail: RailNode, index: FettleIndex): RailNode[] {
  const board = partAround(rail);
  if (!board) return [rail];
  const first = partAround(firstRail(rail)) ?? board;
  return [first, ...variantsOf(first, index)].flatMap((one) => railsNamed(one, rail.name));
}

/** Where the rail is declared first along the `like` of its board. */
export function firstRail(rail: RailNode): RailNode {
  const board = partAround(rail);
  const along = board === undefined ? [] : chainOf(board).parts;
  return along.flatMap((one) => railsNamed(one, rail.name)).at(-1) ?? rail;
}

function railsNamed(board: PartNode, name: string | undefined): RailNode[] {
  return board.lines.filter(isRailNode).filter((rail) => rail.name === name);
}
