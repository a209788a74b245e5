import type { CustomPatternMatcherFunc, IToken, TokenType, TokenVocabulary } from 'chevrotain';
import { DefaultTokenBuilder, type GrammarAST, type TokenBuilderOptions } from 'langium';
import { CURRENCY_SIGNS, UNITS } from '../units/table.ts';
import { JOINING_WORDS, LEG_WORDS, PART_WORDS, SENTENCE_WORDS } from './reserved-words.ts';
import { isHeader, lengthOfString, nextOnLine } from './scan.ts';

/**
 * Most words of the language mean something only in their place: `in` is an inch behind a number, `pack` a kind at the start of a
 * header and a rail's source behind `from`. The lexer decides by the token before and the text behind, always on one line; so the parser stays LL(1)
 * and a half-typed line does not change how the next one is read.
 */
export class FettleTokenBuilder extends DefaultTokenBuilder {
  override buildTokens(grammar: GrammarAST.Grammar, options?: TokenBuilderOptions): TokenVocabulary {
    const tokens = super.buildTokens(grammar, options) as TokenType[];
    const contextual = CONTEXTUAL_FIRST.flatMap((name) => tokens.filter((token) => token.name === name));
    return [...contextual, ...tokens.filter((token) => !contextual.includes(token))];
  }

  protected override buildTerminalToken(terminal: GrammarAST.TerminalRule): TokenType {
    const match = TERMINALS[terminal.name];
    return match ? custom(terminal.name, match) : super.buildTerminalToken(terminal);
  }

  protected override buildKeywordToken(
    keyword: GrammarAST.Keyword,
    terminals: TokenType[],
    caseInsensitive: boolean,
  ): TokenType {
    const word = keyword.value;
    const twins = OPERATOR_TWINS[word];
    if (twins) return { name: word, PATTERN: twins };
    if (word === ',') return custom(word, lengthOfComma);
    if (PART_WORDS.has(word)) return custom(word, wordWhere(word, standsAsKind));
    if (word === 'rail') return custom(word, wordWhere(word, standsAsRail));
    if (word === 'fettle')
      return custom(
        word,
        wordWhere(word, (place) => place.previous === undefined),
      );
    if (SENTENCE_WORDS.has(word))
      return custom(
        word,
        wordWhere(word, (place) => !nameIsWanted(place)),
      );
    if (word === 'step') return custom(word, wordWhere(word, isVaried));
    if (LEG_WORDS.has(word)) return custom(word, wordWhere(word, isInLeg));
    if (JOINING_WORDS.has(word)) return custom(word, wordWhere(word, joins(word)));
    return super.buildKeywordToken(keyword, terminals, caseInsensitive);
  }
}

/** Tried before all keywords, in this order. */
const CONTEXTUAL_FIRST = ['KEY', 'UNIT', 'TIMES', 'FINDING', 'DATE', 'NUMBER'];

/** Where a token would begin, and the token before it. */
interface Place {
  text: string;
  offset: number;
  end: number;
  previous: IToken | undefined;
  tokens: readonly IToken[];
}

/** The length of the token that begins here, or 0. */
type Match = (place: Place) => number;

const TERMINALS: Record<string, Match> = {
  STRING: (place) => lengthOfString(place.text, place.offset),
  KEY: (place) => {
    const length = lengthOf(NAME, place);
    return length > 0 && nextOnLine(place.text, place.offset + length) === ':' ? length : 0;
  },
  FINDING: (place) => {
    if (!isAfter(place, FINDING_FOLLOWS)) return 0;
    const length = lengthOf(FINDING, place);
    return JOINING_WORDS.has(place.text.slice(place.offset, place.offset + length)) ? 0 : length;
  },
  UNIT: lengthOfUnit,
  TIMES: (place) => {
    if (!isAfter(place, TIMES_FOLLOWS)) return 0;
    const sign = place.text[place.offset];
    if (sign === '×') return 1;
    // `4x M1`, `4xM1` and `4 x M1` multiply; `4 xray` does not.
    const stands = isAdjacent(place) || !LETTER.test(place.text[place.offset + 1] ?? ' ');
    return sign === 'x' && stands ? 1 : 0;
  },
  DATE: (place) => (isAfter(place, DATE_FOLLOWS) ? lengthOf(DATE, place) : 0),
  NUMBER: (place) => {
    // `.5` is a number unless it belongs to the word before (`Board35.5`).
    if (place.text[place.offset] === '.' && isAdjacent(place)) return 0;
    return lengthOf(NUMBER, place);
  },
  FIRST: (place) => (isFirstOnLine(place) && !isContinued(place) ? lengthOf(NAME, place) : 0),
  ID: (place) =>
    lengthOf(THREAD, place) || (isAfter(place, DASHED_FOLLOWS) ? lengthOf(DASHED, place) : 0) || lengthOf(NAME, place),
};

