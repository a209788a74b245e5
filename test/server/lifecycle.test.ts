import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { sessions } from '../protocol/one-session.ts';

const COMMAND = fileURLToPath(new URL('../../packages/language/bin/fettle.js', import.meta.url));

const start = sessions({ alone: true });

test('reports its name and what it can do', async () => {
  const { initializeResult } = await start();
  // The version of the same build of the command, with its commit where there is one.
  const { stdout } = spawnSync(process.execPath, [COMMAND, '--version'], { encoding: 'utf8' });
  expect(stdout).toMatch(/^\d+\.\d+\.\d+/);
  expect(initializeResult.serverInfo).toEqual({ name: 'fettle', version: stdout.trim() });
  expect(initializeResult.capabilities).toMatchObject({
    positionEncoding: 'utf-16',
    textDocumentSync: { openClose: true, change: 2 },
    selectionRangeProvider: true,
    workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
  });
});

test('ends with exit code 0 after shutdown', async () => {
  const session = await start();
  expect(await session.stop()).toBe(0);
});
