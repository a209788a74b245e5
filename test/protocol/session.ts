import { mkdirSync, mkdtempSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Readable, Writable } from 'node:stream';
import { pathToFileURL } from 'node:url';
import {
  type ClientCapabilities,
  type CodeLens,
  CodeLensRequest,
  CodeLensResolveRequest,
  type CompletionItem,
  CompletionRequest,
  ConfigurationRequest,
  createProtocolConnection,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  FileChangeType,
  InitializedNotification,
  InitializeRequest,
  type InitializeResult,
  LogMessageNotification,
  Message,
  type Position,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  type Range,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  type TextEdit,
  WorkDoneProgress,
  type WorkDoneProgressBegin,
  WorkDoneProgressCreateRequest,
  type WorkDoneProgressEnd,
  type WorkDoneProgressReport,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { CAPABILITIES } from './client-capabilities.ts';
import { type Serving, served, servedHere } from './session-server.ts';

export interface SessionOptions {
  /** With the built server in a process of its own. */
  readonly alone?: boolean;
  /** Files of the workspace by path, `parts/motors.fettle`. */
  readonly files?: Readonly<Record<string, string>>;
  readonly capabilities?: ClientCapabilities;
  readonly initializationOptions?: Readonly<Record<string, unknown>>;
  /** What the person has set, by section: `{ fettle: { … } }`. */
  readonly settings?: Readonly<Record<string, unknown>>;
  /** Several folders of the workspace, by path, instead of the one around all files. */
  readonly folders?: readonly string[];
  /** What is set in one of them, read anew with each request. */
  readonly settingsIn?: (folder: string) => unknown;
  /** As when a single file is opened. */
  readonly withoutFolder?: boolean;
  /** As clients do that know one folder only. */
  readonly withRootOnly?: boolean;
}

interface Waiter {
  matches: (params: PublishDiagnosticsParams) => boolean;
  settle: (params: PublishDiagnosticsParams) => void;
}

export class Session {
  readonly folder: string;
  readonly connection: ProtocolConnection;
  /** Every message the server has pushed, in order. */
  readonly published: PublishDiagnosticsParams[] = [];
  readonly logged: string[] = [];
  readonly registered: string[] = [];
  readonly progress: (WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd)[] = [];
  /** Ids of the requests that were sent, and how often each was answered. */
  readonly asked: (number | string | null)[] = [];
  readonly answered = new Map<number | string | null, number>();
  /** All that the server has sent by itself, in order. */
  readonly received: { readonly method: string; readonly params: unknown }[] = [];
  /** Whether findings come with the version of their text. */
  readonly #hasVersions: boolean;
  initializeResult!: InitializeResult;
  readonly #server: Serving;
  readonly #texts = new Map<string, TextDocument>();
  /** Of each path, across closing: findings of an earlier text are never taken for those of a later one. */
  readonly #versions = new Map<string, number>();
  readonly #waiters = new Set<Waiter>();

  private constructor(options: SessionOptions) {
    const { textDocument } = options.capabilities ?? CAPABILITIES;
    this.#hasVersions = textDocument?.publishDiagnostics?.versionSupport === true;
    this.folder = mkdtempSync(join(tmpdir(), 'fettle-protocol-'));
    for (const [path, text] of Object.entries(options.files ?? {})) {
      this.writeFile(path, text);
    }
    this.#server = options.alone ? served(this.folder, this.logged) : servedHere(this.logged);
    this.connection = createProtocolConnection(this.#reader(this.#server.output), this.#writer(this.#server.input));
    this.connection.onRequest(RegistrationRequest.type, ({ registrations }) => {
      this.registered.push(...registrations.map((registration) => registration.method));
    });
    this.connection.onRequest(ConfigurationRequest.type, ({ items }) =>
      items.map(({ section = '', scopeUri }) => {
        const folder = options.folders?.find((one) => this.uri(one) === scopeUri);
        return (folder && options.settingsIn?.(folder)) ?? options.settings?.[section] ?? null;
      }),
    );
    this.connection.onRequest(WorkDoneProgressCreateRequest.type, ({ token }) => {
      this.connection.onProgress(WorkDoneProgress.type, token, (step) => {
        this.progress.push(step);
      });
    });
    this.connection.onNotification(LogMessageNotification.type, ({ message }) => {
      this.logged.push(message);
    });
    this.connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
      this.published.push(params);
      for (const waiter of this.#waiters) {
        if (waiter.matches(params)) {
          this.#waiters.delete(waiter);
          waiter.settle(params);
        }
      }
    });
    this.connection.listen();
  }

  #reader(stream: Readable): StreamMessageReader {
    const reader = new StreamMessageReader(stream);
    const listen = reader.listen.bind(reader);
    reader.listen = (take) =>
      listen((message) => {
        if (Message.isRequest(message) || Message.isNotification(message))
          this.received.push({ method: message.method, params: message.params });
        if (Message.isResponse(message)) this.answered.set(message.id, (this.answered.get(message.id) ?? 0) + 1);
        take(message);
      });
    return reader;
  }

  #writer(stream: Writable): StreamMessageWriter {
    const writer = new StreamMessageWriter(stream);
    const write = writer.write.bind(writer);
    writer.write = (message) => {
      if (Message.isRequest(message)) this.asked.push(message.id);
      return write(message);
    };
    return writer;
  }

  static async start(options: SessionOptions = {}): Promise<Session> {
    const session = new Session(options);
    const folderUri = pathToFileURL(session.folder).toString();
    session.initializeResult = await session.#orFail(
      session.connection.sendRequest(InitializeRequest.type, {
        processId: options.alone ? process.pid : null,
        rootUri: options.withoutFolder ? null : folderUri,
        ...(!options.withRootOnly && {
          workspaceFolders: options.withoutFolder
            ? null
            : (options.folders?.map((name) => ({ uri: session.uri(name), name })) ?? [
                { uri: folderUri, name: 'workspace' },
              ]),
        }),
        capabilities: options.capabilities ?? CAPABILITIES,
        // Findings at once: what waits while somebody types is tested in `quiet.test.ts`.
        initializationOptions: { quietWhileTyping: false, ...options.initializationOptions },
      }),
    );
    await session.connection.sendNotification(InitializedNotification.type, {});
    return session;
  }

  /** A server that cannot start reports it instead of keeping us waiting. */
  #orFail<T>(answer: Promise<T>): Promise<T> {
    const failed = this.#server.exited.then((code): never => {
      throw new Error(`the server ended with ${code}: ${this.logged.join('')}`);
    });
    return Promise.race([answer, failed]);
  }

  /** Ends the server the way an editor does; answers its exit code. */
  async stop(): Promise<number | null> {
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.#server.end(this.connection);
    const code = await this.#server.exited;
    this.connection.dispose();
    rmSync(this.folder, { recursive: true, force: true });
    return code;
  }

  get isRunning(): boolean {
    return this.#server.isRunning();
  }

  uri(path: string): string {
    return pathToFileURL(join(this.folder, path)).toString();
  }

  // ---- files on disk ----

  writeFile(path: string, text: string): void {
    const file = join(this.folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }

  async changeFile(path: string, text: string): Promise<void> {
    this.writeFile(path, text);
    await this.sendFileChange(path, FileChangeType.Changed);
  }

  async createFile(path: string, text: string): Promise<void> {
    this.writeFile(path, text);
    await this.sendFileChange(path, FileChangeType.Created);
  }

  async deleteFile(path: string): Promise<void> {
    unlinkSync(join(this.folder, path));
    await this.sendFileChange(path, FileChangeType.Deleted);
  }

  removeFolder(path: string): void {
    rmSync(join(this.folder, path), { recursive: true });
  }

  async sendFileChange(path: string, type: FileChangeType): Promise<void> {
    await this.connection.sendNotification(DidChangeWatchedFilesNotification.type, {
      changes: [{ uri: this.uri(path), type }],
    });
  }

  // ---- open texts ----

  async open(path: string, text: string): Promise<Diagnostic[]> {
    const version = this.#nextVersion(path);
    const document = TextDocument.create(this.uri(path), 'fettle', version, text);
    this.#texts.set(path, document);
    const diagnostics = this.diagnosticsOf(path, version);
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri: document.uri, languageId: 'fettle', version, text },
    });
    return diagnostics;
  }

  #nextVersion(path: string): number {
    const version = (this.#versions.get(path) ?? 0) + 1;
    this.#versions.set(path, version);
    return version;
  }

  /** Replaces a range, or the whole text; answers the findings of the new text. */
  async change(path: string, newText: string, range?: Range): Promise<Diagnostic[]> {
    const diagnostics = this.#hasVersions ? undefined : this.#next((params) => params.uri === this.uri(path));
    const version = await this.changeWithoutWaiting(path, newText, range);
    return diagnostics ?? this.diagnosticsOf(path, version);
  }

  async changeWithoutWaiting(path: string, newText: string, range?: Range): Promise<number> {
    const document = this.document(path);
    const change = range === undefined ? { text: newText } : { range, text: newText };
    const version = this.#nextVersion(path);
    this.#texts.set(path, TextDocument.update(document, [change], version));
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: document.uri, version },
      contentChanges: [change],
    });
    return version;
  }

  async close(path: string): Promise<void> {
    this.#texts.delete(path);
    await this.connection.sendNotification(DidCloseTextDocumentNotification.type, {
      textDocument: { uri: this.uri(path) },
    });
  }

  async closeAll(): Promise<void> {
    for (const path of [...this.#texts.keys()]) {
      await this.close(path);
    }
  }

  document(path: string): TextDocument {
    const document = this.#texts.get(path);
    if (document === undefined) throw new Error(`${path} is not open`);
    return document;
  }

  /** The position behind the first (or n-th) occurrence of a piece of the open text. */
  behind(path: string, piece: string, occurrence = 1): Position {
    return this.document(path).positionAt(this.#find(path, piece, occurrence) + piece.length);
  }

  /** The position of the second character of a piece: safely inside a word. */
  inside(path: string, piece: string, occurrence = 1): Position {
    return this.document(path).positionAt(this.#find(path, piece, occurrence) + 1);
  }

  #find(path: string, piece: string, occurrence: number): number {
    const text = this.document(path).getText();
    let offset = -1;
    for (let count = 0; count < occurrence; count++) {
      offset = text.indexOf(piece, offset + 1);
      if (offset < 0) throw new Error(`${path} has no ${JSON.stringify(piece)} (${occurrence})`);
    }
    return offset;
  }

  textAt(path: string, range: Range): string {
    return this.document(path).getText(range);
  }

  withEdits(path: string, edits: TextEdit[]): string {
    return TextDocument.applyEdits(this.document(path), edits);
  }

  at(path: string, position: Position) {
    return { textDocument: { uri: this.uri(path) }, position };
  }

  async completionsAt(path: string, position: Position): Promise<CompletionItem[]> {
    const answer = await this.connection.sendRequest(CompletionRequest.type, this.at(path, position));
    return Array.isArray(answer) ? answer : (answer?.items ?? []);
  }

  /** Lenses of a file, each as it is when somebody looks at it. */
  async lensesOf(path: string): Promise<CodeLens[]> {
    const textDocument = { uri: this.uri(path) };
    const lenses = (await this.connection.sendRequest(CodeLensRequest.type, { textDocument })) ?? [];
    return Promise.all(
      lenses.map(async (lens) =>
        lens.command === undefined ? this.connection.sendRequest(CodeLensResolveRequest.type, lens) : lens,
      ),
    );
  }

  // ---- findings ----

  /** The findings pushed for a version of an open text; of a client that reads no versions the next ones. */
  diagnosticsOf(path: string, version: number): Promise<Diagnostic[]> {
    if (this.#hasVersions) return this.#pushed(path, (params) => params.version === version);
    return this.#next((params) => params.uri === this.uri(path));
  }

  /** What the client was last reported about a file, as soon as that satisfies a condition. */
  diagnosticsWhere(path: string, holds: (diagnostics: Diagnostic[]) => boolean): Promise<Diagnostic[]> {
    return this.#pushed(path, (params) => holds(params.diagnostics));
  }

  #pushed(path: string, holds: (params: PublishDiagnosticsParams) => boolean): Promise<Diagnostic[]> {
    const uri = this.uri(path);
    const latest = this.published.findLast((params) => params.uri === uri);
    if (latest !== undefined && holds(latest)) return Promise.resolve(latest.diagnostics);
    return this.#next((params) => params.uri === uri && holds(params));
  }

  #next(matches: (params: PublishDiagnosticsParams) => boolean): Promise<Diagnostic[]> {
    return new Promise((resolve) => {
      this.#waiters.add({ matches, settle: (params) => resolve(params.diagnostics) });
    });
  }
}

export function codesOf(diagnostics: readonly Diagnostic[]): string[] {
  return diagnostics.map((diagnostic) => String(diagnostic.code));
}
