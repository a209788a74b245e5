/** The real server in this process, over streams, with its files in memory: hundreds of servers a minute, as a law over random edits needs. */
import { PassThrough } from 'node:stream';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import {
  type CancellationToken,
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  DocumentHighlightRequest,
  FileChangeType,
  type FileEvent,
  InitializedNotification,
  InitializeRequest,
  LogMessageNotification,
  Message,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type Range,
  RegistrationRequest,
  type ServerCapabilities,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { startServer } from '../../packages/language/src/editor/start.ts';
import { MemoryFiles, uriOf } from '../references/memory-workspace.ts';

export type Texts = ReadonlyMap<string, string>;

/** What a client shows at a file; what was never reported and what was taken back are the same. */
export type Shown = ReadonlyMap<string, readonly Diagnostic[]>;

/** Its time passes when a test has it pass. */
class StillClock {
  #now = 0;
  readonly #acts = new Set<{ readonly at: number; readonly act: () => void }>();

  now(): number {
    return this.#now;
  }

  after(ms: number, act: () => void): () => void {
    const planned = { at: this.#now + ms, act };
    this.#acts.add(planned);
    return () => this.#acts.delete(planned);
  }

  elapse(ms: number): void {
    const end = this.#now + ms;
    for (;;) {
      const due = [...this.#acts].filter(({ at }) => at <= end).toSorted((one, other) => one.at - other.at)[0];
      if (due === undefined) break;
      this.#acts.delete(due);
      this.#now = due.at;
      due.act();
    }
    this.#now = end;
  }
}

export class MemoryServer {
  readonly files = new MemoryFiles();
  readonly logged: string[] = [];
  /** What the server has offered. */
  offered: ServerCapabilities = {};
  readonly #server: ReturnType<typeof startServer>;
  readonly #client: ProtocolConnection;
  readonly #streams: PassThrough[];
  readonly #clock = new StillClock();
  readonly #versions = new Map<string, number>();
  readonly #open = new Set<string>();
  readonly #texts = new Map<string, string>();
  readonly #reported = new Map<string, readonly Diagnostic[]>();
  readonly #sentVersions = new Map<string, number>();
  /** How often the server has answered each request, by its number. */
  readonly answered = new Map<number | string | null, number>();
  /** Versions of open texts in the order in which they were answered. */
  readonly answers: { readonly uri: string; readonly version: number }[] = [];

  private constructor(files: Texts) {
    for (const [path, text] of files) this.files.texts.set(uriOf(path).path, text);
    const [up, down] = [new PassThrough(), new PassThrough()];
    this.#streams = [up, down];
    const connection = createConnection(
      ProposedFeatures.all,
      new StreamMessageReader(up),
      new StreamMessageWriter(down),
    );
    this.#server = startServer(connection, this.files);
    this.#server.lsp.Writing.keepTimeBy(this.#clock);
    this.#client = createProtocolConnection(this.#countingReader(down), new StreamMessageWriter(up));
    this.#client.onRequest(RegistrationRequest.type, () => undefined);
    this.#client.onNotification(LogMessageNotification.type, ({ message }) => {
      this.logged.push(message);
    });
    this.#client.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics, version }) => {
      this.#reported.set(uri, diagnostics);
      if (version === undefined) return;
      this.#sentVersions.set(uri, version);
      this.answers.push({ uri, version });
    });
    this.#client.listen();
  }

  #countingReader(stream: PassThrough): StreamMessageReader {
    const reader = new StreamMessageReader(stream);
    const listen = reader.listen.bind(reader);
    reader.listen = (take) =>
      listen((message) => {
        if (Message.isResponse(message)) this.answered.set(message.id, (this.answered.get(message.id) ?? 0) + 1);
        take(message);
      });
    return reader;
  }

  static async start(
    files: Texts,
    open: Texts = new Map(),
    more: ClientCapabilities = {},
    initializationOptions: Readonly<Record<string, unknown>> = {},
  ): Promise<MemoryServer> {
    const server = new MemoryServer(files);
    const uri = uriOf('').toString();
    const { capabilities } = await server.#client.sendRequest(InitializeRequest.type, {
      processId: null,
      rootUri: uri,
      workspaceFolders: [{ uri, name: 'home' }],
      initializationOptions,
      capabilities: {
        ...(more.general && { general: more.general }),
        workspace: { didChangeWatchedFiles: { dynamicRegistration: true }, workspaceFolders: true, ...more.workspace },
        textDocument: {
          publishDiagnostics: { relatedInformation: true, versionSupport: true },
          codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
          completion: { completionItem: { snippetSupport: true } },
          hover: { contentFormat: ['markdown'] },
          ...more.textDocument,
        },
      },
    });
    server.offered = capabilities;
    await server.#client.sendNotification(InitializedNotification.type, {});
    for (const [path, text] of open) await server.openText(path, text);
    await server.settled();
    return server;
  }

  /** @param version where it is not the next one: a client may begin anew when it opens a file again */
  async openText(path: string, text: string, version = this.#nextVersion(path)): Promise<void> {
    this.#versions.set(path, version);
    this.#open.add(path);
    this.#texts.set(path, text);
    await this.#client.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri: uriOf(path).toString(), languageId: 'fettle', version, text },
    });
  }

  async changeText(path: string, text: string): Promise<void> {
    await this.#client.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: uriOf(path).toString(), version: this.#nextVersion(path) },
      contentChanges: [{ text }],
    });
  }

  /** A piece of an open text becomes another. */
  async editText(path: string, range: Range, text: string): Promise<void> {
    await this.#client.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: uriOf(path).toString(), version: this.#nextVersion(path) },
      contentChanges: [{ range, text }],
    });
  }

  /** A key at the end of an open text. */
  async typeText(path: string, key: string): Promise<void> {
    const text = this.#texts.get(path) ?? '';
    const lines = text.split('\n');
    const end = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
    this.#texts.set(path, text + key);
    await this.#client.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: uriOf(path).toString(), version: this.#nextVersion(path) },
      contentChanges: [{ range: { start: end, end }, text: key }],
    });
  }

  async closeText(path: string): Promise<void> {
    this.#open.delete(path);
    await this.#client.sendNotification(DidCloseTextDocumentNotification.type, {
      textDocument: { uri: uriOf(path).toString() },
    });
  }

  async notify(changes: readonly FileEvent[]): Promise<void> {
    await this.#client.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [...changes] });
  }

  static event(path: string, type: FileChangeType): FileEvent {
    return { uri: uriOf(path).toString(), type };
  }

  #nextVersion(path: string): number {
    const version = (this.#versions.get(path) ?? 0) + 1;
    this.#versions.set(path, version);
    return version;
  }

  /** The person sets something for all folders. */
  async configure(fettle: object): Promise<void> {
    await this.#client.sendNotification(DidChangeConfigurationNotification.type, { settings: { fettle } });
  }

  /** Once everything that was reported so far is followed, what was delayed has come, and all of it has come back. */
  async settled(): Promise<void> {
    await this.built();
    this.#server.lsp.Writing.rest();
    await this.#roundTrip();
  }

  /** So much time passes at the clock by which the server waits; building takes none. */
  async elapse(ms: number): Promise<void> {
    this.#clock.elapse(ms);
    await this.#roundTrip();
  }

  /** Once everything that was reported so far is followed and its findings have come back. */
  async built(): Promise<void> {
    const { DocumentBuilder, WorkspaceLock, WorkspaceManager } = this.#server.workspace;
    await this.#roundTrip();
    await WorkspaceManager.ready;
    for (let quiet = 0; quiet < 2; ) {
      await turns(2);
      await WorkspaceLock.read(() => undefined);
      quiet = DocumentBuilder.isIdle ? quiet + 1 : 0;
    }
    await this.#roundTrip();
  }

  /** Messages keep their order: once a question is answered, even with a refusal, what was sent before has arrived. */
  async #roundTrip(): Promise<void> {
    await this.#client.sendRequest('fettle/nothing').catch(() => undefined);
  }

  /** What is reported meanwhile waits behind a build. */
  async whileBusy(report: () => Promise<void>): Promise<void> {
    const { WorkspaceLock } = this.#server.workspace;
    let isOver = false;
    const building = WorkspaceLock.write(async () => {
      while (!isOver) await turns(1);
    });
    await report();
    await this.#roundTrip();
    isOver = true;
    await building;
  }

  /** The client's cursor is at the beginning of a line. */
  async seeCursor(path: string, line: number): Promise<void> {
    const textDocument = { uri: uriOf(path).toString() };
    await this.#client.sendRequest(DocumentHighlightRequest.type, { textDocument, position: { line, character: 0 } });
    await this.#roundTrip();
  }

  /** Another program writes a file. */
  async writeFile(path: string, text: string): Promise<void> {
    this.files.texts.set(uriOf(path).path, text);
    await this.notify([MemoryServer.event(path, FileChangeType.Changed)]);
  }

  /** As another program does. */
  async deleteFile(path: string): Promise<void> {
    this.files.texts.delete(uriOf(path).path);
    await this.notify([MemoryServer.event(path, FileChangeType.Deleted)]);
  }

  /** Of what a file is reported; not of what is estimated in it. */
  codesOf(path: string): string[] {
    const reported = this.#reported.get(uriOf(path).toString()) ?? [];
    return reported.flatMap(({ code }) => (code === 'estimates' ? [] : [String(code)]));
  }

  get shown(): Shown {
    return new Map([...this.#reported].filter(([, diagnostics]) => diagnostics.length > 0));
  }

  /** Open files whose last version was never answered. */
  get unanswered(): string[] {
    return [...this.#open].filter(
      (path) => this.#sentVersions.get(uriOf(path).toString()) !== this.#versions.get(path),
    );
  }

  /** A request as a client sends it; a refusal is thrown. */
  ask<R>(method: string, params: unknown, cancellation?: CancellationToken): Promise<R> {
    return cancellation
      ? this.#client.sendRequest(method, params, cancellation)
      : this.#client.sendRequest(method, params);
  }

  stop(): void {
    this.#client.dispose();
    for (const stream of this.#streams) stream.destroy();
  }
}

export async function turns(count: number): Promise<void> {
  for (let turn = 0; turn < count; turn++) await new Promise((resolve) => setImmediate(resolve));
}
