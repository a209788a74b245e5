import { describe, expect, test } from 'vitest';
import { MetaModel } from './meta-model.ts';
import { sharedSession } from './one-session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const model = MetaModel.load();
const BUILD = 'builds/rafter.fettle';
const UNLIMITED = RAFTER.replace(' duty 66 %', '').replace('item: Strap', 'item: Strep');
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
const options = { tabSize: 2, insertSpaces: true };

/** Requests with their parameters beside the document; `at` is where the position is. */
const REQUESTS: readonly { method: string; at?: string; params?: object; isEmpty?: boolean }[] = [
  { method: 'textDocument/hover', at: 'Rafter' },
  { method: 'textDocument/completion', at: 'motors' },
  { method: 'textDocument/definition', at: 'M1104_10500' },
  { method: 'textDocument/declaration', at: 'M1104_10500' },
  { method: 'textDocument/typeDefinition', at: 'Slim480_3S' },
  { method: 'textDocument/prepareCallHierarchy', at: 'M1104_10500' },
  { method: 'textDocument/references', at: 'M1104_10500', params: { context: { includeDeclaration: true } } },
  { method: 'textDocument/documentHighlight', at: 'M1104_10500' },
  { method: 'textDocument/prepareRename', at: 'M1104_10500' },
  { method: 'textDocument/rename', at: 'M1104_10500', params: { newName: 'Bat1104' } },
  { method: 'textDocument/documentSymbol' },
  { method: 'textDocument/foldingRange' },
  { method: 'textDocument/selectionRange', params: { positions: [{ line: 4, character: 6 }] } },
  { method: 'textDocument/documentLink' },
  { method: 'textDocument/formatting', params: { options }, isEmpty: true },
  { method: 'textDocument/codeAction', params: { range: everything, context: { diagnostics: [] } } },
  { method: 'textDocument/codeLens' },
  { method: 'textDocument/inlayHint', params: { range: everything } },
  { method: 'textDocument/semanticTokens/full' },
  { method: 'textDocument/semanticTokens/range', params: { range: everything } },
  { method: 'textDocument/diagnostic' },
  { method: 'workspace/diagnostic', params: { previousResultIds: [] } },
  { method: 'workspace/symbol', params: { query: '' } },
];

describe.skipIf(model === undefined)(
  'every message is as the meta-model of the protocol wants it (needs ../shared/reference)',
  () => {
    const theSession = sharedSession({ files: WORKSHOP });

    test('initialize', () => {
      expect(model?.problemsOfResult('initialize', theSession().initializeResult)).toEqual([]);
    });

    test('pushed findings', async () => {
      const session = theSession();
      await session.open(BUILD, UNLIMITED);
      const pushed = session.published.at(-1);
      expect(pushed?.diagnostics.some(({ relatedInformation }) => relatedInformation !== undefined)).toBe(true);
      expect(model?.problemsOfNotification('textDocument/publishDiagnostics', pushed)).toEqual([]);
    });

    test.each(REQUESTS)('$method', async ({ method, at, params, isEmpty }) => {
      const session = theSession();
      await session.open(BUILD, UNLIMITED);
      const path = method === 'textDocument/codeLens' ? 'parts/motors.fettle' : BUILD;
      if (path !== BUILD) {
        await session.open(path, PARTS);
      }
      const position = at === undefined ? {} : { position: session.inside(BUILD, at) };
      const result: unknown = await session.connection.sendRequest(method, {
        ...(method.startsWith('textDocument/') && { textDocument: { uri: session.uri(path) } }),
        ...position,
        ...params,
      });
      const isNothing = result === null || (Array.isArray(result) && result.length === 0);
      expect(isNothing).toBe(isEmpty ?? false);
      expect(model?.problemsOfResult(method, result)).toEqual([]);
    });

    test('call hierarchy and moves', async () => {
      const session = theSession();
      await session.open(BUILD, UNLIMITED);
      const at = session.at(BUILD, session.inside(BUILD, 'M1104_10500'));
      const [item] = await session.connection.sendRequest<object[]>('textDocument/prepareCallHierarchy', at);
      const files = [{ oldUri: session.uri('parts'), newUri: session.uri('shelf') }];
      for (const [method, params] of [
        ['callHierarchy/incomingCalls', { item }],
        ['callHierarchy/outgoingCalls', { item }],
        ['workspace/willRenameFiles', { files }],
      ] as const) {
        const result = await session.connection.sendRequest<unknown>(method, params);
        expect(result).not.toBeNull();
        expect(model?.problemsOfResult(method, result)).toEqual([]);
      }
    });
  },
);
