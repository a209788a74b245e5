import { type AstNode, CstUtils, type LangiumDocument, type LeafCstNode, type Reference } from 'langium';
import type { SemanticTokenProvider } from 'langium/lsp';
import { SemanticTokensBuilder } from 'vscode-languageserver';
import type {
  Range,
  SemanticTokens,
  SemanticTokensDelta,
  SemanticTokensDeltaParams,
  SemanticTokensParams,
  SemanticTokensRangeParams,
} from 'vscode-languageserver-protocol';
import {
  isAlias,
  isColumn,
  isNamed,
  isPart,
  isRail,
  isResult,
  isUse,
  isWord,
  type Target,
} from '../grammar/generated/ast.ts';
import { KINDS } from '../grammar/reserved-words.ts';

const TYPES = [
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
type TokenType = (typeof TYPES)[number];

const MODIFIERS = ['declaration', 'defaultLibrary'] as const;
type TokenModifier = (typeof MODIFIERS)[number];

interface Meaning {
  readonly type: TokenType;
  readonly modifier?: TokenModifier;
}

/**
 * Colours by meaning: a name by what it names, a word by whether the language or the file defines it.
 * Of the protocol's fixed list units are `macro` and the words that name the kind of what follows, or where a figure comes from, `modifier`:
 * so each sort has a colour of its own in the usual themes, and the same as before the server has answered (fettle.tmLanguage.json).
 */
export class FettleSemanticTokens implements SemanticTokenProvider {
  readonly tokenTypes = Object.fromEntries(TYPES.map((type, index) => [type, index]));
  readonly tokenModifiers = Object.fromEntries(MODIFIERS.map((modifier, index) => [modifier, 1 << index]));
  readonly semanticTokensOptions = {
    legend: { tokenTypes: [...TYPES], tokenModifiers: [...MODIFIERS] },
    full: true,
    range: true,
  };

  semanticHighlight(document: LangiumDocument, _params: SemanticTokensParams): SemanticTokens {
    return this.tokensOf(document, undefined);
  }

  semanticHighlightRange(document: LangiumDocument, params: SemanticTokensRangeParams): SemanticTokens {
    return this.tokensOf(document, params.range);
  }

  semanticHighlightDelta(
    document: LangiumDocument,
    _params: SemanticTokensDeltaParams,
  ): SemanticTokensDelta | SemanticTokens {
    return this.tokensOf(document, undefined);
  }

  private tokensOf(document: LangiumDocument, within: Range | undefined): SemanticTokens {
    const builder = new SemanticTokensBuilder();
    const root = document.parseResult.value.$cstNode;
    for (const leaf of root === undefined ? [] : CstUtils.flattenCst(root)) {
      const { start, end } = leaf.range;
      const outside = within !== undefined && (end.line < within.start.line || start.line > within.end.line);
      const meaning = outside || start.line !== end.line ? undefined : meaningOf(leaf);
      if (meaning !== undefined) {
        const modifiers = meaning.modifier === undefined ? 0 : (this.tokenModifiers[meaning.modifier] ?? 0);
        const type = this.tokenTypes[meaning.type] ?? 0;
        builder.push(start.line, start.character, end.character - start.character, type, modifiers);
      }
    }
    return builder.build();
  }
}

function meaningOf(leaf: LeafCstNode): Meaning | undefined {
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

/** Words of the language are keywords, except where the grammar lets them stand as names. */
function meaningOfKeyword(leaf: LeafCstNode): Meaning | undefined {
  if (/^[a-z]/.test(leaf.text)) {
    const reference = referenceAt(leaf);
    return reference === undefined ? { type: wordTypeOf(leaf.text) } : meaningOfReference(reference, leaf.astNode);
  }
  return /^[{}():,.]$/.test(leaf.text) ? undefined : { type: 'operator' };
}

function wordTypeOf(word: string): TokenType {
  if (LOGIC.has(word)) {
    return 'operator';
  }
  return KINDS.has(word) || SORTING.has(word) ? 'modifier' : 'keyword';
}

const LOGIC: ReadonlySet<string> = new Set(['and', 'or', 'not']);
const SORTING: ReadonlySet<string> = new Set(['rail', 'like', 'measured', 'claimed', 'estimated']);

function meaningOfName(leaf: LeafCstNode): Meaning | undefined {
  const node = leaf.astNode;
  const reference = referenceAt(leaf);
  if (reference !== undefined) {
    return meaningOfReference(reference, node);
  }
  if (isPart(node)) {
    return { type: 'type', modifier: 'declaration' };
  }
  if (isRail(node) || isAlias(node)) {
    return { type: 'variable', modifier: 'declaration' };
  }
  if (isUse(node)) {
    return { type: 'namespace', modifier: 'declaration' };
  }
  return isColumn(node) ? { type: 'property' } : undefined;
}

function referenceAt(leaf: LeafCstNode): Reference<Target> | undefined {
  const node = leaf.astNode;
  if (!isNamed(node) && !isResult(node)) {
    return undefined;
  }
  return [node.head, ...node.tail].find((reference) => reference?.$refNode?.offset === leaf.offset);
}

function meaningOfReference(reference: Reference<Target>, holder: AstNode): Meaning | undefined {
  const target = reference.ref;
  if (isPart(target)) {
    return { type: 'type' };
  }
  if (isRail(target) || isAlias(target)) {
    return { type: 'variable' };
  }
  if (isUse(target)) {
    return { type: 'namespace' };
  }
  if (isWord(target)) {
    return { type: isResult(holder) ? 'function' : 'enumMember', modifier: 'defaultLibrary' };
  }
  return undefined;
}
