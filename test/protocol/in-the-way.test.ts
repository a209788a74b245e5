/** What a client does while the server has still to read what it typed before: each of these was answered wrongly once. */
import { afterEach, expect, test } from 'vitest';
import {
  type ClientCapabilities,
  type CodeAction,
  type CompletionList,
  type Definition,
  type DocumentLink,
  type DocumentSymbol,
  LSPErrorCodes,
  type SignatureHelp,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { uriOf } from '../references/memory-workspace.ts';
import { MemoryServer, type Texts, turns } from './memory-server.ts';
import { RESOLVING, titled } from './refactoring-steps.ts';
import { BOARDS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const BUILD = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const BOARD = 'parts/boards.fettle';
const FILES = new Map(Object.entries(WORKSHOP));

const inFile = (path: string) => ({ textDocument: { uri: uriOf(path).toString() } });

function at(path: string, text: string, piece: string) {
  const before = text.slice(0, text.indexOf(piece) + 1).split('\n');
  return { ...inFile(path), position: { line: before.length - 1, character: before.at(-1)?.length ?? 0 } };
}

const running: MemoryServer[] = [];
afterEach(async () => {
  for (const server of running.splice(0)) {
    await server.settled();
    server.stop();
  }
});

async function started(open: Texts = new Map(), more: ClientCapabilities = {}): Promise<MemoryServer> {
  const server = await MemoryServer.start(FILES, open, more, { quietWhileTyping: false });
  running.push(server);
  return server;
}

/** With both files open. */
async function opened(workspaceEdit = { documentChanges: true }): Promise<MemoryServer> {
  const open = new Map([
    [BUILD, RAFTER],
    [MOTORS, PARTS],
  ]);
  return started(open, { workspace: { workspaceEdit } });
}

/** The answer to a request before and after which somebody types. */
async function between(server: MemoryServer, path: string, texts: readonly string[], method: string, params: object) {
  const [before = '', after = ''] = texts;
  let answer: Promise<unknown> = Promise.resolve();
  await server.whileBusy(async () => {
    await server.changeText(path, before);
    answer = server.ask(method, params);
    answer.catch(() => undefined);
    await server.changeText(path, after);
  });
  return answer;
}

const START = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
const TYPED = [`\n${RAFTER}`, `\n\n${RAFTER}`];

test.each([
  ['textDocument/rename', { ...at(BUILD, `\n${RAFTER}`, 'M1506_3900'), newName: 'Other' }],
  ['textDocument/hover', at(BUILD, `\n${RAFTER}`, 'M1506_3900')],
  ['textDocument/codeAction', { ...inFile(BUILD), range: START, context: { diagnostics: [] } }],
  ['fettle/measured', { uri: uriOf(BUILD).toString(), build: 'Rafter' }],
])('%s of a text that went on is refused', async (method, params) => {
  const server = await opened();
  await expect(between(server, BUILD, TYPED, method, params)).rejects.toMatchObject({
    code: LSPErrorCodes.ContentModified,
  });
});

test('findings of a text that went on are to be requested again', async () => {
  const server = await opened();
  await expect(between(server, BUILD, TYPED, 'textDocument/diagnostic', inFile(BUILD))).rejects.toMatchObject({
    code: LSPErrorCodes.ServerCancelled,
    data: { retriggerRequest: true },
  });
});

test('the shape of a line is that of the line as it was requested', async () => {
  const server = await opened();
  const texts = [RAFTER.replace('motors: ', 'motors:  '), `// ${RAFTER.replaceAll('\n', '\n// ')}`];
  const params = { ...at(BUILD, texts[0] ?? '', 'otors: '), context: { triggerKind: 1, isRetrigger: false } };
  params.position.character += 'otors: '.length;
  const help = (await between(server, BUILD, texts, 'textDocument/signatureHelp', params)) as SignatureHelp;
  expect(help.signatures[0]?.label).toContain('motors:');
});

test('a place in another file is one of the text that was sent before the request', async () => {
  const server = await opened();
  const definition = () => server.ask<Definition>('textDocument/definition', at(BUILD, RAFTER, 'M1506_3900'));
  const [quiet] = [await definition()].flat();
  await server.changeText(MOTORS, `\n\n\n${PARTS}`);
  const [moved] = [await definition()].flat();
  expect(moved?.range.start.line).toBe((quiet?.range.start.line ?? 0) + 3);
  await server.changeText(MOTORS, PARTS.replaceAll('M1506_3900', 'Renamed'));
  expect(await definition()).toBeNull();
});

test('a name that comes into another file is known to the next request, however far the server is with it', async () => {
  const server = await opened();
  // Of which nothing is used, and so long that the server lets messages in while it reads it.
  const many = Array.from({ length: 400 }, (_, i) => `motor Of${i} { kv: 3000 rpm/V }\n`).join('');
  await server.openText('parts/late.fettle', many);
  for (let between = 0; between < 14; between++) {
    const text = RAFTER.replace('4 x M1506_3900', `4 x Late${between}`);
    await server.changeText(BUILD, text);
    await server.settled();
    await server.changeText('parts/late.fettle', `motor Late${between} { kv: 3000 rpm/V }\n${many}`);
    await turns(between);
    const found = await server.ask<Definition | null>('textDocument/definition', at(BUILD, text, 'Late'));
    expect(found, `${between} turns later`).not.toBeNull();
  }
});

test('what a path opens is known when its link is shown', async () => {
  const server = await started();
  let links: Promise<DocumentLink[]> = Promise.resolve([]);
  await server.whileBusy(async () => {
    await server.openText('new/first.fettle', 'use "../late/second.fettle"\n');
    links = server.ask('textDocument/documentLink', inFile('new/first.fettle'));
    await server.openText('late/second.fettle', 'item Late { mass: 1 g }\n');
  });
  expect(await links).toMatchObject([{ target: uriOf('late/second.fettle').toString() }]);
});

test('the line that an offer adds above is one of the text as it was requested, or the offer is left out', async () => {
  const server = await started();
  const before = 'build New {\n  esc: Boar\n}\n';
  await server.openText('new/new.fettle', 'build New {\n  esc: \n}\n');
  const position = { line: 1, character: '  esc: Boar'.length };
  const offersBefore = async (after: string) => {
    const params = { ...inFile('new/new.fettle'), position };
    const list = await between(server, 'new/new.fettle', [before, after], 'textDocument/completion', params);
    return (list as CompletionList).items.filter(({ additionalTextEdits }) => additionalTextEdits !== undefined);
  };
  const offers = await offersBefore(before.replace('Boar', 'Board'));
  expect(offers.map(({ label }) => label)).toEqual(['Board32', 'Board50']);
  for (const { additionalTextEdits } of offers)
    expect(additionalTextEdits).toMatchObject([{ range: { start: { line: 0 }, end: { line: 0 } } }]);
  expect(await offersBefore(`use "../rules"\n${before}`)).toEqual([]);
});

test('a layout is counted in the letters of the text as it was requested', async () => {
  const server = await started(new Map(), { general: { positionEncodings: ['utf-8'] } });
  const before = 'item Größe_Ü   { mass: 1 g }\n';
  await server.openText('new.fettle', before);
  const params = { ...inFile('new.fettle'), options: { tabSize: 2, insertSpaces: true } };
  const quiet = await server.ask('textDocument/formatting', params);
  expect(quiet).toHaveLength(1);
  await server.openText('new.fettle', '');
  const after = `item Small_thing_of_letters { mass: 1 g }\n${before}`;
  expect(await between(server, 'new.fettle', [before, after], 'textDocument/formatting', params)).toEqual(quiet);
});

test('an edit of another file that went on states the version that it is of, or is refused where the client reads none', async () => {
  const params = { ...at(BUILD, RAFTER, 'M1506_3900'), newName: 'Other' };
  const texts = [`\n${PARTS}`, `\n\n${PARTS}`];
  const server = await opened();
  const edit = (await between(server, MOTORS, texts, 'textDocument/rename', params)) as WorkspaceEdit;
  expect(edit.documentChanges).toContainEqual(
    expect.objectContaining({ textDocument: { uri: uriOf(MOTORS).toString(), version: 3 } }),
  );
  const plain = await opened({ documentChanges: false });
  await expect(between(plain, MOTORS, texts, 'textDocument/rename', params)).rejects.toMatchObject({
    code: LSPErrorCodes.ContentModified,
  });
});

test('a refactoring states the version that it is of, although somebody types while it is judged', async () => {
  const { workspace, textDocument } = RESOLVING;
  const server = await started(new Map([[BOARD, BOARDS]]), {
    ...(workspace && { workspace }),
    ...(textDocument && { textDocument }),
  });
  const { position } = at(BOARD, BOARDS, 'Board50 like');
  const params = {
    ...inFile(BOARD),
    range: { start: position, end: position },
    context: { diagnostics: [], triggerKind: 1 },
  };
  const actions = await server.ask<CodeAction[]>('textDocument/codeAction', params);
  const resolved = server.ask<CodeAction>('codeAction/resolve', titled(actions, /^Inline/));
  await server.changeText(BOARD, `\n${BOARDS}`);
  expect((await resolved).edit?.documentChanges).toContainEqual(
    expect.objectContaining({ textDocument: { uri: uriOf(BOARD).toString(), version: 1 } }),
  );
});

test('a file that is opened again with its first version is read anew', async () => {
  const server = await started();
  const lines = async () =>
    (await server.ask<DocumentSymbol[]>('textDocument/documentSymbol', inFile('loose.fettle'))).map(
      (symbol) =>
        ('range' in symbol ? symbol : (symbol as never as { location: DocumentSymbol }).location).range.start.line,
    );
  await server.openText('loose.fettle', 'item One { mass: 1 g }\n', 1);
  expect(await lines()).toEqual([0]);
  let again: Promise<number[]> = Promise.resolve([]);
  await server.whileBusy(async () => {
    await server.closeText('loose.fettle');
    await server.openText('loose.fettle', '\n\nitem Two { mass: 1 g }\n', 1);
    again = lines();
  });
  expect(await again).toEqual([2]);
});

test('requests about a file that is closed before it was read are refused', async () => {
  const server = await started();
  const params = { ...inFile('loose.fettle'), position: { line: 0, character: 5 } };
  const more = { newName: 'Other', context: { includeDeclaration: true } };
  const methods = ['hover', 'definition', 'references', 'rename', 'documentHighlight', 'codeLens'];
  const answers: Promise<unknown>[] = [];
  await server.whileBusy(async () => {
    await server.openText('loose.fettle', 'item One { mass: 1 g }\n');
    for (const method of methods) answers.push(server.ask(`textDocument/${method}`, { ...params, ...more }));
    for (const answer of answers) answer.catch(() => undefined);
    await server.closeText('loose.fettle');
  });
  const refused: readonly unknown[] = [LSPErrorCodes.RequestFailed, LSPErrorCodes.ContentModified];
  for (const answer of answers)
    await expect(answer).rejects.toSatisfy(({ code }: { code?: unknown }) => refused.includes(code));
});
