/** Colours: at once by what a letter may be, and by meaning as soon as the server has answered. */

import { HighlightStyle, LanguageSupport, StreamLanguage, syntaxHighlighting } from '@codemirror/language';
import type { LSPClient } from '@codemirror/lsp-client';
import { type Range, StateEffect, StateField, type Text } from '@codemirror/state';
import { Decoration, type DecorationSet, EditorView } from '@codemirror/view';
import { tags } from '@lezer/highlight';

const SIMPLE = StreamLanguage.define({
  name: 'fettle',
  token(stream) {
    if (stream.match(/\/\/.*/)) return 'comment';
    if (stream.match(/"(?:\\.|[^"\\])*"?/)) return 'string';
    if (stream.match(/[+-]?\d+(?:[.,]\d+)?/)) return 'number';
    if (stream.match(/[\p{L}_][\p{L}\p{M}\p{Nd}_]*(?=\s*:)/u)) return 'propertyName';
    if (stream.match(/[\p{L}_][\p{L}\p{M}\p{Nd}_]*/u)) return 'variableName';
    stream.next();
    return null;
  },
  languageData: { commentTokens: { line: '//' }, closeBrackets: { brackets: ['{', '"', '('] } },
});

const LOOK = HighlightStyle.define([
  { tag: tags.comment, class: 'tok-comment' },
  { tag: tags.string, class: 'tok-string' },
  { tag: tags.number, class: 'tok-number' },
  { tag: tags.propertyName, class: 'tok-property' },
]);

export const fettleLanguage = new LanguageSupport(SIMPLE, [syntaxHighlighting(LOOK)]);

const setMeanings = StateEffect.define<DecorationSet>();

/** Kept at their places until the server has answered anew. */
export const meanings = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(shown, transaction) {
    const fresh = transaction.effects.find((effect) => effect.is(setMeanings));
    return fresh ? fresh.value : shown.map(transaction.changes);
  },
  provide: (field) => EditorView.decorations.from(field),
});

interface Tokens {
  readonly data: readonly number[];
}

/** Requests the meanings of the text on screen. */
export async function colour(view: EditorView, client: LSPClient, uri: string): Promise<void> {
  client.sync();
  const { doc } = view.state;
  const types = client.serverCapabilities?.semanticTokensProvider?.legend.tokenTypes ?? [];
  const answer = await client.request<object, Tokens | null>('textDocument/semanticTokens/full', {
    textDocument: { uri },
  });
  // Something was typed meanwhile, or another file is on screen: its own answer follows.
  if (answer === null || view.state.doc !== doc) return;
  view.dispatch({ effects: setMeanings.of(decorationsOf(answer.data, types, doc)) });
}

/** The protocol's form: five numbers a token, each place as a difference from the one before. */
function decorationsOf(data: readonly number[], types: readonly string[], doc: Text): DecorationSet {
  const marks: Range<Decoration>[] = [];
  let [line, start] = [0, 0];
  for (let i = 0; i + 4 < data.length; i += 5) {
    const [lines = 0, letters = 0, length = 0, type = 0] = data.slice(i, i + 4);
    line += lines;
    start = lines > 0 ? letters : start + letters;
    if (line >= doc.lines) break;
    const { from, to } = doc.line(line + 1);
    const [begin, end] = [Math.min(from + start, to), Math.min(from + start + length, to)];
    if (begin < end) marks.push(Decoration.mark({ class: `tok-${types[type] ?? 'none'}` }).range(begin, end));
  }
  return Decoration.set(marks, true);
}
