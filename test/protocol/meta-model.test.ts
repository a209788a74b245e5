import { describe, expect, test } from 'vitest';
import { answerTo, BUILD, FURTHER, REQUESTS, RESOLVED, UNLIMITED } from './every-request.ts';
import { MetaModel } from './meta-model.ts';
import { sharedSession } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const model = MetaModel.load();
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

  test.each(REQUESTS)('$method', async ({ isEmpty, ...request }) => {
    const session = theSession();
    await session.open(BUILD, UNLIMITED);
    const result = await answerTo(session, request);
    const isNothing = result === null || (Array.isArray(result) && result.length === 0);
    expect(isNothing).toBe(isEmpty ?? false);
    expect(model.problemsOfResult(request.method, result)).toEqual([]);
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
