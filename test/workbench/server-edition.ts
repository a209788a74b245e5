// VS Code's server edition and a browser to look at it with: what a desktop VS Code is elsewhere.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import { CHROMIUM, SERVER_MAIN } from './workbench-places.ts';

const START_LIMIT_MS = 60_000;

export interface Server extends AsyncDisposable {
  readonly host: string;
  /** The workbench on a folder, with further entries of its start payload. */
  address(folder: string, payload: readonly (readonly [string, string])[]): string;
  /** A path of this machine as the workbench names it. */
  remote(path: string): string;
}

/** @param extensionsDir contains what is installed; without it, an empty one. */
export async function startServer(extensionsDir?: string): Promise<Server> {
  const data = mkdtempSync(join(tmpdir(), 'fettle-workbench-'));
  const host = `127.0.0.1:${await freePort()}`;
  const child = spawn(
    process.execPath,
    [
      SERVER_MAIN,
      ...['--host', '127.0.0.1', '--port', host.split(':')[1] ?? ''],
      ...['--server-data-dir', data, '--extensions-dir', extensionsDir ?? join(data, 'extensions')],
      '--without-connection-token',
      '--accept-server-license-terms',
      // Without the driver a built server ignores the paths of extensions under development.
      '--enable-smoke-test-driver',
      '--disable-workspace-trust',
      ...['--telemetry-level', 'off'],
    ],
    { stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const stop = async () => {
    await end(child);
    rmSync(data, { recursive: true, force: true, maxRetries: 5 });
  };
  try {
    await untilListening(child);
  } catch (error) {
    await stop();
    throw error;
  }
  const remote = (path: string) => `vscode-remote://${host}${path}`;
  return {
    host,
    remote,
    address: (folder, payload) => {
      const query = new URLSearchParams({ folder, payload: JSON.stringify([...payload, ['skipWelcome', 'true']]) });
      return `http://${host}/?${query}`;
    },
    [Symbol.asyncDispose]: stop,
  };
}

export function startBrowser(): Promise<Browser> {
  const quiet = [
    'no-first-run',
    'disable-background-networking',
    'disable-component-update',
    'disable-sync',
    'disable-quic',
  ];
  return chromium.launch({
    executablePath: CHROMIUM,
    args: ['--no-sandbox', '--disable-gpu', ...quiet.map((name) => `--${name}`)],
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        address && typeof address === 'object' ? resolve(address.port) : reject(new Error('no port')),
      );
    });
  });
}

function untilListening(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let output = '';
    const fail = (why: string) => reject(new Error(`the workbench server ${why}\n${output}`));
    const limit = setTimeout(() => fail('did not start in time'), START_LIMIT_MS);
    const read = (chunk: Buffer) => {
      output += chunk.toString();
      if (!output.includes('Extension host agent listening')) return;
      clearTimeout(limit);
      resolve();
    };
    child.stdout?.on('data', read);
    child.stderr?.on('data', read);
    child.once('error', (error) => fail(`could not be started: ${error.message}`));
    child.once('exit', (code) => fail(`ended with ${code}`));
  });
}

function end(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once('exit', () => resolve());
    child.kill();
  });
}
