/**
 * A client that waits for nothing: it types in several files, sends requests in between, cancels some, closes, opens, deletes and moves files,
 * at random; and keeps what each request was about.
 */
import { CancellationTokenSource, FileChangeType, type Position, ResponseError } from 'vscode-languageserver-protocol';
import { uriOf } from '../references/memory-workspace.ts';
import { below, pick, type Random } from '../seeded.ts';
import { type Encoding, offsetOf, positionOf } from './counted-positions.ts';
import { MemoryServer, turns } from './memory-server.ts';

export interface Sent {
  readonly method: string;
  readonly path: string;
  /** Without the file and the position, which are those below. */
  readonly params: object;
  readonly at: Position;
  readonly before: Moment;
  /** When the answer came. */
  after?: Moment;
  readonly cancellation: CancellationTokenSource;
  answer?: unknown;
  refusal?: ResponseError<unknown>;
}

/** All texts at a time. */
export interface Moment {
  readonly open: ReadonlyMap<string, string>;
  readonly disk: ReadonlyMap<string, string>;
  /** How many texts there had been. */
  readonly count: number;
  /** The server has read what other programs left on the disk: it learns of that, and has to go and look. */
  readonly isDiskRead: boolean;
}

interface Version {
  readonly path: string;
  /** Undefined of a file on the disk. */
  readonly version?: number;
  readonly text: string;
}

const LETTERS = ['m', 'o', 't', ' ', '\n', '}', '{', ':', '3', 'x', '"', 'ü', '🦇', 'k', 'g', '.', ',', '='];
const PIECES = [
  '\n// 🦇 up here\n',
  '  mass: 12 g\n',
  'motor Fresh { kv: 2000 rpm/V }\n',
  '\n\n',
  '  item: Strap\n',
  '  require hover_time >= 3 min\n',
  '/* ½ */',
];

const WHOLE = { start: { line: 0, character: 0 }, end: { line: 40, character: 0 } };
const LAYOUT = { options: { tabSize: 2, insertSpaces: true } };

/** With what each is sent besides a file and a position. */
const REQUESTED: Readonly<Record<string, object>> = {
  'textDocument/completion': {},
  'textDocument/signatureHelp': { context: { triggerKind: 1, isRetrigger: false } },
  'textDocument/hover': {},
  'textDocument/definition': {},
  'textDocument/declaration': {},
  'textDocument/typeDefinition': {},
  'textDocument/implementation': {},
  'textDocument/references': { context: { includeDeclaration: true } },
  'textDocument/documentHighlight': {},
  'textDocument/prepareRename': {},
  'textDocument/rename': { newName: 'Renamed' },
  'textDocument/prepareCallHierarchy': {},
  'textDocument/prepareTypeHierarchy': {},
  'textDocument/documentSymbol': {},
  'textDocument/foldingRange': {},
  'textDocument/documentLink': {},
  'textDocument/selectionRange': {},
  'textDocument/codeLens': {},
  'textDocument/codeAction': { range: WHOLE, context: { diagnostics: [], triggerKind: 1 } },
  'textDocument/inlayHint': { range: WHOLE },
  'textDocument/semanticTokens/full': {},
  'textDocument/semanticTokens/range': { range: WHOLE },
  'textDocument/diagnostic': {},
  'textDocument/formatting': LAYOUT,
  'textDocument/rangeFormatting': { ...LAYOUT, range: WHOLE },
  'textDocument/onTypeFormatting': { ...LAYOUT, ch: '\n' },
  'fettle/measured': {},
};
/** As often as the others together: they are sent while somebody types. */
const WHILE_TYPING = ['completion', 'signatureHelp', 'formatting', 'onTypeFormatting', 'documentLink', 'codeAction'];

