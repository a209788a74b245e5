/**
 * A file's declarations and the words in them, without a parser: enough to determine which builds a change may reach, and cheap enough for
 * every file of a repository. Errs on the side of reaching more.
 */
import { BLOCK_KINDS } from '../../vocabulary/properties.ts';

export interface Chunk {
  /** What it declares: one name; none for what is before the first declaration; several when braces do not match. */
  readonly names: readonly string[];
  /** Without comments, white space folded. */
  readonly text: string;
  readonly words: ReadonlySet<string>;
  /** Of a test stand: the propellers it is about. */
  readonly measured: readonly string[];
  readonly isBuild: boolean;
  /** Of a build: something was observed on it. */
  readonly isObserved: boolean;
  /** Files whose rows are read. */
  readonly rows: readonly string[];
}

export interface Outline {
  readonly chunks: readonly Chunk[];
  readonly builds: number;
  /** What `use` lines open. */
  readonly uses: readonly string[];
}

/** What is on its own in a file: rails and observations are inside. */
const KINDS: ReadonlySet<string> = new Set(BLOCK_KINDS.filter((kind) => kind !== 'rail' && kind !== 'observed'));

const TOKEN = /"[^"\n\r]*"?|\/\/[^\n\r]*|#[^\n\r]*|[A-Za-z_]\w*|[{}]|[^\sA-Za-z_{}"/#]+|\//g;

interface Open {
  readonly names: string[];
  readonly tokens: string[];
}

export function outlineOf(text: string): Outline {
  const all: Open[] = [{ names: [], tokens: [] }];
  const uses: string[] = [];
  /** Names behind a word that is a kind, anywhere. */
  const anyNames: string[] = [];
  let depth = 0;
  let balanced = true;
  let builds = 0;
  /** Anywhere. */
  let allBuilds = 0;
  let last = '';
  for (const match of text.matchAll(TOKEN)) {
    const [token] = match;
    if (token.startsWith('//') || token.startsWith('#')) continue;
    const isWord = /^[A-Za-z_]/.test(token);
    const isKind =
      KINDS.has(token) && !/^[ \t]*:/.test(text.slice(match.index + token.length, match.index + token.length + 8));
    if (isKind && token === 'build') allBuilds += 1;
    if (isKind && depth === 0) {
      all.push({ names: [], tokens: [] });
      if (token === 'build') builds += 1;
    }
    const open = all.at(-1) as Open;
    if (isWord && KINDS.has(last)) {
      anyNames.push(token);
      if (depth === 0 && open.tokens.length === 1) open.names.push(token);
    }
    if (token === '{') depth += 1;
    if (token === '}') depth -= 1;
    if (depth < 0) balanced = false;
    if (token.startsWith('"') && last === 'use') uses.push(inner(token));
    open.tokens.push(token);
    last = token;
  }
  if (depth !== 0) balanced = false;
  const opened = balanced ? all : [{ names: anyNames, tokens: all.flatMap(({ tokens }) => tokens) }];
  const chunks = opened.map(({ names, tokens }) => ({
    names,
    text: tokens.join(' '),
    words: wordsOf(tokens),
    measured: tokens.includes('bench') ? propellersIn(tokens) : [],
    isBuild: tokens[0] === 'build',
    isObserved: tokens.includes('observed'),
    rows: tokens.filter((token, i) => token.startsWith('"') && tokens[i - 1] === 'from').map(inner),
  }));
  return { chunks, builds: balanced ? builds : allBuilds, uses };
}

/** What is behind `propeller:`; of a name with dots its last step. */
function propellersIn(tokens: readonly string[]): string[] {
  const found: string[] = [];
  for (const [i, token] of tokens.entries()) {
    if (token !== 'propeller' || tokens[i + 1] !== ':') continue;
    let last = i + 2;
    while (tokens[last + 1] === '.' && tokens[last + 2] !== undefined) last += 2;
    const name = tokens[last];
    if (name !== undefined) found.push(name);
  }
  return found;
}

const inner = (quoted: string): string => quoted.replace(/^"|"$/g, '');

/** A `use` line also states the last step of its path. */
export const stepWord = (path: string): string =>
  `"${
    path
      .replace(/[/\\]+$/, '')
      .split(/[/\\]/)
      .at(-1) ?? ''
  }`;

function wordsOf(tokens: readonly string[]): Set<string> {
  const words = new Set<string>();
  for (const [i, token] of tokens.entries()) {
    if (/^[A-Za-z_]/.test(token)) words.add(token);
    else if (token.startsWith('"') && tokens[i - 1] === 'use') words.add(stepWord(inner(token)));
  }
  return words;
}
