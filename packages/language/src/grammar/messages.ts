import type {
  ILexerErrorMessageProvider,
  IParserErrorMessageProvider,
  IRecognitionException,
  IToken,
  TokenType,
} from 'chevrotain';
import { DefaultLexerErrorMessageProvider } from 'langium';
import { PART_WORDS } from './reserved-words.ts';
import { errorAt } from './syntax-error.ts';

/** Parser errors in plain words with at most three suggestions. Most mistakes never come here: see structure.ts and the checks. */
export class FettleParserMessages implements IParserErrorMessageProvider {
  buildMismatchTokenMessage({ expected, actual, previous }: Mismatch): string {
    const wanted = `expected ${plain(expected.name)}`;
    return isOnLineOf(previous, actual) ? `${wanted}, found ${found(actual)}` : `${wanted} after ${previous.image}`;
  }

  buildNotAllInputParsedMessage({ firstRedundant }: { firstRedundant: IToken }): string {
    return `${found(firstRedundant)} does not fit here`;
  }

  buildNoViableAltMessage({ expectedPathsPerAlt, actual }: NoViableAlternative): string {
    return expectedOneOf(expectedPathsPerAlt.flat(), actual);
  }

  buildEarlyExitMessage({ expectedIterationPaths, actual }: EarlyExit): string {
    return expectedOneOf(expectedIterationPaths, actual);
  }
}

type Mismatch = Parameters<IParserErrorMessageProvider['buildMismatchTokenMessage']>[0];
type NoViableAlternative = Parameters<IParserErrorMessageProvider['buildNoViableAltMessage']>[0];
type EarlyExit = Parameters<IParserErrorMessageProvider['buildEarlyExitMessage']>[0];

/** Where something is missing at the end of a line, the next line is not to blame: the error is at the last token before it. */
export function onItsLine(error: IRecognitionException): IRecognitionException {
  const previous = 'previousToken' in error ? (error.previousToken as IToken | undefined) : undefined;
  if (!previous?.image || isOnLineOf(previous, error.token)) return error;
  return errorAt(error.message, previous, error.name);
}

function isOnLineOf(previous: IToken, actual: IToken): boolean {
  return actual.startLine === previous.endLine;
}

const MAX_OPTIONS = 3;

function expectedOneOf(paths: readonly TokenType[][], actual: readonly IToken[]): string {
  const options = [...new Set(paths.flatMap((path) => (path[0] ? [plain(path[0].name)] : [])))];
  const next = found(actual[0]);
  // A long list explains nothing.
  if (options.length === 0 || options.length > MAX_OPTIONS) return `${next} does not fit here`;
  return `expected ${options.join(' or ')}, found ${next}`;
}

function found(token: IToken | undefined): string {
  return token?.image ? token.image : 'the end of the file';
}

/** What a token is to a reader. */
function plain(name: string): string {
  if (PART_WORDS.has(name)) return 'a kind of part';
  return PLAIN[name] ?? name;
}

const PLAIN: Record<string, string> = {
  DATE: 'a date',
  EOF: 'the end of the file',
  FINDING: 'the name of a finding',
  FIRST: 'a name',
  ID: 'a name',
  KEY: 'a property and its colon',
  NUMBER: 'a number',
  STRING: 'a text in quotes',
  TIMES: 'x',
  UNIT: 'a unit',
};

/** Errors about characters that begin no token, with what was probably meant. */
export class FettleLexerMessages extends DefaultLexerErrorMessageProvider implements ILexerErrorMessageProvider {
  override buildUnexpectedCharactersMessage(text: string, offset: number, length: number): string {
    const characters = text.slice(offset, offset + length);
    const hint = HINTS.find(([signs]) => signs.includes(characters.charAt(0)));
    const shown = characters.length > 20 ? `${characters.slice(0, 20)}…` : characters;
    return `${shown} has no meaning here${hint ? `: ${hint[1]}` : ''}`;
  }
}

const HINTS: readonly (readonly [signs: string, hint: string])[] = [
  ['&', 'write and'],
  ['|', 'write or'],
  ['!≠', 'write not ( … )'],
  [';', 'a line ends by itself'],
  ["'“”„‘’«»", 'texts are written in straight double quotes'],
  ['[]', 'blocks are written in { }, calculations in ( )'],
];