export class HastyClient {
  readonly open = new Map<string, string>();
  readonly disk: Map<string, string>;
  readonly sent: Sent[] = [];
  /** Each text that a file had, in order. */
  readonly history: Version[];
  readonly server: MemoryServer;
  readonly encoding: Encoding;
  readonly #random: Random;
  /** Where somebody types: the file and the offset. */
  #cursor = { path: '', at: 0 };
  readonly #answers: Promise<void>[] = [];
  #isDiskRead = true;

  private constructor(server: MemoryServer, files: ReadonlyMap<string, string>, encoding: Encoding, random: Random) {
    this.server = server;
    this.disk = new Map(files);
    this.history = [...files].map(([path, text]) => ({ path, text }));
    this.encoding = encoding;
    this.#random = random;
  }

  static async start(files: ReadonlyMap<string, string>, encoding: Encoding, random: Random): Promise<HastyClient> {
    return new HastyClient(await serverFor(files, encoding), files, encoding, random);
  }

  /** Something that a person or an editor does. */
  async step(): Promise<void> {
    const kind = this.#below(100);
    const opened = [...this.open.keys()];
    if (opened.length < 2 || kind < 3) return this.#openOne();
    if (this.open.get(this.#cursor.path) === undefined || kind < 8) this.#moveTo(this.#one(opened));
    if (kind < 38) return this.#type();
    if (kind < 76) return this.#request();
    if (kind < 80) return this.#one(this.sent)?.cancellation.cancel();
    if (kind < 85) return turns(1 + this.#below(6));
    if (kind < 95) return this.#wait();
    if (kind < 96) return this.#close(this.#one(opened));
    if (kind < 97) return this.#write(this.#one(this.#sources()), null);
    if (kind < 98) return this.#move(this.#one(this.#sources()));
    return this.#write(this.#one(this.#sources()), `\n${this.disk.get(this.#one(this.#sources())) ?? ''}`);
  }

  /** When every request has been answered. */
  async settled(): Promise<void> {
    await this.server.settled();
    await Promise.all(this.#answers);
  }

  async #wait(): Promise<void> {
    await this.server.built();
    this.#isDiskRead = true;
  }

  get #now(): Moment {
    return {
      open: new Map(this.open),
      disk: new Map(this.disk),
      count: this.history.length,
      isDiskRead: this.#isDiskRead,
    };
  }

  readonly #below = (count: number): number => below(this.#random, count);

  readonly #one = <T>(all: readonly T[]): T => pick(this.#random, all);

  readonly #sources = (): string[] => [...this.disk.keys()].filter((path) => path.endsWith('.fettle'));

  /** The end of a word, mostly. */
  #moveTo(path: string): void {
    const text = this.open.get(path) ?? '';
    const ends = [...text.matchAll(/\w+/g)].map(({ index, 0: word }) => index + this.#below(word.length + 1));
    this.#cursor = { path, at: this.#below(6) === 0 ? this.#below(text.length + 1) : (this.#one(ends) ?? 0) };
  }

  async #openOne(): Promise<void> {
    const path = this.#one(this.#sources().filter((one) => !this.open.has(one)));
    const text = this.disk.get(path);
    if (text === undefined) return;
    this.open.set(path, text);
    // As clients do, with the version that it had when it was opened before.
    this.#moveTo(path);
    this.history.push({ path, version: 1, text });
    await this.server.openText(path, text, 1);
  }

  async #close(path: string): Promise<void> {
    this.open.delete(path);
    await this.server.closeText(path);
  }

