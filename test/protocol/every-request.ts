/** Every request that the server answers, each with parameters for which it has an answer: tests of its messages send all of them. */
import type { OWN_FEATURES } from '../../packages/language/src/editor/own-features.ts';
import type { Session } from './session.ts';
import { PARTS, RAFTER } from './workshop.ts';

export const BUILD = 'builds/rafter.fettle';
export const UNLIMITED = RAFTER.replace(' duty 58 %', '').replace('item: Strap', 'item: Strep');
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
const options = { tabSize: 2, insertSpaces: true };

/** Requests with their parameters besides the document; `at` is where the position is. */
export const REQUESTS: readonly { method: string; at?: string; params?: object; isEmpty?: boolean }[] = [
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
export const RESOLVED = [
  { list: 'textDocument/completion', at: 'motors', method: 'completionItem/resolve' },
  { list: 'textDocument/codeLens', method: 'codeLens/resolve' },
  {
    list: 'textDocument/codeAction',
    method: 'codeAction/resolve',
    params: { range: everything, context: { diagnostics: [], only: ['refactor.rewrite', 'quickfix'] } },
  },
] as const;

export const FURTHER = [
  'callHierarchy/incomingCalls',
  'callHierarchy/outgoingCalls',
  'typeHierarchy/supertypes',
  'typeHierarchy/subtypes',
  'workspace/willRenameFiles',
  'workspace/executeCommand',
];

interface Capability {
  /** That it promises to answer. */
  readonly requests: readonly string[];
  /** Of `reference/editor.md`: what a person sees of it. */
  readonly row: string;
}

/** Everything that the server may offer. */
export const CAPABILITIES: Readonly<Record<string, Capability> & Record<keyof typeof OWN_FEATURES, Capability>> = {
  hoverProvider: { requests: ['textDocument/hover'], row: 'Hover on a build' },
  completionProvider: { requests: ['textDocument/completion', 'completionItem/resolve'], row: 'Completion' },
  definitionProvider: { requests: ['textDocument/definition'], row: 'Definition' },
  declarationProvider: { requests: ['textDocument/declaration'], row: 'Definition' },
  typeDefinitionProvider: { requests: ['textDocument/typeDefinition'], row: 'What a part is like' },
  callHierarchyProvider: {
    requests: ['textDocument/prepareCallHierarchy', 'callHierarchy/incomingCalls', 'callHierarchy/outgoingCalls'],
    row: 'Used in',
  },
  implementationProvider: { requests: ['textDocument/implementation'], row: 'What is like a part' },
  typeHierarchyProvider: {
    requests: ['textDocument/prepareTypeHierarchy', 'typeHierarchy/supertypes', 'typeHierarchy/subtypes'],
    row: 'Along `like`',
  },
  referencesProvider: { requests: ['textDocument/references'], row: 'References' },
  documentHighlightProvider: { requests: ['textDocument/documentHighlight'], row: 'References' },
  renameProvider: { requests: ['textDocument/prepareRename', 'textDocument/rename'], row: 'Rename' },
  documentSymbolProvider: { requests: ['textDocument/documentSymbol'], row: 'Outline, folding, selection' },
  foldingRangeProvider: { requests: ['textDocument/foldingRange'], row: 'Outline, folding, selection' },
  selectionRangeProvider: { requests: ['textDocument/selectionRange'], row: 'Outline, folding, selection' },
  documentLinkProvider: { requests: ['textDocument/documentLink'], row: 'Links' },
  documentFormattingProvider: { requests: ['textDocument/formatting'], row: 'Formatting' },
  documentRangeFormattingProvider: { requests: ['textDocument/rangeFormatting'], row: 'Formatting' },
  documentOnTypeFormattingProvider: { requests: ['textDocument/onTypeFormatting'], row: 'Formatting' },
  codeActionProvider: { requests: ['textDocument/codeAction', 'codeAction/resolve'], row: 'Quick fixes' },
  codeLensProvider: { requests: ['textDocument/codeLens', 'codeLens/resolve'], row: 'Lenses' },
  inlayHintProvider: { requests: ['textDocument/inlayHint'], row: 'Hints in the line' },
  signatureHelpProvider: { requests: ['textDocument/signatureHelp'], row: 'Shape of a line' },
  semanticTokensProvider: {
    requests: [
      'textDocument/semanticTokens/full',
      'textDocument/semanticTokens/full/delta',
      'textDocument/semanticTokens/range',
    ],
    row: 'Colours by meaning',
  },
  diagnosticProvider: { requests: ['textDocument/diagnostic', 'workspace/diagnostic'], row: 'Findings on request' },
  workspaceSymbolProvider: { requests: ['workspace/symbol'], row: 'Symbols' },
  executeCommandProvider: { requests: ['workspace/executeCommand'], row: 'Derivations' },
  // Of its folders a client sends notifications; whether it may request what moving files changes is a part of it.
  workspace: { requests: [], row: 'Moving files and folders' },
};

/** Sends one of them about the build, or about parts where it is for these. */
export async function answerTo(
  session: Session,
  { method, at, params }: Pick<(typeof REQUESTS)[number], 'method' | 'at' | 'params'>,
): Promise<unknown> {
  const path = method === 'textDocument/codeLens' ? 'parts/motors.fettle' : BUILD;
  if (path !== BUILD) await session.open(path, PARTS);
  return session.connection.sendRequest(method, {
    ...(method.startsWith('textDocument/') && { textDocument: { uri: session.uri(path) } }),
    ...(at !== undefined && { position: session.inside(BUILD, at) }),
    ...params,
  });
}
