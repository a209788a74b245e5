import { type LangiumDocument, type LangiumDocuments, type Lexer, type TextDocument, UriUtils } from 'langium';
import type { CompletionProvider, LangiumServices } from 'langium/lsp';
import type { CompletionParams } from 'vscode-languageserver-protocol';
import {
  type CompletionItem,
  CompletionItemKind,
  CompletionList,
  InsertTextFormat,
  MarkupKind,
  type Position,
} from 'vscode-languageserver-types';
import { isPartNode, type PartNode } from '../../grammar/generated/ast.ts';
import { isPartWord, PART_WORDS, SENTENCE_WORDS } from '../../grammar/reserved-words.ts';
import { partOf } from '../../model/parts.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { railsOf } from '../../syntax/nodes.ts';
import { partOfKindNamed } from '../../trial/trial.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { schemaOf } from '../../vocabulary/properties.ts';
import { type BlockKind, isKind, type Kind } from '../../vocabulary/schema.ts';
import { synonymsOf } from '../../vocabulary/synonyms.ts';
import type { FettleServices } from '../../workspace/workspace-module.ts';
import { requestedText } from '../engine/requested-text.ts';
import { buildBlockSnippet, type KnownParts, NEEDED_KINDS } from './build-snippet.ts';
import { type Block, type Cursor, cursorAt } from './cursor.ts';
import { blockSnippet, lineOffers, topLevelOffers } from './line-completion.ts';
import type { Offer } from './offer.ts';
import {
  feedOffers,
  inheritedOffers,
  MOST_PARTS,
  memberOffers,
  namedOffers,
  partOffers,
  railOffers,
} from './part-completion.ts';
import { logOffers, rowsOffers } from './row-completion.ts';
import { sentenceOffers } from './sentence-completion.ts';
import {
  clauseOffers,
  clauseRuleOf,
  DUTY_START,
  type Expectation,
  expectationOf,
  LEG_STARTS,
  multipleOffers,
  segmentAt,
  timesOffer,
  todayOffer,
  unitOffers,
  wordsOf,
} from './value-completion.ts';

/** Offers the next word, from the vocabulary and the names in reach. */
export class FettleCompletion implements CompletionProvider {
  readonly completionOptions = { triggerCharacters: [' ', '.', ':', '"', '/'] };
  readonly #lexer: Lexer;
  readonly #lookup: Lookup;
  readonly #documents: LangiumDocuments;
  #snippets = false;
  #isLazy = false;
  /** What was offered last: only that can still be looked at. */
  #latest: { readonly list: number; readonly offers: readonly Offer[] } = { list: 0, offers: [] };

  constructor(services: FettleServices & LangiumServices) {
    this.#lexer = services.parser.Lexer;
    this.#lookup = services.references.Lookup;
    this.#documents = services.shared.workspace.LangiumDocuments;
    services.shared.lsp.LanguageServer.onInitialize((params) => {
      this.#snippets = params.capabilities.textDocument?.completion?.completionItem?.snippetSupport === true;
      const lazy = params.capabilities.textDocument?.completion?.completionItem?.resolveSupport?.properties;
      this.#isLazy = lazy?.includes('documentation') === true;
    });
  }

