/** The server of a session: the one of the sources in this process, or the built one in a process of its own, over stdio. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { PassThrough, type Readable, type Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import {
  ExitNotification,
  type ProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { compareWithCommit } from '../../packages/language/src/editor/committed/compare-versions.ts';
import { startServer } from '../../packages/language/src/editor/start.ts';
import { reportChanges } from '../../packages/language/src/workspace/folder-changes.ts';
import { NodeFiles } from '../../packages/language/src/workspace/node-files.ts';

const SERVER = fileURLToPath(new URL('../../packages/language/dist/server.js', import.meta.url));
const REFERENCE = new URL('../../packages/language/reference/', import.meta.url).href;

export interface Serving {
  readonly input: Writable;
  readonly output: Readable;
  readonly exited: Promise<number | null>;
  end(client: ProtocolConnection): Promise<void>;
  isRunning(): boolean;
}

export function served(folder: string, logged: string[]): Serving {
  const server: ChildProcessWithoutNullStreams = spawn(process.execPath, [SERVER, '--stdio'], { cwd: folder });
  server.stderr.on('data', (data: Buffer) => logged.push(data.toString()));
  return {
    input: server.stdin,
    output: server.stdout,
    exited: new Promise((resolve) => server.on('exit', resolve)),
    end: (client) => client.sendNotification(ExitNotification.type),
    isRunning: () => server.exitCode === null,
  };
}

/** Logs of the clients whose servers run in this process; they receive what these servers print. */
const logs = new Set<string[]>();
const printed = { error: console.error, warn: console.warn };

function take(logged: string[]): void {
  logs.add(logged);
  if (logs.size > 1) return;
  for (const level of ['error', 'warn'] as const) {
    printed[level] = console[level];
    console[level] = (...words: unknown[]) => {
      for (const log of logs) log.push(words.map(String).join(' '));
      printed[level](...words);
    };
  }
}

function leave(logged: string[]): void {
  logs.delete(logged);
  if (logs.size === 0) Object.assign(console, printed);
}

/** A notification `exit` would end this process: the streams end instead. */
export function servedHere(logged: string[]): Serving {
  const [input, output] = [new PassThrough(), new PassThrough()];
  const connection = createConnection(
    ProposedFeatures.all,
    new StreamMessageReader(input),
    new StreamMessageWriter(output),
  );
  let isRunning = true;
  let ended: (code: number) => void = () => undefined;
  take(logged);
  startServer(connection, new NodeFiles(), {
    reviewer: compareWithCommit,
    watch: (folders, report) => reportChanges(folders, (changes) => isRunning && report(changes)),
    reference: REFERENCE,
  });
  return {
    input,
    output,
    exited: new Promise((resolve) => {
      ended = resolve;
    }),
    end: async () => {
      input.end();
      // What a server sends to a client that has ended is read by nobody.
      output.removeAllListeners('data').resume();
      leave(logged);
      isRunning = false;
      ended(0);
    },
    isRunning: () => isRunning,
  };
}
