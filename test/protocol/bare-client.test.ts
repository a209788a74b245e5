/** A client that declares nothing is sent nothing that it would have had to declare, whatever it requests. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { CodeActionRequest } from 'vscode-languageserver-protocol/node';
import { CAPABILITIES } from './client-capabilities.ts';
import { answerTo, BUILD, REQUESTS, RESOLVED, UNLIMITED } from './every-request.ts';
import { MetaModel } from './meta-model.ts';
import { sessions } from './one-session.ts';
import { Session } from './session.ts';
import { WORKSHOP } from './workshop.ts';

const model = MetaModel.load();
const everything = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

/** By words of the method: members that a client reads only if it has declared that it does, with a value where only that one is meant. */
const DECLARED: readonly (readonly [method: RegExp, member: RegExp, value?: unknown])[] = [
  [/publishDiagnostics/, /^version$/],
  [/diagnostic/i, /\.(relatedInformation|tags|codeDescription|data)$/],
  [/hover|completion|signatureHelp/, /\.kind$/, 'markdown'],
  [/completion/, /(^|\.)(itemDefaults|labelDetails|tags|deprecated|preselect|commitCharacters|insertTextMode)$/],
  [/completion/, /\.textEdit\.(insert|replace)$/],
  [/completion/, /\.insertTextFormat$/, 2],
  [/definition|declaration|implementation/i, /\.targetUri$/],
  [/documentSymbol/, /\.(children|selectionRange|tags)$/],
  [/rename/i, /(^|\.)(documentChanges|changeAnnotations|defaultBehavior)$/],
  [/codeAction/, /\.(kind|edit|isPreferred|disabled|data)$/],
  [/documentLink/, /\.tooltip$/],
  [/foldingRange/, /\.collapsedText$/],
  [/signatureHelp/, /\.signatures\.\d+\.activeParameter$/],
  [/signatureHelp/, /\.label\.0$/],
  [/Hierarchy|workspace\/symbol/, /\.tags$/],
];

function* members(value: unknown, path = ''): Iterable<readonly [path: string, value: unknown]> {
  if (typeof value !== 'object' || value === null) return;
  for (const [name, own] of Object.entries(value)) {
    const at = path === '' ? name : `${path}.${name}`;
    yield [at, own];
    yield* members(own, at);
  }
}

/** What of a message a client that declares nothing does not know. */
const undeclared = (method: string, message: unknown): string[] =>
  [...members({ message })].flatMap(([path, value]) => {
    const at = path.replace(/^message\.?/, '');
    const isDeclared = DECLARED.some(
      ([of, member, only]) => of.test(method) && member.test(at) && (only === undefined || only === value),
    );
    return isDeclared && value !== undefined ? [`${method}: ${at}`] : [];
  });

/** Notifications for which nothing has to be declared. */
const FREE = new Set(['textDocument/publishDiagnostics', 'window/logMessage', 'window/showMessage']);

let bare: Session;
beforeAll(async () => {
  bare = await Session.start({ files: WORKSHOP, capabilities: {} });
  await bare.open(BUILD, UNLIMITED);
});
afterAll(() => bare.stop());

test.each(REQUESTS)('$method', async (request) => {
  const result = await answerTo(bare, request);
  expect(model.problemsOfResult(request.method, result)).toEqual([]);
  expect(undeclared(request.method, result)).toEqual([]);
});

test.each(RESOLVED)('$method', async ({ list, method, ...where }) => {
  const listed = (await answerTo(bare, {
    method: list,
    ...('at' in where && { at: where.at }),
    ...('params' in where && { params: where.params }),
  })) as { items?: object[] } & object[];
  const [first] = listed.items ?? listed;
  // There are no actions for a client that takes none.
  if (first === undefined) expect(method).toBe('codeAction/resolve');
  const resolved = first && (await bare.connection.sendRequest<object>(method, first));
  expect(undeclared(method, resolved)).toEqual([]);
});