  getCompletion(document: LangiumDocument, params: CompletionParams): CompletionList {
    const text = requestedText(document, params);
    const cursor = cursorAt(text, text.offsetAt(params.position), this.#lexer);
    // A `use` line is added above what is typed: where that has changed as well, it has no place that the client would know.
    const isSameUpTo = (end: Position) => upTo(end, text) === upTo(end, document.textDocument);
    const offers = (cursor === undefined ? [] : this.#offersAt(document, cursor)).filter(
      ({ alsoEdit = [] }) => text === document.textDocument || alsoEdit.every(({ range }) => isSameUpTo(range.end)),
    );
    this.#latest = { list: this.#latest.list + 1, offers };
    const items = cursor === undefined ? [] : offers.map((offer, index) => this.#toItem(cursor, offer, index));
    // With the next letter another synonym may be the one that is typed.
    const isOpen = items.some((item) => item.filterText !== undefined);
    return CompletionList.create(items, isOpen || offers.length >= MOST_PARTS);
  }

  /** Whether the word that ends there is the beginning of a longer one that may be there. */
  isPrefix(document: LangiumDocument, offset: number): boolean {
    const cursor = cursorAt(document.textDocument, offset, this.#lexer);
    const typed = cursor?.word.text ?? '';
    if (cursor === undefined || typed === '') return false;
    const block = cursor.blocks[0];
    // Behind a complete value the next line of the block may begin, also one that is there already.
    const lines =
      block?.kind === undefined || block.kind === 'rows' || (cursor.head?.tokenType.name ?? 'KEY') !== 'KEY'
        ? []
        : lineOffers(block.kind, new Set(), { isVariant: true, hasColon: false });
    return [...this.#offersAt(document, cursor), ...lines].some(
      ({ label, text = label }) => text.trimStart().startsWith(typed) && text.trim().length > typed.length,
    );
  }

  /** The documentation, which a long list goes without. */
  resolve(item: CompletionItem): CompletionItem {
    const { list, index } = membersOf(item.data);
    const offer = list === this.#latest.list && typeof index === 'number' ? this.#latest.offers[index] : undefined;
    const text = offer?.details?.() ?? offer?.documentation;
    return text === undefined ? item : { ...item, documentation: { kind: MarkupKind.Markdown, value: text } };
  }

  #offersAt(document: LangiumDocument, cursor: Cursor): Offer[] {
    const { head } = cursor;
    const block = cursor.blocks[0];
    if (cursor.string !== undefined) return head?.tokenType.name === 'use' ? this.#pathOffers(document) : [];
    const first = head?.tokenType.name;
    if (first !== undefined && isPartWord(first)) return this.#headerOffers(document, cursor, first);
    if (block === undefined) return this.#topLevel(document, cursor);
    if (block.kind === undefined || block.kind === 'rows') return [];
    if (head === undefined) return cursor.before.length === 0 ? this.#linesOf(document, cursor, block, block.kind) : [];
    if (head.tokenType.name === 'KEY') return this.#valueOffers(document, cursor, block.kind, head.image);
    if (head.tokenType.name === 'rows') return rowsOffers(cursor.before);
    if (head.tokenType.name === 'log') return logOffers(cursor.before);
    return SENTENCE_WORDS.has(head.tokenType.name) ? this.#sentenceOffers(document, cursor) : [];
  }

  // ---- outside blocks ----

  #topLevel(document: LangiumDocument, cursor: Cursor): Offer[] {
    const { head, before } = cursor;
    if (head?.tokenType.name === 'use') {
      const as: Offer = {
        label: 'as',
        kind: CompletionItemKind.Keyword,
        detail: 'a name for the opened file or folder',
        text: 'as ',
      };
      return before.length === 1 ? [as] : [];
    }
    if (head !== undefined || before.length > 0) return [];
    const isFirst = cursor.text.getText().slice(0, cursor.word.start).trim() === '';
    return topLevelOffers(isFirst, this.#knownParts(document));
  }

  /** Of the files in reach, not those that come with the language: these state no figures to fly with. */
  #knownParts(document: LangiumDocument): KnownParts {
    const known = NEEDED_KINDS.map((kind) => {
      const names = new Set<string>();
      for (const { name, node, documentUri } of this.#lookup.partsInScope(document, [kind])) {
        const isWhole = kind !== 'motor' || (isPartNode(node) && partOf(node).declared('kv') !== undefined);
        if (documentUri.scheme !== LIBRARY_SCHEME && isWhole) names.add(name);
      }
      return [kind, [...names]] as const;
    });
    return Object.fromEntries(known) as Record<(typeof NEEDED_KINDS)[number], string[]>;
  }

  /** `motor Name "title" like Base {` */
  #headerOffers(document: LangiumDocument, cursor: Cursor, kind: Kind): Offer[] {
    const last = cursor.before.at(-1)?.tokenType.name;
    if (last === 'like') {
      const own = this.#partOf(document, { kind, name: cursor.before[0]?.image });
      return partOffers(document, this.#lookup, [kind], cursor.word.text, own);
    }
    if (last === '.') {
      const owner = cursor.before.at(-2)?.image ?? '';
      return memberOffers(document, this.#lookup, owner, undefined, [kind]);
    }
    const isLike = cursor.before.some((token) => token.tokenType.name === 'like');
    if (cursor.before.length === 0 || isLike) return [];
    return [
      { label: 'like', kind: CompletionItemKind.Keyword, detail: 'copies another one', text: 'like ', group: 0 },
      {
        label: '{',
        kind: CompletionItemKind.Operator,
        detail: 'with the lines that are needed',
        snippet: (kind === 'build' && buildBlockSnippet(this.#knownParts(document))) || blockSnippet(kind),
        text: '{',
        group: 1,
      },
    ];
  }

  /** Folders and files that a `use` can open. */
  #pathOffers(document: LangiumDocument): Offer[] {
    const from = UriUtils.dirname(document.uri);
    const paths = new Set<string>();
    for (const { uri } of this.#documents.all) {
      if (uri.scheme === document.uri.scheme) {
        const folder = UriUtils.relative(from, UriUtils.dirname(uri));
        if (folder !== '') paths.add(folder.startsWith('.') ? folder : `./${folder}`);
      }
    }
    return [...paths].sort().map((label) => ({ label, kind: CompletionItemKind.Folder, group: 0 }));
  }

  // ---- lines ----

  #linesOf(document: LangiumDocument, cursor: Cursor, block: Block, kind: BlockKind): Offer[] {
    const text = cursor.text.getText();
    const present = wordsIn(this.#lexer.tokenize(text).tokens, block, cursor.word.start);
    const isVariant = this.#partOf(document, cursor.blocks.at(-1))?.base !== undefined;
    const hasColon = /^[ \t]*:/.test(text.slice(cursor.word.end));
    return lineOffers(kind, present, { isVariant, hasColon });
  }

  #valueOffers(document: LangiumDocument, cursor: Cursor, block: BlockKind, key: string): Offer[] {
    const rule = schemaOf(block).properties[key];
    if (rule === undefined) return [];
    const { clause, behind } = segmentAt(cursor.before);
    if (clause === undefined) {
      return (
        this.#expectedAt(document, cursor, behind, expectationOf(rule), { key, block }) ??
        clauseOffers(rule, cursor.before)
      );
    }
    if (clause === '+-') {
      const percent: Expectation = { ...expectationOf(rule), units: ['%', ...expectationOf(rule).units] };
      return behind.length === 1 && behind[0] !== undefined
        ? unitOffers(percent, behind[0], cursor.offset)
        : behind.length === 0
          ? []
          : clauseOffers(rule, cursor.before);
    }
    if (clause === 'measured' || clause === 'claimed' || clause === 'estimated') {
      return clauseOffers(rule, cursor.before);
    }
    if (block === 'build' && key === 'flight' && clause === 'with' && behind.length === 0) {
      const build = this.#partOf(document, cursor.blocks.at(-1));
      return build === undefined ? [] : namedOffers(build, 'pack');
    }
    const clauseRule = clauseRuleOf(rule, clause, cursor.before);
    if (clauseRule === undefined) return behind.length === 0 ? [] : clauseOffers(rule, cursor.before);
    const isMultiple = rule.shape === 'flown' && clause === 'at';
    const expectation = { ...expectationOf(clauseRule), ...(isMultiple && { shape: 'multiple' as const }) };
    const expected = this.#expectedAt(document, cursor, behind, expectation, { key: clause, block });
    return expected ?? clauseOffers(rule, cursor.before);
  }

  /** What belongs at the cursor inside a value; undefined when the value is complete. */
  #expectedAt(
    document: LangiumDocument,
    cursor: Cursor,
    behind: Cursor['before'],
    expected: Expectation,
    at: { key: string; block: BlockKind },
  ): Offer[] | undefined {
    const last = behind.at(-1);
    const name = last?.tokenType.name;
    const isNames = expected.shape === 'part' || expected.parts.length > 0;
    if (name === '.') {
      const build = this.#partOf(document, cursor.blocks.at(-1));
      return memberOffers(document, this.#lookup, behind.at(-2)?.image ?? '', build, expected.parts.filter(isKind));
    }
    if (expected.shape === 'bare') return undefined;
    if (expected.shape === 'date') return last === undefined ? [todayOffer()] : undefined;
    if (expected.shape === 'leg' && last === undefined) return [...LEG_STARTS];
    if (expected.shape === 'vary' && last === undefined) {
      return [DUTY_START, ...this.#parts(document, cursor, expected)];
    }
    if (expected.shape === 'multiple') return multipleOffers(last, cursor.offset);
    if (last === undefined || name === 'TIMES' || name === '..') {
      const isFeed = at.key === 'from' || expected.parts.includes('rail');
      if (at.key === 'without') {
        const build = this.#partOf(document, cursor.blocks.at(-1));
        return build === undefined ? [] : inheritedOffers(build);
      }
      const names = isFeed ? this.#feeds(document, cursor, at.block) : this.#parts(document, cursor, expected);
      if (isFeed) return names;
      return isNames ? [...names, ...wordsOf(expected)] : wordsOf(expected);
    }
    if (name === 'NUMBER') {
      const units = unitOffers(expected, last, cursor.offset);
      if (isNames) return [timesOffer(last, cursor.offset), ...units];
      return expected.shape === 'size' ? [...units, timesOffer(last, cursor.offset)] : units;
    }
    return undefined;
  }

  #parts(document: LangiumDocument, cursor: Cursor, expected: Expectation): Offer[] {
    const kinds = expected.parts.filter(isKind);
    const own = this.#partOf(document, cursor.blocks.at(-1));
    return [...wordsOf(expected), ...partOffers(document, this.#lookup, kinds, cursor.word.text, own)];
  }

  #feeds(document: LangiumDocument, cursor: Cursor, block: BlockKind): Offer[] {
    const around = this.#partOf(document, cursor.blocks.at(-1));
    if (around === undefined) return [];
    if (block !== 'rail') return feedOffers(around);
    const own = cursor.blocks[0]?.name;
    const rails = [...railsOf(around).keys()].filter((rail) => rail !== own);
    return ['pack', ...rails].map((label) => ({ label, kind: CompletionItemKind.Variable, group: 0 }));
  }

  #sentenceOffers(document: LangiumDocument, cursor: Cursor): Offer[] {
    const build = this.#partOf(document, cursor.blocks.at(-1));
    const isBuild = build?.kind === 'build';
    return cursor.head === undefined
      ? []
      : sentenceOffers(cursor.head, cursor.before, cursor.offset, {
          packs: () =>
            isBuild ? namedOffers(build, 'pack') : partOffers(document, this.#lookup, ['pack'], cursor.word.text),
          rails: () => (isBuild ? railOffers(build) : []),
          flights: () => (isBuild ? namedOffers(build, 'flight') : []),
          members: (owner) => memberOffers(document, this.#lookup, owner, build, []),
        });
  }

  #partOf(document: LangiumDocument, { kind, name }: Partial<Block> = {}): PartNode | undefined {
    return kind === undefined || name === undefined ? undefined : partOfKindNamed(document, kind, name);
  }

  #toItem(cursor: Cursor, offer: Offer, index: number): CompletionItem {
    const { start, end } = cursor.string ?? cursor.word;
    const range = { start: cursor.text.positionAt(start), end: cursor.text.positionAt(end) };
    const asSnippet = this.#snippets && offer.snippet !== undefined;
    const newText = asSnippet ? (offer.snippet ?? '') : (offer.text ?? offer.label);
    const synonym = synonymTyped(cursor.word.text, offer.label);
    return {
      label: offer.label,
      kind: offer.kind,
      // Clients compare what is typed with this: `bat` finds `pack`.
      ...(synonym !== undefined && { filterText: synonym }),
      // The client sorts by this text: groups first, then the order in which they are offered.
      sortText: `${offer.group ?? 0}${String(index).padStart(4, '0')}`,
      textEdit: { range, newText },
      insertTextFormat: asSnippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
      ...(offer.detail && { detail: offer.detail }),
      ...this.#documentationOf(offer, index),
      ...(offer.alsoEdit && { additionalTextEdits: [...offer.alsoEdit] }),
    };
  }

  #documentationOf({ documentation, details }: Offer, index: number): Partial<CompletionItem> {
    if (this.#isLazy && (documentation !== undefined || details !== undefined)) {
      return { data: { list: this.#latest.list, index } };
    }
    return documentation ? { documentation: { kind: MarkupKind.Markdown, value: documentation } } : {};
  }
}

const upTo = (end: Position, text: TextDocument): string => text.getText({ start: { line: 0, character: 0 }, end });

/** What the trade calls an offer, when it is that which is being typed. */
function synonymTyped(typed: string, label: string): string | undefined {
  const word = typed.toLowerCase();
  if (word === '' || label.toLowerCase().startsWith(word)) return undefined;
  return synonymsOf(label).find((synonym) => synonym.startsWith(word));
}

/** The words that begin the lines of a block, the one being typed left out. */
function wordsIn(tokens: Cursor['before'], block: Block, typed: number): ReadonlySet<string> {
  const words = new Set<string>();
  let depth = 0;
  for (const token of tokens.filter((candidate) => candidate.startOffset >= block.start)) {
    const name = token.tokenType.name;
    if (depth < 0 || PART_WORDS.has(name)) break;
    depth += name === '{' ? 1 : name === '}' ? -1 : 0;
    if (depth === 0 && name === 'KEY' && token.startOffset !== typed) words.add(token.image);
  }
  return words;
}
