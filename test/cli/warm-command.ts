/**
 * The built command, run again and again by one process: what takes a person's run most of its time is starting and compiling, which a
 * thousand runs need not repeat. Each run evaluates the bundle's entry anew, with its own folder, arguments and environment, and nothing of
 * it is replaced; `warm-command.test.ts` compares it with the output of a process of its own.
 */
import { join } from 'node:path';
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';

export interface WarmRun {
  readonly folder: string;
  readonly args: readonly string[];
  readonly environment: NodeJS.ProcessEnv;
}

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export interface ProxyData {
  readonly port: MessagePort;
  readonly arrived: Int32Array<SharedArrayBuffer>;
}

interface Host {
  readonly worker: Worker;
  readonly port: MessagePort;
  readonly arrived: Int32Array<SharedArrayBuffer>;
}

let host: Host | undefined;

function start(): Host {
  const { port1, port2 } = new MessageChannel();
  const arrived = new Int32Array(new SharedArrayBuffer(4));
  const data: ProxyData = { port: port2, arrived };
  const worker = new Worker(join(import.meta.dirname, 'warm-proxy.ts'), { workerData: data, transferList: [port2] });
  worker.unref();
  port1.unref();
  return { worker, port: port1, arrived };
}

/** Waits for the run to end. For commands that end by themselves and read nothing. */
export function runWarm(run: WarmRun): Ran {
  host ??= start();
  const { port, arrived } = host;
  Atomics.store(arrived, 0, 0);
  port.postMessage(run);
  Atomics.wait(arrived, 0, 0, 120_000);
  const answer: { message: Ran } | undefined = receiveMessageOnPort(port);
  if (!answer) throw new Error(`fettle ${run.args.join(' ')}: no answer in two minutes`);
  return answer.message;
}
