import type { IRecognitionException, IToken, TokenType } from 'chevrotain';
import type { CstNode } from 'langium';

/** An error about the text's structure, in the form in which Langium expects a parser's errors; its range is one token. */
export function syntaxError(message: string, place: CstNode, name = 'StructureError'): IRecognitionException {
  return errorAt(message, tokenOf(place), name);
}

/** An error about the whole file is at its first character. */
export function errorAtStart(message: string, name: string): IRecognitionException {
  const start = { startOffset: 0, startLine: 1, startColumn: 1, endOffset: 0, endLine: 1, endColumn: 1 };
  return errorAt(message, { ...PLACE, ...start, image: '' }, name);
}

const PLACE_TYPE: TokenType = { name: 'PLACE' };
const PLACE = { tokenType: PLACE_TYPE, tokenTypeIdx: 0 };

/** An error at a token of the lexer. */
export function errorAt(message: string, token: IToken, name: string): IRecognitionException {
  return { name, message, token, resyncedTokens: [], context: { ruleStack: [], ruleOccurrenceStack: [] } };
}

/** Langium counts lines and columns from 0 with an exclusive end, the lexer from 1 with an inclusive one. */
function tokenOf(node: CstNode): IToken {
  const { start, end } = node.range;
  return {
    ...PLACE,
    image: node.text,
    startOffset: node.offset,
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endOffset: node.end - 1,
    endLine: end.line + 1,
    endColumn: end.character,
  };
}
