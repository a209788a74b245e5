/** What each word of a text means: for colours, in an editor and on a page. */
import { type AstNode, CstUtils, type LangiumDocument, type LeafCstNode, type Reference } from 'langium';
import {
  isAlias,
  isColumn,
  isNamedNode,
  isPartNode,
  isRailNode,
  isResultNode,
  isUseNode,
  isWord,
  type PartNode,
  type Target,
} from '../grammar/generated/ast.ts';
import { PART_WORDS } from '../grammar/reserved-words.ts';
import { partOfTarget } from './source.ts';

/** Of the protocol's fixed list. */
export const MEANING_TYPES = [
  'namespace',
  'type',
  'variable',
  'property',
  'function',
  'enumMember',
  'keyword',
  'number',
  'string',
  'comment',
  'operator',
  'macro',
  'modifier',
] as const;
type MeaningType = (typeof MEANING_TYPES)[number];

export const MEANING_MODIFIERS = ['declaration', 'defaultLibrary'] as const;
type MeaningModifier = (typeof MEANING_MODIFIERS)[number];

export interface Meaning {
  readonly type: MeaningType;
  readonly modifier?: MeaningModifier;
}

/** A word with a meaning, and the part that it names, where it names one that is declared elsewhere. */
export interface MeantWord {
  readonly start: number;
  readonly end: number;
  readonly meaning: Meaning;
  readonly part?: PartNode;
}

/** In order of the text; what has no meaning of its own is left out. */
export function meantWords(document: LangiumDocument): MeantWord[] {
  const root = document.parseResult.value.$cstNode;
  return (root === undefined ? [] : [...CstUtils.flattenCst(root)]).flatMap((leaf) => {
    const meaning = meaningOf(leaf);
    if (meaning === undefined) return [];
    const part = partOfTarget(referenceAt(leaf)?.ref);
    return [{ start: leaf.offset, end: leaf.end, meaning, ...(part && { part }) }];
  });
}

export function meaningOf(leaf: LeafCstNode): Meaning | undefined {
  switch (leaf.tokenType.name) {
    case 'COMMENT':
    case 'WRONG_COMMENT':
      return { type: 'comment' };
    case 'STRING':
      return { type: 'string' };
    case 'DATE':
    case 'NUMBER':
      return { type: 'number' };
    case 'UNIT':
      return { type: 'macro', modifier: 'defaultLibrary' };
    case 'KEY':
      return { type: 'property' };
    case 'FINDING':
      return { type: 'enumMember', modifier: 'defaultLibrary' };
    case 'TIMES':
    case 'WHITESPACE':
      return leaf.hidden ? undefined : { type: 'operator' };
    case 'ID':
      return meaningOfName(leaf);
    default:
      return meaningOfKeyword(leaf);
  }
}

/** Words of the language are keywords, except where the grammar accepts them as names. */
function meaningOfKeyword(leaf: LeafCstNode): Meaning | undefined {
  if (/^[a-z]/.test(leaf.text)) {
    const reference = referenceAt(leaf);
    return reference === undefined ? { type: wordTypeOf(leaf.text) } : meaningOfReference(reference, leaf.astNode);
  }
  return /^[{}():,.]$/.test(leaf.text) ? undefined : { type: 'operator' };
}

function wordTypeOf(word: string): MeaningType {
  if (LOGIC.has(word)) return 'operator';
  return PART_WORDS.has(word) || SORTING.has(word) ? 'modifier' : 'keyword';
}

const LOGIC: ReadonlySet<string> = new Set(['and', 'or', 'not']);
const SORTING: ReadonlySet<string> = new Set(['rail', 'like', 'measured', 'claimed', 'estimated']);

function meaningOfName(leaf: LeafCstNode): Meaning | undefined {
  const node = leaf.astNode;
  const reference = referenceAt(leaf);
  if (reference !== undefined) return meaningOfReference(reference, node);
  if (isPartNode(node)) return { type: 'type', modifier: 'declaration' };
  if (isRailNode(node) || isAlias(node)) return { type: 'variable', modifier: 'declaration' };
  if (isUseNode(node)) return { type: 'namespace', modifier: 'declaration' };
  return isColumn(node) ? { type: 'property' } : undefined;
}

function referenceAt(leaf: LeafCstNode): Reference<Target> | undefined {
  const node = leaf.astNode;
  if (!isNamedNode(node) && !isResultNode(node)) return undefined;
  return [node.head, ...node.tail].find((reference) => reference?.$refNode?.offset === leaf.offset);
}

function meaningOfReference(reference: Reference<Target>, holder: AstNode): Meaning | undefined {
  const target = reference.ref;
  if (isPartNode(target)) return { type: 'type' };
  if (isRailNode(target) || isAlias(target)) return { type: 'variable' };
  if (isUseNode(target)) return { type: 'namespace' };
  if (isWord(target)) return { type: isResultNode(holder) ? 'function' : 'enumMember', modifier: 'defaultLibrary' };
  return undefined;
}
