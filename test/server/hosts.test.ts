/** The server in its other hosts: a child process with Node's own channel, and a worker of a browser that has no disk. */
import { fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createContext, runInContext } from 'node:vm';
import { expect, onTestFinished, test } from 'vitest';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createProtocolConnection,
  type DataCallback,
  type Diagnostic,
  DidChangeWatchedFilesNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  FileChangeType,
  InitializedNotification,
  InitializeRequest,
  IPCMessageReader,
  IPCMessageWriter,
  type Message,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  ShutdownRequest,
} from 'vscode-languageserver-protocol/node';
import { codesOf } from '../protocol/session.ts';
import { RAFTER, WORKSHOP } from '../protocol/workshop.ts';

const dist = (name: string) => fileURLToPath(new URL(`../../packages/language/dist/${name}`, import.meta.url));

test('talks over the channel that Node opens to a forked process', async () => {
  const server = fork(dist('server.js'), ['--node-ipc'], { silent: true });
  const exited = new Promise((resolve) => server.on('exit', resolve));
  const connection = createProtocolConnection(new IPCMessageReader(server), new IPCMessageWriter(server));
  connection.listen();
  const result = await connection.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: null,
    capabilities: {},
  });
  expect(result.serverInfo?.name).toBe('fettle');
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  expect(await exited).toBe(0);
});

/** The page's end of a worker. */
class PageReader extends AbstractMessageReader {
  receive: DataCallback = () => {};

  listen(callback: DataCallback) {
    this.receive = callback;
    return { dispose: () => {} };
  }
}

class PageWriter extends AbstractMessageWriter {
  readonly #post: (message: Message) => void;

  constructor(post: (message: Message) => void) {
    super();
    this.#post = post;
  }

  async write(message: Message): Promise<void> {
    this.#post(message);
  }

  end(): void {}
}

/** Runs the worker's script with what a worker has, and nothing of Node. */
function startWorker() {
  const reader = new PageReader();
  // A structured clone, as between a page and its worker.
  const toPage = (message: unknown) => setTimeout(() => reader.receive(structuredClone(message) as Message), 0);
  const worker: Record<string, unknown> & { onmessage?: (event: { data: unknown }) => void } = {
    ...{ postMessage: toPage, console, setTimeout, clearTimeout, queueMicrotask, performance },
    ...{ TextEncoder, TextDecoder, URL, structuredClone, addEventListener: () => {}, importScripts: () => {} },
  };
  Object.assign(worker, { self: worker });
  runInContext(readFileSync(dist('server.js'), 'utf8'), createContext(worker));
  const toWorker = (message: unknown) => setTimeout(() => worker.onmessage?.({ data: structuredClone(message) }), 0);
  return createProtocolConnection(reader, new PageWriter(toWorker));
}

/** A process on Node for a workspace that is on no disk. */
function startProcess() {
  const server = fork(dist('server.js'), ['--client-files', '--node-ipc'], { silent: true });
  const connection = createProtocolConnection(new IPCMessageReader(server), new IPCMessageWriter(server));
  onTestFinished(() => {
    server.kill();
  });
  return connection;
}

test('a worker in a browser requests files from the client, and gives the same findings', () =>
  findsOver(startWorker()));

test('so does a process on Node in a virtual workspace', () => findsOver(startProcess()));

async function findsOver(connection: ProtocolConnection): Promise<void> {
  const files = new Map(Object.entries(WORKSHOP).map(([path, text]) => [`vscode-vfs://repo/shed/${path}`, text]));
  const reported = new Map<string, Diagnostic[]>();
  connection.onRequest(RegistrationRequest.type, () => {});
  connection.onRequest('fettle/listFiles', ({ folder }: { folder: string }) => ({
    uris: [...files.keys()].filter((uri) => uri.startsWith(`${folder}/`)),
  }));
  connection.onRequest('fettle/readFile', ({ uri }: { uri: string }) => {
    const text = files.get(uri);
    if (text === undefined) throw new Error('no such file');
    return { text };
  });
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
    reported.set(uri, diagnostics);
  });
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: 'vscode-vfs://repo/shed',
    workspaceFolders: [{ uri: 'vscode-vfs://repo/shed', name: 'shed' }],
    capabilities: { textDocument: { publishDiagnostics: {} } },
  });
  await connection.sendNotification(InitializedNotification.type, {});
  const uri = 'vscode-vfs://repo/shed/builds/rafter.fettle';
  await connection.sendNotification(DidOpenTextDocumentNotification.type, {
    textDocument: { uri, languageId: 'fettle', version: 1, text: RAFTER.replace(' duty 58 %', '') },
  });
  await expect.poll(() => codesOf(reported.get(uri) ?? [])).toContain('motor-overvoltage');

  const motors = 'vscode-vfs://repo/shed/parts/motors.fettle';
  files.set(motors, WORKSHOP['parts/motors.fettle'].replace('rated: 3S', 'rated: 5S'));
  await connection.sendNotification(DidChangeWatchedFilesNotification.type, {
    changes: [{ uri: motors, type: FileChangeType.Changed }],
  });
  await expect.poll(() => codesOf(reported.get(uri) ?? [])).not.toContain('motor-overvoltage');

  const reportedTo = async (at: string, type: FileChangeType) =>
    connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [{ uri: at, type }] });
  const messages = (at: string) => (reported.get(at) ?? []).map(({ message }) => message);

  // Rows in a file of their own are missed, found, and missed again.
  const stand = 'vscode-vfs://repo/shed/parts/stand.fettle';
  const rows = 'vscode-vfs://repo/shed/parts/stand.csv';
  const bench = 'motor: M1506_3900\n  propeller: P3022x3\n  rows duty in %, thrust in gf from "stand.csv"';
  files.set(stand, `bench Stand {\n  ${bench}\n}\n`);
  await reportedTo(stand, FileChangeType.Created);
  await expect.poll(() => messages(stand)).toEqual(['no such file: stand.csv']);
  files.set(rows, '50, 40\n');
  await reportedTo(rows, FileChangeType.Created);
  await expect.poll(() => messages(stand)).toEqual([]);

  // What comes and goes at once is gone, although it was still there to be read.
  const flash = 'vscode-vfs://repo/shed/parts/flash.fettle';
  files.set(flash, 'motor Flash { kv: 1 }\n');
  await reportedTo(flash, FileChangeType.Created);
  await reportedTo(flash, FileChangeType.Deleted);
  files.delete(rows);
  await reportedTo(rows, FileChangeType.Deleted);
  await expect.poll(() => messages(stand)).toEqual(['no such file: stand.csv']);
  expect(await connection.sendRequest('workspace/symbol', { query: 'Flash' })).toEqual([]);

  await expect(connection.sendRequest('fettle/review', { uri })).rejects.toThrow('needs git');
  connection.dispose();
}
