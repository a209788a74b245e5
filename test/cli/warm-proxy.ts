/** Between a test, which waits, and the process that runs the command. */
import { fork } from 'node:child_process';
import { join } from 'node:path';
import { workerData } from 'node:worker_threads';
import type { ProxyData, Ran, WarmRun } from './warm-command.ts';

const { port, arrived }: ProxyData = workerData;

let child = start();

function answer(ran: Ran): void {
  port.postMessage(ran);
  Atomics.store(arrived, 0, 1);
  Atomics.notify(arrived, 0);
}

function start(): ReturnType<typeof fork> {
  const started = fork(join(import.meta.dirname, 'warm-host.ts'), { stdio: ['ignore', 'pipe', 'pipe', 'ipc'] });
  started.on('message', (ran: Ran) => answer(ran));
  started.on('exit', (code) => {
    child = start();
    answer({ code, out: '', err: 'the process that runs the command ended' });
  });
  return started;
}

port.on('message', (run: WarmRun) => child.send(run));
