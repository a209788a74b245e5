/** What a workspace may be like that nobody planned: nothing breaks, nothing executes, positions stay right. */
import { expect, test } from 'vitest';
import {
  CallHierarchyIncomingCallsRequest,
  CallHierarchyPrepareRequest,
  type CodeAction,
  CodeActionRequest,
  CompletionRequest,
  DidOpenTextDocumentNotification,
  HoverRequest,
  type MarkupContent,
  PrepareRenameRequest,
  TextDocumentEdit,
  type TextEdit,
  WillRenameFilesRequest,
} from 'vscode-languageserver-protocol/node';
import { buildsRequest, requirementsRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { sessions } from './one-session.ts';
import { codesOf, type Session } from './session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

async function hover(session: Session, path: string, piece: string): Promise<string> {
  const answer = await session.connection.sendRequest(HoverRequest.type, session.at(path, session.inside(path, piece)));
  return (answer?.contents as MarkupContent | undefined)?.value ?? '';
}

test('two folders with files of the same name stay two', async () => {
  const files = {
    'barn/parts.fettle': 'item Strap { mass: 1 g }\n',
    'church/parts.fettle': 'item Strap { mass: 2 g }\n',
  };
  const session = await start({ files });
  for (const [path, text] of Object.entries(files)) {
    expect(codesOf(await session.open(path, text))).toEqual([]);
  }
  expect(await hover(session, 'barn/parts.fettle', 'Strap')).toContain('1.0');
  expect(await hover(session, 'church/parts.fettle', 'Strap')).toContain('2.0');
  const broken = await session.change('church/parts.fettle', 'item Strap { mass: 2 V }\n');
  expect(codesOf(broken)).toEqual(['wrong-dimension']);
  const ofBarn = session.published.findLast(({ uri }) => uri === session.uri('barn/parts.fettle'));
  expect(ofBarn?.diagnostics).toEqual([]);
});

test('without a folder an open file is checked and explained, and what it uses on disk is found', async () => {
  const session = await start({ files: WORKSHOP, withoutFolder: true });
  const found = await session.open(BUILD, RAFTER.replace(' duty 58 %', ''));
  expect(codesOf(found)).toContain('motor-overvoltage');
  expect(await hover(session, BUILD, 'Rafter')).toContain('all-up weight');
  const { builds } = await session.connection.sendRequest(requirementsRequest, { uri: session.uri(BUILD) });
  expect(builds.map(({ build }) => build)).toEqual(['Rafter']);
});

test('a text of another language that a client opens is a file like any, and holds nothing up', async () => {
  const session = await start({ files: WORKSHOP });
  await session.connection.sendNotification(DidOpenTextDocumentNotification.type, {
    textDocument: { uri: session.uri('logs/flight.csv'), languageId: 'csv', version: 1, text: 'time,voltage\n' },
  });
  expect(codesOf(await session.open('loose.fettle', 'item Strap { mass: 2 V }\n'))).toEqual(['wrong-dimension']);
  const { builds } = await session.connection.sendRequest(buildsRequest, {});
  expect(builds.map(({ name }) => name)).toEqual(['Rafter']);
  expect(session.logged).toEqual([]);
});

test('a text that was never saved is checked', async () => {
  const session = await start();
  const uri = 'untitled:Untitled-1';
  const text = 'item Strap { mass: 1 V }\n';
  const reported = new Promise<string[]>((resolve) =>
    session.connection.onNotification('textDocument/publishDiagnostics', (params: { uri: string; diagnostics: [] }) => {
      if (params.uri === uri) resolve(codesOf(params.diagnostics));
    }),
  );
  await session.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'fettle', version: 1, text },
  });
  expect(await reported).toEqual(['wrong-dimension']);
});

test.each([
  ['a text that is named and was never saved', 'untitled:'],
  ['the old side of a comparison', 'git:'],
])('%s brings nothing along from next to its path, and is gone when it is closed', async (_, scheme) => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  const builds = async () => (await session.connection.sendRequest(buildsRequest, {})).builds.map(({ uri }) => uri);
  const before = await builds();
  const uri = session.uri('builds/newone.fettle').replace(/^file:(\/\/)?/, scheme);
  const text = 'use "../parts"\nbuild Fresh like Rafter { pack: Slim900_3S as T }\n';
  await session.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'fettle', version: 1, text },
  });
  await expect.poll(builds).toEqual([...before, uri].sort());
  expect(session.published.filter((one) => one.uri.startsWith(scheme)).map((one) => one.uri)).toEqual([uri]);
  await session.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
  await expect.poll(builds).toEqual(before);
});

