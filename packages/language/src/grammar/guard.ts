import type { IRecognitionException, IToken } from 'chevrotain';
import {
  type AstNode,
  createLangiumParser,
  DefaultLexer,
  type LangiumCoreServices,
  LangiumParser,
  type LexerResult,
  type ParseResult,
  type ParserOptions,
  type TokenizeOptions,
} from 'langium';
import { type Conflict, withoutConflicts } from './conflicts.ts';
import { isFile } from './generated/ast.ts';
import { onItsLine } from './messages.ts';
import { PART_WORDS, SENTENCE_WORDS } from './reserved-words.ts';
import { structureErrors } from './structure.ts';
import { errorAtStart } from './syntax-error.ts';

/** Characters in a file; a file of 5,000 lines has about 200,000. */
export const MAX_CHARACTERS = 1_000_000;
/** Words, signs and comments in a file; a file of 5,000 lines has about 30,000. The parser's work grows faster than the text beyond. */
export const MAX_TOKENS = 100_000;
/** Brackets in brackets. The parser calls itself for each and runs out of stack at about 300. */
export const MAX_DEPTH = 64;
/** Characters without a meaning that are reported one by one. */
const MAX_CHARACTER_ERRORS = 20;

/** Refuses a text that would take the parser too long or too deep: one clear error and an empty tree instead. */
export class GuardedLexer extends DefaultLexer {
  override tokenize(text: string, options?: TokenizeOptions): LexerResult {
    const unreadable = textProblem(text);
    if (unreadable) return refused(unreadable, FILE_START);
    const { text: merged, conflicts } = withoutConflicts(text);
    const result = super.tokenize(merged, options);
    if (result.tokens.length + result.hidden.length > MAX_TOKENS) {
      return refused(`this file is too large: more than ${MAX_TOKENS} words and signs`, FILE_START);
    }
    const tooDeep = tooDeepBracket(result.tokens);
    if (tooDeep) {
      const { startOffset, startLine, startColumn, image } = tooDeep;
      const place = { offset: startOffset, length: image.length, line: startLine ?? 1, column: startColumn ?? 1 };
      return refused(`more than ${MAX_DEPTH} brackets in brackets`, place);
    }
    return { ...result, errors: [...conflicts.map(unfinishedMerge), ...shortened(result.errors)] };
  }
}

type LexerErrors = LexerResult['errors'];
type ErrorPlace = Omit<LexerErrors[number], 'message' | 'offset'> & { offset: number };

const FILE_START: ErrorPlace = { offset: 0, length: 1, line: 1, column: 1 };

function refused(message: string, place: ErrorPlace): LexerResult {
  return { tokens: [], hidden: [], errors: [{ ...place, message }] };
}

const unfinishedMerge = ({ offset, line }: Conflict): ErrorPlace & { message: string } => ({
  message: 'an unfinished merge: keep one side, and delete its three marks; until then the upper side is read',
  offset,
  length: 7,
  line,
  column: 1,
});

function textProblem(text: string): string | undefined {
  if (text.length > MAX_CHARACTERS) {
    return `this file is too large: ${text.length} characters, at most ${MAX_CHARACTERS} are read`;
  }
  if (text.includes('\0')) return 'this is not a text file; if it is one, save it as UTF-8';
  return undefined;
}

/** The first bracket or brace that is too deep. An unclosed bracket ends with its line, an unclosed brace before the next part. */
function tooDeepBracket(tokens: readonly IToken[]): IToken | undefined {
  let braces = 0;
  let brackets = 0;
  for (const token of tokens) {
    const name = token.tokenType.name;
    if (beginsLine(name)) brackets = 0;
    if (PART_WORDS.has(name)) braces = 0;
    else if (name === '{') braces += 1;
    else if (name === '}') braces = Math.max(0, braces - 1);
    else if (name === '(') brackets += 1;
    else if (name === ')') brackets = Math.max(0, brackets - 1);
    if (braces + brackets > MAX_DEPTH) return token;
  }
  return undefined;
}

function beginsLine(name: string): boolean {
  return name === 'KEY' || name === 'FIRST' || name === '{' || name === '}' || SENTENCE_WORDS.has(name);
}

function shortened(errors: LexerErrors): LexerErrors {
  if (errors.length <= MAX_CHARACTER_ERRORS) return errors;
  const shown = errors.slice(0, MAX_CHARACTER_ERRORS);
  const next = errors[MAX_CHARACTER_ERRORS];
  if (next) shown.push({ ...next, message: `${errors.length - MAX_CHARACTER_ERRORS} more signs without a meaning` });
  return shown;
}

/** The error's name where reading a file failed inside the parser: the command then ends with "internal error", not with findings. */
export const PARSER_FAILURE = 'ParserFailure';

/**
 * A parser that survives an exception within itself: the file gets one error and an empty tree, and a new parser reads the next one.
 * (The parser keeps its half-built tree when something is thrown, and would refuse good files after that.)
 */
export class GuardedParser extends LangiumParser {
  readonly #services: LangiumCoreServices;
  #inner: LangiumParser;

  constructor(services: LangiumCoreServices) {
    super(services);
    this.#services = services;
    this.#inner = createLangiumParser(services);
  }

  override parse<T extends AstNode = AstNode>(input: string, options?: ParserOptions): ParseResult<T> {
    try {
      const result = this.#inner.parse<T>(input, options);
      return { ...result, parserErrors: [...result.parserErrors.map(onItsLine), ...structureOf(result.value)] };
    } catch (cause) {
      this.#inner = createLangiumParser(this.#services);
      return { ...this.#inner.parse<T>('', options), parserErrors: [failure(cause)] };
    }
  }
}

function structureOf(root: AstNode): IRecognitionException[] {
  return isFile(root) ? structureErrors(root) : [];
}

function failure(cause: unknown): IRecognitionException {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return errorAtStart(`this file could not be read, a mistake of the program (${reason})`, PARSER_FAILURE);
}