  async #type(): Promise<void> {
    const { path, at } = this.#cursor;
    const kind = this.#below(10);
    const [from, text] =
      kind < 6
        ? [at, this.#one(LETTERS)]
        : kind < 8
          ? [Math.max(0, at - 1 - this.#below(3)), '']
          : [kind === 8 ? at : 0, this.#one(PIECES)];
    await this.#edit(path, from, kind < 8 ? at : from, text);
  }

  async #edit(path: string, from: number, to: number, text: string): Promise<void> {
    const before = this.open.get(path) ?? '';
    // Never through the middle of a character.
    const start = splits(before, from) ? from - 1 : from;
    const end = splits(before, to) ? to + 1 : Math.min(to, before.length);
    const range = { start: positionOf(before, start, this.encoding), end: positionOf(before, end, this.encoding) };
    const edited = before.slice(0, start) + text + before.slice(end);
    this.open.set(path, edited);
    this.#cursor = { path, at: start + text.length };
    const version = (this.history.findLast((one) => one.path === path)?.version ?? 0) + 1;
    this.history.push({ path, version, text: edited });
    await this.server.editText(path, range, text);
  }

  #request(): void {
    const often = `textDocument/${this.#one(WHILE_TYPING)}`;
    const method = this.#below(2) === 0 ? often : this.#one(Object.keys(REQUESTED));
    const params = REQUESTED[method] ?? {};
    if (this.#below(3) === 0) this.#moveTo(this.#one([...this.open.keys()]));
    const { path } = this.#cursor;
    const text = this.open.get(path) ?? '';
    const at = positionOf(text, splits(text, this.#cursor.at) ? this.#cursor.at - 1 : this.#cursor.at, this.encoding);
    const cancellation = new CancellationTokenSource();
    const sent: Sent = { method, path, params, at, before: this.#now, cancellation };
    this.sent.push(sent);
    const answer = this.server.ask(method, paramsOf(sent), cancellation.token);
    this.#answers.push(
      answer.then(
        (result) => {
          sent.answer = result;
          sent.after = this.#now;
        },
        (error) => {
          sent.refusal = error instanceof ResponseError ? error : new ResponseError(0, String(error));
          sent.after = this.#now;
        },
      ),
    );
  }

  /** As another program leaves it. */
  async #write(path: string | undefined, text: string | null): Promise<void> {
    if (path === undefined || this.disk.size < 6) return;
    const key = uriOf(path).path;
    const wasThere = this.disk.has(path);
    this.#isDiskRead = false;
    if (text === null) {
      this.disk.delete(path);
      this.server.files.texts.delete(key);
    } else {
      this.disk.set(path, text);
      // An open text counts more than its file.
      if (!this.open.has(path)) this.history.push({ path, text });
      this.server.files.texts.set(key, text);
    }
    const type = text === null ? FileChangeType.Deleted : wasThere ? FileChangeType.Changed : FileChangeType.Created;
    await this.server.notify([MemoryServer.event(path, type)]);
  }

  async #move(path: string | undefined): Promise<void> {
    const text = path === undefined ? undefined : this.disk.get(path);
    if (path === undefined || text === undefined) return;
    if (this.open.has(path)) await this.#close(path);
    await this.#write(path, null);
    await this.#write(path.replace(/(\w+)\.fettle$/, 'moved_$1.fettle'), text);
  }
}

export const paramsOf = ({ path, params, at }: Pick<Sent, 'path' | 'params' | 'at'>): object => ({
  textDocument: { uri: uriOf(path).toString() },
  position: at,
  positions: [at],
  uri: uriOf(path).toString(),
  build: 'Rafter',
  ...params,
});

export const serverFor = (files: ReadonlyMap<string, string>, encoding: Encoding): Promise<MemoryServer> =>
  MemoryServer.start(
    files,
    new Map(),
    {
      general: { positionEncodings: [encoding] },
      workspace: { workspaceEdit: { documentChanges: true } },
      textDocument: {
        documentSymbol: { hierarchicalDocumentSymbolSupport: true },
        definition: { linkSupport: true },
        rename: { prepareSupport: true },
      },
    },
    { quietWhileTyping: false },
  );

const splits = (text: string, offset: number): boolean => /[\ud800-\udbff]$/.test(text.slice(0, offset)) && offset > 0;

/** Whether there is such a place in a text. */
export function isPlaceIn(text: string, position: Position, encoding: Encoding): boolean {
  const lines = text.split('\n');
  const row = lines[position.line];
  if (row === undefined) return false;
  const there = positionOf(text, offsetOf(text, position, encoding), encoding);
  return there.line === position.line && there.character === position.character;
}