test('a part file deleted while a build that needs it is open', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  await session.deleteFile('parts/motors.fettle');
  const found = await session.diagnosticsWhere(BUILD, (diagnostics) => codesOf(diagnostics).includes('unknown-name'));
  expect(codesOf(found)).not.toContain('motor-overvoltage');
  expect(await hover(session, BUILD, 'Rafter')).toContain('**build Rafter**');
  expect(await hover(session, BUILD, 'M1506_3900')).toBe('');
  await session.createFile('parts/motors.fettle', PARTS);
  await session.diagnosticsWhere(BUILD, (diagnostics) => !codesOf(diagnostics).includes('unknown-name'));
});

const HOSTILE = '</style><script>alert(1)</script> [x](command:evil?1) ![i](http://x/y.png) `|` 🦇';

test('hostile titles, notes and reasons are text in hovers, explanations, requirements and acceptances', async () => {
  const session = await start({ files: WORKSHOP });
  const text = RAFTER.replace('Rafter, roof-void survey', HOSTILE)
    .replace('one roof bay and back', HOSTILE)
    .replace(' duty 58 %', '');
  await session.open(BUILD, text);
  const uri = session.uri(BUILD);
  const explained = await session.connection.sendRequest('workspace/executeCommand', {
    command: 'fettle.explain',
    arguments: [{ uri, build: 'Rafter', result: 'all_up_weight' }],
  });
  for (const shown of [
    await hover(session, BUILD, 'Rafter'),
    await hover(session, BUILD, 'require'),
    String(explained),
  ]) {
    expect(shown).not.toMatch(/<(script|\/style)/);
    expect(shown).not.toMatch(/(?<!\\)\]\(/);
    expect(shown).not.toMatch(/(command|http):/);
  }
  // Data is handed on as it is: whoever shows it escapes it.
  const { builds } = await session.connection.sendRequest(requirementsRequest, { uri });
  expect(builds[0]?.title).toBe(HOSTILE);
});

test('positions are right behind astral characters and CRLF, in edits too', async () => {
  const session = await start({ files: WORKSHOP });
  const text = RAFTER.replace('Rafter, roof-void survey', '🦇🦇')
    .replace('item: Strap', 'item: Strep  // 🦇')
    .replaceAll('\n', '\r\n');
  const misspelt = (await session.open(BUILD, text)).find(({ code }) => code === 'unknown-name');
  expect(misspelt && session.textAt(BUILD, misspelt.range)).toBe('Strep');
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: misspelt?.range ?? { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
    context: { diagnostics: [] },
  });
  const [change] = (actions?.[0] as CodeAction | undefined)?.edit?.documentChanges ?? [];
  const edits = TextDocumentEdit.is(change) ? (change.edits as TextEdit[]) : [];
  expect(session.withEdits(BUILD, edits)).toBe(text.replace('Strep', 'Strap'));
  const { builds } = await session.connection.sendRequest(requirementsRequest, { uri: session.uri(BUILD) });
  const range = builds[0]?.requirements[0]?.range;
  expect(range && session.textAt(BUILD, range)).toMatch(/^require hover_time >= 1 min/);
});

test('questions of the wrong shape are refused, and the session goes on', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  const item = {
    name: 'Nobody',
    kind: 5,
    uri: session.uri('gone.fettle'),
    range: { start: { line: 900, character: 0 }, end: { line: 900, character: 1 } },
    selectionRange: { start: { line: 900, character: 0 }, end: { line: 900, character: 1 } },
  };
  for (const [method, params] of [
    ['fettle/requirements', {}],
    ['fettle/requirements', { uri: 12 }],
    ['fettle/requirements', { uri: 'not a uri' }],
    ['workspace/executeCommand', { command: 'fettle.explain' }],
    ['workspace/executeCommand', { command: 'rm', arguments: ['-rf'] }],
    [CallHierarchyIncomingCallsRequest.method, { item }],
    [WillRenameFilesRequest.method, { files: [{ oldUri: 'file:///nowhere', newUri: 'file:///elsewhere' }] }],
    [CallHierarchyPrepareRequest.method, session.at(BUILD, { line: 999, character: 999 })],
    [PrepareRenameRequest.method, session.at(BUILD, { line: 999, character: 999 })],
    [CompletionRequest.method, session.at(BUILD, { line: 999, character: 999 })],
  ] as const) {
    const answer = await session.connection.sendRequest<unknown>(method, params).catch((error: Error) => error);
    const printed = answer instanceof Error ? answer.message : JSON.stringify(answer);
    expect(printed).not.toMatch(/undefined|TypeError|NaN|\bat .*\.ts:/);
  }
  expect(await hover(session, BUILD, 'Rafter')).toContain('**build Rafter**');
});
