import { createGrammarServices } from './grammar-services.ts';

const TERMINALS = new Set(['KEY', 'UNIT', 'TIMES', 'FINDING', 'STRING', 'DATE', 'NUMBER', 'FIRST', 'ID']);

/** Reads a text into tokens, written as `sort:text`; keywords and signs by the grammar's name for them alone. */
export function createFettleLexer(): (text: string) => string {
  const lexer = createGrammarServices().parser.Lexer;
  return (text) => {
    const { tokens, errors } = lexer.tokenize(text);
    const words = tokens.map(({ tokenType: { name }, image }) => (TERMINALS.has(name) ? `${name}:${image}` : name));
    return [...words, ...errors.map((error) => `error:${error.message}`)].join(' ');
  };
}
