import { GrammarUtils } from 'langium';
import type { FuzzyMatcher, NodeKindProvider, WorkspaceSymbolProvider } from 'langium/lsp';
import type { WorkspaceSymbolParams } from 'vscode-languageserver-protocol';
import type { WorkspaceSymbol } from 'vscode-languageserver-types';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import type { FettleIndex } from '../resolve/name-index.ts';
import { translations } from '../vocabulary/synonyms.ts';
import type { EngineServices } from './engine/editor-services.ts';

/** Parts and builds of the whole workspace by a piece of their name or title, or by what the trade calls their kind; the shipped parts are in no file to go to. */
export class FettleWorkspaceSymbols implements WorkspaceSymbolProvider {
  private readonly index: FettleIndex;
  private readonly matcher: FuzzyMatcher;
  private readonly kinds: NodeKindProvider;

  constructor(services: EngineServices) {
    this.index = services.workspace.IndexManager;
    this.matcher = services.lsp.FuzzyMatcher;
    this.kinds = services.lsp.NodeKindProvider;
  }

  getSymbols({ query }: WorkspaceSymbolParams): WorkspaceSymbol[] {
    const symbols: WorkspaceSymbol[] = [];
    const piece = query.toLowerCase();
    const kinds = [piece, ...translations(piece)];
    for (const { name, kind, part, file } of this.index.all()) {
      const range = GrammarUtils.findNodeForProperty(part.$cstNode, 'name')?.range;
      const isOurs = !file.startsWith(`${LIBRARY_SCHEME}:`);
      const isMeant =
        this.matcher.match(piece, name) ||
        `${name} ${part.title ?? ''}`.toLowerCase().includes(piece) ||
        kinds.includes(kind);
      if (range !== undefined && isOurs && isMeant) {
        symbols.push({
          name,
          kind: this.kinds.getSymbolKind(part),
          containerName: kind,
          location: { uri: file, range },
        });
      }
    }
    return symbols;
  }
}
