import { ascending } from 'd3-array';
import { GrammarUtils } from 'langium';
import type { FuzzyMatcher, NodeKindProvider, WorkspaceSymbolProvider } from 'langium/lsp';
import type { WorkspaceSymbolParams } from 'vscode-languageserver-protocol';
import type { WorkspaceSymbol } from 'vscode-languageserver-types';
import type { PartEntry } from '../resolve/folder-names.ts';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { translations } from '../vocabulary/synonyms.ts';
import type { EngineServices } from './engine/editor-services.ts';

/**
 * Parts and builds of the whole workspace by pieces of their name or title, or by what the trade calls their kind, best first; the shipped
 * parts are in no file to go to.
 */
export class FettleWorkspaceSymbols implements WorkspaceSymbolProvider {
  readonly #index: FettleIndex;
  readonly #matcher: FuzzyMatcher;
  readonly #kinds: NodeKindProvider;

  constructor(services: EngineServices) {
    this.#index = services.workspace.IndexManager;
    this.#matcher = services.lsp.FuzzyMatcher;
    this.#kinds = services.lsp.NodeKindProvider;
  }

  getSymbols({ query }: WorkspaceSymbolParams): WorkspaceSymbol[] {
    const whole = query.trim().toLowerCase();
    const pieces = whole.split(/\s+/).map((piece) => ({ piece, kinds: [piece, ...translations(piece)] }));
    return [...this.#index.all()]
      .filter(({ file }) => !file.startsWith(`${LIBRARY_SCHEME}:`))
      .flatMap((entry) => {
        const rank = Math.max(...pieces.map(({ piece, kinds }) => this.#rankOf(entry, piece, kinds)));
        const symbol = this.#symbolOf(entry);
        return symbol === undefined || rank === NO_MATCH
          ? []
          : [{ symbol, rank: Math.min(rank, rankIn(entry, whole)) }];
      })
      .sort((one, other) => one.rank - other.rank || ascending(one.symbol.name, other.symbol.name))
      .map(({ symbol }) => symbol);
  }

  #rankOf(entry: PartEntry, piece: string, kinds: readonly string[]): number {
    const found = rankIn(entry, piece);
    if (found !== NO_MATCH) return found;
    if (kinds.includes(entry.kind)) return OF_THE_KIND;
    return this.#matcher.match(piece, entry.name) ? LETTERS_OF_NAME : NO_MATCH;
  }

  #symbolOf({ name, kind, part, file }: PartEntry): WorkspaceSymbol | undefined {
    const range = GrammarUtils.findNodeForProperty(part.$cstNode, 'name')?.range;
    const containerName = part.title === undefined ? kind : `${kind} · ${terminalSafe(part.title)}`;
    return range && { name, kind: this.#kinds.getSymbolKind(part), containerName, location: { uri: file, range } };
  }
}

/** The smaller the nearer: the name itself, its beginning, the beginning of a word in it, inside a word; the same of the title. */
const [OF_THE_KIND, LETTERS_OF_NAME, NO_MATCH] = [7, 8, 9];

function rankIn({ name, part }: PartEntry, piece: string): number {
  const inName = placeIn(name.toLowerCase(), piece);
  if (inName !== undefined) return inName;
  const inTitle = placeIn((part.title ?? '').toLowerCase(), piece);
  return inTitle === undefined ? NO_MATCH : Math.max(inTitle, 2) + 2;
}

function placeIn(text: string, piece: string): 0 | 1 | 2 | 3 | undefined {
  if (text === piece) return 0;
  if (text.startsWith(piece)) return 1;
  const at = text.indexOf(piece);
  if (at < 0) return undefined;
  return startsWord(text, piece) ? 2 : 3;
}

/** Behind a sign, or where digits follow letters or the other way round: `1104` in `m1104_7500`. */
function startsWord(text: string, piece: string): boolean {
  for (let at = text.indexOf(piece); at >= 0; at = text.indexOf(piece, at + 1)) {
    const [before = '', first = ''] = [text[at - 1], text[at]];
    if (!/[\p{L}\p{Nd}]/u.test(before) || /\p{Nd}/u.test(before) !== /\p{Nd}/u.test(first)) return true;
  }
  return false;
}
