/** A language server's client that only measures. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import {
  createProtocolConnection,
  type Diagnostic,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';

const PATIENCE = 300_000;

export class Client {
  readonly connection: ProtocolConnection;
  readonly #process: ChildProcess;
  readonly #listeners = new Set<(params: PublishDiagnosticsParams) => void>();

  private constructor(command: readonly string[], configuration: Readonly<Record<string, unknown>>) {
    const [program = '', ...args] = command;
    const child = spawn(program, args, { stdio: ['pipe', 'pipe', 'ignore'] });
    this.#process = child;
    this.connection = createProtocolConnection(
      new StreamMessageReader(child.stdout),
      new StreamMessageWriter(child.stdin),
    );
    this.connection.onRequest('client/registerCapability', () => null);
    this.connection.onRequest('window/workDoneProgress/create', () => null);
    this.connection.onRequest('workspace/configuration', (params: { items: { section?: string }[] }) =>
      params.items.map(({ section }) => configuration[section ?? ''] ?? null),
    );
    this.connection.onNotification('textDocument/publishDiagnostics', (params: PublishDiagnosticsParams) => {
      for (const listener of this.#listeners) listener(params);
    });
    this.connection.listen();
  }

  static async start(
    command: readonly string[],
    folder: string,
    configuration: Readonly<Record<string, unknown>> = {},
  ): Promise<Client> {
    const client = new Client(command, configuration);
    const uri = pathToFileURL(folder).toString();
    await client.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri: uri,
      workspaceFolders: [{ uri, name: 'bench' }],
      capabilities: {
        workspace: {
          configuration: true,
          workspaceFolders: true,
          didChangeWatchedFiles: { dynamicRegistration: true },
        },
        textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } },
      },
    });
    await client.connection.sendNotification('initialized', {});
    if (Object.keys(configuration).length > 0)
      await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: configuration });
    return client;
  }

  open(uri: string, languageId: string, text: string): Promise<void> {
    return this.connection.sendNotification('textDocument/didOpen', {
      textDocument: { uri, languageId, version: 1, text },
    });
  }

  change(uri: string, version: number, text: string): Promise<void> {
    return this.connection.sendNotification('textDocument/didChange', {
      textDocument: { uri, version },
      contentChanges: [{ text }],
    });
  }

  /** Resolves once a set of files has been published since the call, with what was published; fails with those that were not. */
  published(
    uris: Iterable<string>,
    matches: (params: PublishDiagnosticsParams) => boolean = () => true,
  ): Promise<Map<string, Diagnostic[]>> {
    const waiting = new Set(uris);
    const reported = new Map<string, Diagnostic[]>();
    return new Promise((resolve, reject) => {
      const late = setTimeout(() => {
        const missing = [...waiting];
        reject(new Error(`${missing.length} files are not published within ${PATIENCE / 1000} s: ${missing[0]} …`));
      }, PATIENCE);
      const listener = (params: PublishDiagnosticsParams): void => {
        if (!waiting.has(params.uri) || !matches(params)) return;
        reported.set(params.uri, params.diagnostics);
        waiting.delete(params.uri);
        if (waiting.size > 0) return;
        clearTimeout(late);
        this.#listeners.delete(listener);
        resolve(reported);
      };
      this.#listeners.add(listener);
    });
  }

  /** Resident memory, MB; undefined where the system does not report it. */
  memory(): number | undefined {
    try {
      const kilobytes = /VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${this.#process.pid}/status`, 'utf8'))?.[1];
      return kilobytes === undefined ? undefined : Number(kilobytes) / 1024;
    } catch {
      return undefined;
    }
  }

  /** Processor time of the server so far, s, which a busy machine falsifies less than a clock; undefined where the system does not report it. */
  processorTime(): number | undefined {
    try {
      // Behind the name in brackets; clock ticks are hundredths of a second on Linux.
      const fields = readFileSync(`/proc/${this.#process.pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ') ?? [];
      return (Number(fields[11]) + Number(fields[12])) / 100;
    } catch {
      return undefined;
    }
  }

  stop(): void {
    this.connection.dispose();
    this.#process.kill();
  }
}
