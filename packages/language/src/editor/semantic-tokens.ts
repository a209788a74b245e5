import { CstUtils, type LangiumDocument } from 'langium';
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