test('a hierarchy, and a file that is renamed', async () => {
  const at = bare.at(BUILD, bare.inside(BUILD, 'M1506_3900'));
  for (const kind of ['Call', 'Type'] as const) {
    const items = await bare.connection.sendRequest<object[]>(`textDocument/prepare${kind}Hierarchy`, at);
    const [first, second] = kind === 'Call' ? ['incomingCalls', 'outgoingCalls'] : ['supertypes', 'subtypes'];
    for (const way of [first, second]) {
      const method = `${kind.toLowerCase()}Hierarchy/${way}`;
      const answer = await bare.connection.sendRequest<unknown>(method, { item: items[0] });
      expect(model.problemsOfResult(method, answer)).toEqual([]);
      expect(undeclared(method, answer)).toEqual([]);
    }
  }
  const files = [{ oldUri: bare.uri('parts'), newUri: bare.uri('shelf') }];
  const edit = await bare.connection.sendRequest<unknown>('workspace/willRenameFiles', { files });
  expect(edit).toMatchObject({ changes: expect.anything() });
  expect(undeclared('workspace/willRenameFiles', edit)).toEqual([]);
});

test('findings are bare, and nothing else is sent by itself: no request, no registration, no refresh, no progress', async () => {
  bare.writeFile('parts/more.fettle', 'item Spare { mass: 3 kgg }\n');
  await bare.diagnosticsWhere('parts/more.fettle', (reported) => reported.length > 0);
  await bare.change(BUILD, UNLIMITED.replace('Strep', 'Strap'));
  expect(bare.received.map(({ method }) => method).filter((method) => !FREE.has(method))).toEqual([]);
  const pushed = bare.received.filter(({ method }) => method === 'textDocument/publishDiagnostics');
  expect(pushed.length).toBeGreaterThan(2);
  for (const { method, params } of pushed) {
    expect(model.problemsOfNotification(method, params)).toEqual([]);
    expect(undeclared(method, params)).toEqual([]);
  }
});

const start = sessions();

test('to a client that declares them the same requests bring what the other one is spared', async () => {
  const { textDocument, ...others } = CAPABILITIES;
  const session = await start({
    files: WORKSHOP,
    capabilities: {
      ...others,
      textDocument: {
        ...textDocument,
        codeAction: { ...textDocument?.codeAction, isPreferredSupport: true },
        documentLink: { tooltipSupport: true },
      },
    },
  });
  await session.open(BUILD, UNLIMITED);
  const found = new Set<string>();
  for (const request of REQUESTS)
    for (const one of undeclared(request.method, await answerTo(session, request)))
      found.add(one.replace(/(\.?\d+)+/g, '').replace(/:.*\.(?=\w+$)/, ': '));
  for (const { method, params } of session.received)
    for (const one of undeclared(method, params)) found.add(one.replace(/:.*[.\s](?=\w+$)/, ': '));
  expect([...found]).toEqual(
    expect.arrayContaining([
      'textDocument/hover: kind',
      'textDocument/definition: targetUri',
      'textDocument/documentSymbol: children',
      'textDocument/rename: documentChanges',
      'textDocument/codeAction: isPreferred',
      'textDocument/documentLink: tooltip',
      'textDocument/publishDiagnostics: version',
      'textDocument/publishDiagnostics: relatedInformation',
      'textDocument/publishDiagnostics: codeDescription',
    ]),
  );
});

test('of a client that takes actions but does not resolve them each has its edits at once', async () => {
  const codeAction = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } };
  const session = await start({ files: WORKSHOP, capabilities: { textDocument: { codeAction } } });
  await session.open(BUILD, UNLIMITED);
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: everything,
    context: { diagnostics: [] },
  });
  expect(actions?.length).toBeGreaterThan(0);
  for (const action of actions ?? []) {
    expect(action).toMatchObject({ edit: { changes: expect.anything() } });
    expect(Object.keys(action)).not.toEqual(expect.arrayContaining(['isPreferred']));
    expect(action).not.toHaveProperty('data');
    expect(action).not.toHaveProperty('disabled');
  }
});
