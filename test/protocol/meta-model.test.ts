import { describe, expect, test } from 'vitest';
import { MetaModel } from './meta-model.ts';
import { sharedSession } from './one-session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const model = MetaModel.load();
const BUILD = 'builds/rafter.fettle';
const UNLIMITED = RAFTER.replace(' duty 58 %', '').replace('item: Strap', 'item: Strep');
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
const options = { tabSize: 2, insertSpaces: true };

/** Requests with their parameters besides the document; `at` is where the position is. */
const REQUESTS: readonly { method: string; at?: string; params?: object; isEmpty?: boolean }[] = [
  { method: 'textDocument/hover', at: 'Rafter' },
  { method: 'textDocument/completion', at: 'motors' },
  { method: 'textDocument/definition', at: 'M1506_3900' },
  { method: 'textDocument/declaration', at: 'M1506_3900' },
  { method: 'textDocument/typeDefinition', at: 'Slim900_5S' },
  { method: 'textDocument/implementation', at: 'M1506_3900' },
  { method: 'textDocument/prepareCallHierarchy', at: 'M1506_3900' },
  { method: 'textDocument/prepareTypeHierarchy', at: 'M1506_3900' },
  { method: 'textDocument/references', at: 'M1506_3900', params: { context: { includeDeclaration: true } } },
  { method: 'textDocument/documentHighlight', at: 'M1506_3900' },
  { method: 'textDocument/prepareRename', at: 'M1506_3900' },
  { method: 'textDocument/rename', at: 'M1506_3900', params: { newName: 'Bat1506' } },
  { method: 'textDocument/documentSymbol' },
  { method: 'textDocument/foldingRange' },
  { method: 'textDocument/selectionRange', params: { positions: [{ line: 4, character: 6 }] } },
  { method: 'textDocument/documentLink' },
  { method: 'textDocument/formatting', params: { options }, isEmpty: true },
  { method: 'textDocument/codeAction', params: { range: everything, context: { diagnostics: [] } } },
  { method: 'textDocument/codeLens' },
  { method: 'textDocument/inlayHint', params: { range: everything } },
  { method: 'textDocument/signatureHelp', at: 'Slim900_5S' },
  { method: 'textDocument/semanticTokens/full' },
  { method: 'textDocument/semanticTokens/full/delta', params: { previousResultId: '' } },
  { method: 'textDocument/semanticTokens/range', params: { range: everything } },
  { method: 'textDocument/diagnostic' },
  { method: 'workspace/diagnostic', params: { previousResultIds: [] } },
  { method: 'workspace/symbol', params: { query: '' } },
  { method: 'textDocument/rangeFormatting', params: { range: everything, options }, isEmpty: true },
  { method: 'textDocument/onTypeFormatting', at: 'motors', params: { ch: '\n', options }, isEmpty: true },
];

/** Sent with what another answer contains. */
const RESOLVED = [
  { list: 'textDocument/completion', at: 'motors', method: 'completionItem/resolve' },
  { list: 'textDocument/codeLens', method: 'codeLens/resolve' },
  {
    list: 'textDocument/codeAction',
    method: 'codeAction/resolve',
    params: { range: everything, context: { diagnostics: [], only: ['refactor.rewrite', 'quickfix'] } },
  },
] as const;

const FURTHER = [
  'callHierarchy/incomingCalls',
  'callHierarchy/outgoingCalls',
  'typeHierarchy/supertypes',
  'typeHierarchy/subtypes',
  'workspace/willRenameFiles',
  'workspace/executeCommand',
];

