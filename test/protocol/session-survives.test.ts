/** What a mistake of ours, or a disk that fails, costs: an answer or a file, never the session. */
import { PassThrough } from 'node:stream';
import type { URI } from 'langium';
import { expect, test } from 'vitest';
import { createConnection } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  HoverRequest,
  InitializedNotification,
  InitializeRequest,
  LogMessageNotification,
  LSPErrorCodes,
  PublishDiagnosticsNotification,
  ResponseError,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { reporting } from '../../packages/language/src/editor/error-reporting.ts';
import { startServer } from '../../packages/language/src/editor/start.ts';
import { NodeFiles } from '../../packages/language/src/workspace/node-files.ts';

test('with a disk on which everything fails, open texts are still checked and explained', async () => {
  const [toServer, toClient] = [new PassThrough(), new PassThrough()];
  // Whether something exists can always be queried; everything else throws.
  const failing = new Proxy(new NodeFiles(), {
    get: (files, key) => {
      if (key === 'existsSync' || key === 'realSync') return (uri: URI) => (key === 'existsSync' ? true : uri);
      return typeof Reflect.get(files, key) === 'function'
        ? () => {
            throw new Error('the disk is on fire');
          }
        : undefined;
    },
  });
  startServer(createConnection(toServer, toClient), failing);
  const client = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  client.onNotification(LogMessageNotification.type, () => {});
  const uri = 'file:///shed/a.fettle';
  const found = new Promise<string[]>((resolve) =>
    client.onNotification(PublishDiagnosticsNotification.type, (params) => {
      resolve(params.diagnostics.map(({ code }) => String(code)));
    }),
  );
  client.listen();
  const workspaceFolders = [{ uri: 'file:///shed', name: 'shed' }];
  await client.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: null,
    workspaceFolders,
    capabilities: { textDocument: { hover: { contentFormat: ['markdown'] } } },
  });
  await client.sendNotification(InitializedNotification.type, {});
  await client.sendNotification(DidOpenTextDocumentNotification.type, {
    textDocument: { uri, languageId: 'fettle', version: 1, text: 'item Strap { mass: 1.6 mm }\n' },
  });
  expect(await found).toEqual(['wrong-dimension']);
  const hover = await client.sendRequest(HoverRequest.type, {
    textDocument: { uri },
    position: { line: 0, character: 6 },
  });
  expect(JSON.stringify(hover)).toContain('**item Strap**');
  client.dispose();
});

test('what a provider throws is logged and passed on; a refusal is only passed on', async () => {
  const logged: unknown[] = [];
  const log = console.error;
  console.error = (message: unknown) => logged.push(message);
  try {
    const provider = reporting({
      title: 'a provider',
      answer: (value: number) => value,
      fail: (): void => {
        throw new Error('oops');
      },
      failLater: async (): Promise<void> => {
        throw new Error('oops');
      },
      refuse: (): void => {
        throw new ResponseError(LSPErrorCodes.RequestFailed, 'taken');
      },
    });
    expect(provider.title).toBe('a provider');
    expect(provider.answer(3)).toBe(3);
    expect(() => provider.fail()).toThrow('oops');
    await expect(provider.failLater()).rejects.toThrow('oops');
    expect(() => provider.refuse()).toThrow('taken');
    expect(logged).toEqual(['Internal error in Object.fail:', 'Internal error in Object.failLater:']);
  } finally {
    console.error = log;
  }
});