const LETTER = /[\p{L}\p{M}\p{Nd}_]/u;
const NAME = /[\p{L}\p{M}_][\p{L}\p{M}\p{Nd}_]*/uy;
/** Metric threads are names with a point in them: `M1.4`. */
const THREAD = /M[0-9]+\.[0-9]+(?![\p{L}\p{Nd}_])/uy;
/** `M1103-8000kv`: no name, but one word to whoever wrote it, and one mistake. */
const DASHED = /[\p{L}\p{M}_][\p{L}\p{M}\p{Nd}_]*(?:-[\p{L}\p{Nd}_][\p{L}\p{M}\p{Nd}_]*)+/uy;
const FINDING = /[a-z][a-z0-9-]*/y;
/** A point at the very end belongs to a number being typed (`7.`), but not the first of a range (`7..8`). */
const NUMBER = /(?:[0-9]+(?:\.[0-9]+|\.(?![.0-9\p{L}_]))?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?/uy;

/** `2026-10-04`, half of it while it is typed, and the orders that people write it in elsewhere. */
const DATE =
  /(?:(?:19|20)[0-9]{2}[-–/](?:[0-9]{1,2}(?:[-–/][0-9]{0,2})?)?|[0-9]{1,2}([./])[0-9]{1,2}\1(?:[0-9]{2}){1,2})(?![\p{L}\p{Nd}.])/uy;
const DATE_FOLLOWS: ReadonlySet<string> = new Set([':']);

/** Each operator with the signs that people also type or paste for it. */
const OPERATOR_TWINS: Record<string, RegExp> = {
  '+-': /\+-|±|\+\/-/,
  '..': /\.\.\.?|…/,
  '<=': /<=|≤|=</,
  '>=': />=|≥|=>/,
  '=': /==?/,
  '-': /-|−|–/,
  '*': /\*|·/,
};

// ---- units

/** `%`, `mohm`, `rpm/V`, `N*m`, `cm^2`, `cm²`, `cm2`; and `rpm/` while the rest is being typed. */
/** `2.5"`: straight behind its number, and no text begins with it. */
const INCH_SIGN = /["″”](?![\p{L}\p{Nd}])/uy;
const CURRENCIES = Object.keys(CURRENCY_SIGNS).join('');
/** What the units' other names contain that is no letter of the alphabet: `µ`, `Ω`, `°`, `℃`; and mu and the ohm sign, which look like two of them. */
const SIGNS = `${UNITS.flatMap(({ aliases = [] }) => aliases)
  .join('')
  .replace(/[A-Za-z/]/g, '')}\u03bc\u2126`;
const UNIT_SIGN = new RegExp(`[%^²³${(SIGNS + CURRENCIES).replace(/\p{L}/gu, '')}]`, 'y');
const UNIT = new RegExp(
  String.raw`(?:%|[A-Za-z${SIGNS}${CURRENCIES}]+(?:\^-?[0-9]+|[²³]|(?<=m)[23](?![\p{L}\p{Nd}_]))?)(?:[/∕⁄*·][A-Za-z${SIGNS}${CURRENCIES}]+(?:\^-?[0-9]+|[²³]|(?<=m)[23])?(?![\p{L}\p{Nd}_]))*(?:[/∕⁄*·](?=[ \t]*(?:\r?\n|$)))?`,
  'uy',
);

/**
 * Only straight after a number, or after `in` in the columns of a table; signs that can be nothing else anywhere.
 * `4 M1606` contains no unit; `3S2P`, `4 min50 s` and `62mmx17mm` contain two.
 */
function lengthOfUnit(place: Place): number {
  const isBehindColumn = standsBehindColumn(place);
  const isBehindNumber =
    isAfter(place, UNIT_FOLLOWS) && (place.previous?.tokenType.name !== 'in' || isInColumns(place));
  if (!isBehindNumber && !isBehindColumn) return lengthOf(UNIT_SIGN, place);
  const length =
    lengthOf(UNIT, place) || lengthOf(UNIT_SIGN, place) || (isAdjacent(place) ? lengthOf(INCH_SIGN, place) : 0);
  const unit = place.text.slice(place.offset, place.offset + length);
  const after = place.text[place.offset + length] ?? ' ';
  if (RESERVED.has(unit) || unit === 'x' || (isBehindColumn && unit === 'in')) return 0;
  if (LEG_WORDS.has(unit) && isInLeg(place)) return 0;
  if (!LETTER.test(after)) return length;
  const splits = isAdjacent(place) || unit === 'min' || unit === 'h';
  if (!splits || !/[0-9]/.test(after) || unit.startsWith('x')) return 0;
  return unit.endsWith('x') ? length - 1 : length;
}

function isInColumns(place: Place): boolean {
  const beforeColumn = place.tokens.at(-3)?.tokenType.name;
  return TABLES.has(beforeColumn ?? '') || beforeColumn === ',';
}

/** `rows duty %, thrust gf`: the `in` is forgotten. */
function standsBehindColumn(place: Place): boolean {
  const before = place.tokens.at(-2)?.tokenType.name;
  return isAfter(place, COLUMN_NAMES) && (TABLES.has(before ?? '') || before === ',') && isInHead(place);
}

/** Words that the columns of a table follow. */
const TABLES: ReadonlySet<string> = new Set(['rows', 'log']);
const COLUMN_NAMES: ReadonlySet<string> = new Set(['ID', 'duty']);
const IN_HEAD: ReadonlySet<string> = new Set([...COLUMN_NAMES, 'in', 'UNIT', 'STRING', ',']);

/** Whether the tokens before, on this line, are a table's head. */
function isInHead({ tokens, previous }: Place): boolean {
  for (let at = tokens.length - 1; at >= 0; at--) {
    const token = tokens[at];
    if (token === undefined || token.startLine !== previous?.startLine) return false;
    if (TABLES.has(token.tokenType.name)) return true;
    if (!IN_HEAD.has(token.tokenType.name)) return false;
  }
  return false;
}

/** A comma; in a table also the semicolon that other programs write for it: the check of rows reports it. */
function lengthOfComma(place: Place): number {
  const sign = place.text[place.offset];
  if (sign === ',') return 1;
  if (sign !== ';') return 0;
  const isInRow = isAfter(place, CELL_ENDS) && /[-–−.0-9]/.test(nextOnLine(place.text, place.offset + 1) ?? ' ');
  return isInRow || (isAfter(place, HEAD_ENDS) && isInHead(place)) ? 1 : 0;
}

const CELL_ENDS: ReadonlySet<string> = new Set(['NUMBER', '-']);
const HEAD_ENDS: ReadonlySet<string> = new Set(['UNIT', 'ID', 'STRING']);

/** Words that are no unit behind a number; `in` is an inch there. */
const RESERVED = new Set([...JOINING_WORDS, ...SENTENCE_WORDS, ...PART_WORDS, 'rail'].filter((word) => word !== 'in'));

// ---- kinds and joining words

/** A kind is a keyword where a header is, or at the very start of a line, where the header is still being typed. */
function standsAsKind(place: Place): boolean {
  if (nameIsWanted(place)) return false;
  return isAtLineStart(place) || isHeader(place.text, place.end);
}

/** `rail` is a keyword where its block is, or first on its line; in `rail.video.voltage` it is a name. */
function standsAsRail(place: Place): boolean {
  if (nameIsWanted(place) || nextOnLine(place.text, place.end) === '.') return false;
  return isFirstOnLine(place) || isHeader(place.text, place.end);
}

/** At the start of a line most joining words do not join: `with` is then the beginning of `without: Lamp`, being typed. */
const JOINING_LINES: ReadonlySet<string> = new Set(['and', 'or', 'not', 'like', 'because']);

function joins(word: string): (place: Place) => boolean {
  return (place) => JOINING_LINES.has(word) || !isFirstOnLine(place);
}

/** Only behind what a shortlist varies: a part may be called so. */
const isVaried = (place: Place): boolean => isInLineOf('vary', place);

/** The same of a flight's legs; what is released may be called so. */
const isInLeg = (place: Place): boolean => isInLineOf('leg', place) && place.previous?.tokenType.name !== 'release';

/** Behind a word and its colon, on whatever line its value goes on; never first on a line, where another may begin. */
function isInLineOf(key: string, place: Place): boolean {
  if (isFirstOnLine(place)) return false;
  const begun = place.tokens.findLast(({ tokenType: { name } }) => name === 'KEY' || name === '{' || name === '}');
  return begun?.tokenType.name === 'KEY' && begun.image === key;
}

// ---- places

/** Behind these tokens, on the same line, comes a name or a value: never the beginning of a line or a header. */
const NAME_FOLLOWS: ReadonlySet<string> = new Set([
  ...PART_WORDS,
  ...[...JOINING_WORDS].filter((word) => word !== 'claimed' && word !== 'estimated' && word !== 'measured'),
  ...['rail', 'release', 'TIMES', ':', '.', ',', '(', '+', '-', '*', '/', '<', '<=', '>', '>=', '='],
]);

/** A statement goes on behind these, even on the next line. */
const CONTINUED: ReadonlySet<string> = new Set([
  ...['like', 'and', 'or', 'not', '(', ',', '+', '-', '*', '/', '<', '<=', '>', '>=', '='],
]);

const UNIT_FOLLOWS: ReadonlySet<string> = new Set(['NUMBER', 'in']);
const TIMES_FOLLOWS: ReadonlySet<string> = new Set(['NUMBER', 'UNIT']);
/** Behind these no minus is meant. */
const DASHED_FOLLOWS: ReadonlySet<string> = new Set([
  ...PART_WORDS,
  'rail',
  'like',
  'with',
  'from',
  'as',
  'TIMES',
  ':',
]);
const FINDING_FOLLOWS: ReadonlySet<string> = new Set(['accept', 'raise', 'lower']);

function nameIsWanted(place: Place): boolean {
  return isAfter(place, NAME_FOLLOWS);
}

function isContinued(place: Place): boolean {
  return place.previous !== undefined && CONTINUED.has(place.previous.tokenType.name);
}

/** Whether the token before is one of these and is on the same line. */
function isAfter(place: Place, names: ReadonlySet<string>): boolean {
  return place.previous !== undefined && names.has(place.previous.tokenType.name) && !isFirstOnLine(place);
}

function isAdjacent(place: Place): boolean {
  return endOf(place.previous) === place.offset;
}

function isAtLineStart(place: Place): boolean {
  const before = place.text[place.offset - 1];
  return before === undefined || before === '\n' || before === '\r' || before === '\uFEFF';
}

function isFirstOnLine(place: Place): boolean {
  if (place.previous === undefined) return true;
  for (let at = endOf(place.previous); at < place.offset; at++) {
    if (place.text[at] === '\n' || place.text[at] === '\r') return true;
  }
  return false;
}

function endOf(token: IToken | undefined): number {
  return token ? token.startOffset + token.image.length : -1;
}

// ---- custom tokens

function custom(name: string, match: Match): TokenType {
  const pattern: CustomPatternMatcherFunc = (text, offset, tokens) => {
    const length = match({ text, offset, end: offset, previous: tokens.at(-1), tokens });
    return length > 0 ? [text.slice(offset, offset + length)] : null;
  };
  return { name, PATTERN: pattern, LINE_BREAKS: false, START_CHARS_HINT: startsOf(name) };
}

function wordWhere(word: string, stands: (place: Place) => boolean): Match {
  return (place) => {
    if (!place.text.startsWith(word, place.offset)) return 0;
    const end = place.offset + word.length;
    if (LETTER.test(place.text[end] ?? ' ')) return 0;
    return stands({ ...place, end }) ? word.length : 0;
  };
}

function lengthOf(pattern: RegExp, place: Place): number {
  pattern.lastIndex = place.offset;
  return pattern.exec(place.text)?.[0].length ?? 0;
}

/** The lexer tries a token only where its first character is allowed. Characters beyond Latin-1 are grouped in buckets of 255 by the lexer. */
function startsOf(name: string): (string | number)[] {
  if (name === ',') return [',', ';'];
  const starts = TERMINAL_STARTS[name];
  if (!starts) return [name.charAt(0)];
  const characters: (string | number)[] = [];
  for (let code = 0; code < 256; code++) {
    if (starts.test(String.fromCharCode(code))) characters.push(code);
  }
  if (name === 'DATE' || name === 'NUMBER' || name === 'FINDING') return characters;
  for (let code = 256; code < 65536; code += 255) characters.push(code);
  return characters;
}

const TERMINAL_STARTS: Record<string, RegExp> = {
  STRING: /["«]/,
  KEY: /[\p{L}\p{M}_]/u,
  FINDING: /[a-z]/,
  UNIT: new RegExp(`[%A-Za-z^²³"${SIGNS}${CURRENCIES}]`),
  TIMES: /[x×]/,
  DATE: /[0-9]/,
  NUMBER: /[0-9.]/,
  FIRST: /[\p{L}\p{M}_]/u,
  ID: /[\p{L}\p{M}_]/u,
};
