/** A client that gets the outer form of its messages wrong: it is reported, and the session goes on. */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { afterEach, expect, test } from 'vitest';
import { command } from '../cli/command.ts';

let server: ChildProcessWithoutNullStreams;
let out = '';

afterEach(() => {
  server.kill();
});

function start(): void {
  out = '';
  server = spawn(process.execPath, [command, 'serve', '--stdio']);
  server.stdout.on('data', (data) => {
    out += String(data);
  });
}

const message = (body: object): string => JSON.stringify({ jsonrpc: '2.0', ...body });
const frame = (body: string, length = Buffer.byteLength(body)): string => `Content-Length: ${length}\r\n\r\n${body}`;
const INITIALIZE = message({
  id: 7,
  method: 'initialize',
  params: { processId: null, rootUri: null, capabilities: {} },
});
const answered = (id: number | null) =>
  expect.poll(() => out, { timeout: 50_000 }).toMatch(new RegExp(`"id":${id}[,}]`));

test.each([-40, -1, 1, 30, 5_000])('a header that is wrong by %i', async (wrong) => {
  start();
  server.stdin.write(frame(INITIALIZE));
  await answered(7);
  const symbols = { textDocument: { uri: 'file:///nowhere.fettle' } };
  const requested = message({ id: 8, method: 'textDocument/documentSymbol', params: symbols });
  server.stdin.write(frame(requested, Buffer.byteLength(requested) + wrong));
  server.stdin.write(frame(message({ id: 9, method: 'shutdown' })));
  await answered(9);
  expect(out).toContain('"code":-32700');
});

test('a request before initialize is refused, a notification is left alone, and initialize is answered then', async () => {
  start();
  const hover = { textDocument: { uri: 'file:///nowhere.fettle' }, position: { line: 0, character: 0 } };
  server.stdin.write(frame(message({ method: 'textDocument/didOpen', params: {} })));
  server.stdin.write(frame(message({ id: 3, method: 'textDocument/hover', params: hover })));
  await answered(3);
  expect(out).toContain('"code":-32002');
  server.stdin.write(frame(INITIALIZE));
  await answered(7);
  server.stdin.write(frame(message({ id: 4, method: 'shutdown' })));
  await answered(4);
});

test('messages that come in pieces, with letters of several bytes', async () => {
  start();
  const bytes = Buffer.from(frame(INITIALIZE) + frame(message({ id: 11, method: 'nowhere/🦇', params: {} })));
  for (let at = 0; at < bytes.length; at += 7) server.stdin.write(bytes.subarray(at, at + 7));
  await answered(11);
  expect(out).not.toContain('-32700');
});
