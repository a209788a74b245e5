import { CstUtils, type LangiumDocument, URI } from 'langium';
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
import { MEANING_MODIFIERS, MEANING_TYPES, meaningOf } from '../syntax/meanings.ts';
import type { EditorServices } from './engine/editor-services.ts';
import type { PositionUnits } from './engine/position-units.ts';

/**
 * Colours by meaning: a name by what it names, a word by whether the language or the file defines it.
 * Of the protocol's fixed list units are `macro` and the words that name the kind of what follows, or where a figure comes from, `modifier`:
 * so each sort has a colour of its own in the usual themes, and the same as before the server has answered (fettle.tmLanguage.json).
 */
export class FettleSemanticTokens implements SemanticTokenProvider {
  readonly tokenTypes = Object.fromEntries(MEANING_TYPES.map((type, index) => [type, index]));
  readonly tokenModifiers = Object.fromEntries(MEANING_MODIFIERS.map((modifier, index) => [modifier, 1 << index]));
  readonly semanticTokensOptions = {
    legend: { tokenTypes: [...MEANING_TYPES], tokenModifiers: [...MEANING_MODIFIERS] },
    full: { delta: true },
    range: true,
  };

  /** By document, what the client was last given: what it is given next are the differences. */
  readonly #given = new Map<string, SemanticTokensBuilder>();

  readonly #units: PositionUnits;

  constructor(services: EditorServices) {
    this.#units = services.shared.lsp.PositionUnits;
    services.shared.workspace.TextDocuments.onDidClose(({ document }) =>
      this.#given.delete(URI.parse(document.uri).toString()),
    );
  }

  semanticHighlight(document: LangiumDocument, _params: SemanticTokensParams): SemanticTokens {
    const builder = new SemanticTokensBuilder();
    this.#given.set(document.uri.toString(), builder);
    this.#push(builder, document);
    return builder.build();
  }

  semanticHighlightRange(document: LangiumDocument, params: SemanticTokensRangeParams): SemanticTokens {
    const builder = new SemanticTokensBuilder();
    this.#push(builder, document, params.range);
    return builder.build();
  }

  /** The whole where the client has not what we believe it to have. */
  semanticHighlightDelta(
    document: LangiumDocument,
    { previousResultId }: SemanticTokensDeltaParams,
  ): SemanticTokensDelta | SemanticTokens {
    const builder = this.#given.get(document.uri.toString());
    if (builder === undefined)
      return this.semanticHighlight(document, { textDocument: { uri: document.uri.toString() } });
    builder.previousResult(previousResultId);
    this.#push(builder, document);
    return builder.buildEdits();
  }

  /** Their places are numbers, in the count of the client. */
  #push(builder: SemanticTokensBuilder, document: LangiumDocument, within?: Range): void {
    const root = document.parseResult.value.$cstNode;
    for (const leaf of root === undefined ? [] : CstUtils.flattenCst(root)) {
      const { start, end } = leaf.range;
      const outside = within !== undefined && (end.line < within.start.line || start.line > within.end.line);
      const meaning = outside || start.line !== end.line ? undefined : meaningOf(leaf);
      if (meaning === undefined) continue;
      const modifiers = meaning.modifier === undefined ? 0 : 1 << MEANING_MODIFIERS.indexOf(meaning.modifier);
      const before = this.#units.in(
        document.textDocument.getText({ start: { line: start.line, character: 0 }, end: start }),
      );
      builder.push(start.line, before, this.#units.in(leaf.text), MEANING_TYPES.indexOf(meaning.type), modifiers);
    }
  }
}