/** The requests that a capability promises to answer. */
const PROMISED: Readonly<Record<string, readonly string[]>> = {
  hoverProvider: ['textDocument/hover'],
  completionProvider: ['textDocument/completion', 'completionItem/resolve'],
  definitionProvider: ['textDocument/definition'],
  declarationProvider: ['textDocument/declaration'],
  typeDefinitionProvider: ['textDocument/typeDefinition'],
  callHierarchyProvider: [
    'textDocument/prepareCallHierarchy',
    'callHierarchy/incomingCalls',
    'callHierarchy/outgoingCalls',
  ],
  implementationProvider: ['textDocument/implementation'],
  typeHierarchyProvider: ['textDocument/prepareTypeHierarchy', 'typeHierarchy/supertypes', 'typeHierarchy/subtypes'],
  referencesProvider: ['textDocument/references'],
  documentHighlightProvider: ['textDocument/documentHighlight'],
  renameProvider: ['textDocument/prepareRename', 'textDocument/rename'],
  documentSymbolProvider: ['textDocument/documentSymbol'],
  foldingRangeProvider: ['textDocument/foldingRange'],
  selectionRangeProvider: ['textDocument/selectionRange'],
  documentLinkProvider: ['textDocument/documentLink'],
  documentFormattingProvider: ['textDocument/formatting'],
  documentRangeFormattingProvider: ['textDocument/rangeFormatting'],
  documentOnTypeFormattingProvider: ['textDocument/onTypeFormatting'],
  codeActionProvider: ['textDocument/codeAction', 'codeAction/resolve'],
  codeLensProvider: ['textDocument/codeLens', 'codeLens/resolve'],
  inlayHintProvider: ['textDocument/inlayHint'],
  signatureHelpProvider: ['textDocument/signatureHelp'],
  semanticTokensProvider: [
    'textDocument/semanticTokens/full',
    'textDocument/semanticTokens/full/delta',
    'textDocument/semanticTokens/range',
  ],
  diagnosticProvider: ['textDocument/diagnostic', 'workspace/diagnostic'],
  workspaceSymbolProvider: ['workspace/symbol'],
  executeCommandProvider: ['workspace/executeCommand'],
};

describe('every message is as the meta-model of the protocol wants it', () => {
  const theSession = sharedSession({ files: WORKSHOP });

  test('initialize', () => {
    expect(model.problemsOfResult('initialize', theSession().initializeResult)).toEqual([]);
  });

  test('every capability has its requests here', () => {
    const { capabilities } = theSession().initializeResult;
    const offered = Object.entries(capabilities).filter(([name, value]) => name.endsWith('Provider') && value);
    expect(offered.length).toBeGreaterThan(15);
    const requested = new Set([...REQUESTS, ...RESOLVED].map(({ method }) => method).concat(FURTHER));
    const unasked = offered.flatMap(([name]) => (PROMISED[name] ?? [name]).filter((method) => !requested.has(method)));
    expect(unasked).toEqual([]);
  });

  test('pushed findings', async () => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const pushed = session.published.at(-1);
    expect(pushed?.diagnostics.some(({ relatedInformation }) => relatedInformation !== undefined)).toBe(true);
    expect(model.problemsOfNotification('textDocument/publishDiagnostics', pushed)).toEqual([]);
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
    expect(model.problemsOfResult(method, result)).toEqual([]);
  });

  test.each(RESOLVED)('$method', async ({ list, method, ...where }) => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const listed = await session.connection.sendRequest<{ items?: object[] } & object[]>(list, {
      textDocument: { uri: session.uri(BUILD) },
      ...('at' in where && { position: session.inside(BUILD, where.at) }),
      ...('params' in where && where.params),
    });
    const [first] = listed.items ?? listed;
    const resolved = await session.connection.sendRequest<object>(method, first);
    expect(resolved).toMatchObject({ ...first });
    expect(model.problemsOfResult(method, resolved)).toEqual([]);
  });

  test('a command', async () => {
    const session = theSession();
    await session.open(BUILD, RAFTER);
    const result = await session.connection.sendRequest('workspace/executeCommand', {
      command: 'fettle.explain',
      arguments: [{ uri: session.uri(BUILD), build: 'Rafter', result: 'all_up_weight' }],
    });
    expect(String(result)).toContain('# all-up weight');
    expect(model.problemsOfResult('workspace/executeCommand', result)).toEqual([]);
  });

  test('call hierarchy and moves', async () => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const at = session.at(BUILD, session.inside(BUILD, 'M1506_3900'));
    const [item] = await session.connection.sendRequest<object[]>('textDocument/prepareCallHierarchy', at);
    const files = [{ oldUri: session.uri('parts'), newUri: session.uri('shelf') }];
    for (const [method, params] of [
      ['callHierarchy/incomingCalls', { item }],
      ['callHierarchy/outgoingCalls', { item }],
      ['workspace/willRenameFiles', { files }],
    ] as const) {
      const result = await session.connection.sendRequest<unknown>(method, params);
      expect(result).not.toBeNull();
      expect(model.problemsOfResult(method, result)).toEqual([]);
    }
  });
});
