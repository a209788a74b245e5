/** `fettle serve`: an editor that starts the command has the server on its streams. */
import { spawn } from 'node:child_process';
import { afterAll, expect, it } from 'vitest';
import {
  createProtocolConnection,
  ExitNotification,
  InitializeRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { command, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

it.each([[['--stdio']], [[]]])('with the arguments %j it answers a client, and ends with it', async (args) => {
  const server = spawn(process.execPath, [command, 'serve', ...args], { cwd: shop.folder });
  const exited = new Promise((resolve) => server.on('exit', resolve));
  const connection = createProtocolConnection(
    new StreamMessageReader(server.stdout),
    new StreamMessageWriter(server.stdin),
  );
  connection.listen();
  const { serverInfo } = await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    capabilities: {},
  });
  expect(serverInfo?.name).toBe('fettle');
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  expect(await exited).toBe(0);
  connection.dispose();
});
