import { expect, test } from 'vitest';
import { type CodeAction, CodeActionRequest, type Range, TextDocumentEdit } from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import { codesOf, type Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

async function actions(
  session: Session,
  path: string,
  range: Range | undefined,
  only?: string[],
): Promise<CodeAction[]> {
  if (range === undefined) {
    throw new Error('no finding to act on');
  }
  const answer = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(path) },
    range,
    context: { diagnostics: [], ...(only && { only }) },
  });
  return (answer ?? []) as CodeAction[];
}

function applied(session: Session, path: string, action: CodeAction | undefined): string {
  const [change] = action?.edit?.documentChanges ?? [];
  if (change === undefined || !TextDocumentEdit.is(change)) {
    throw new Error(`no edit in ${JSON.stringify(action)}`);
  }
  expect(change.textDocument).toEqual({ uri: session.uri(path), version: session.document(path).version });
  return session.withEdits(path, change.edits as { range: Range; newText: string }[]);
}

test('the preferred fix of an overvoltage limits the duty and removes the error', async () => {
  const session = await start({ files: WORKSHOP });
  const diagnostics = await session.open(BUILD, RAFTER.replace(' duty 66 %', ''));
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, BUILD, overvoltage?.range);
  const fix = offered.find(
    ({ isPreferred, diagnostics }) => isPreferred && diagnostics?.[0]?.code === 'motor-overvoltage',
  );
  expect(fix).toMatchObject({ kind: 'quickfix' });
  const mended = applied(session, BUILD, fix);
  expect(mended).toMatch(/pack: Slim480_3S duty \d+ %/);
  expect(codesOf(await session.change(BUILD, mended))).not.toContain('motor-overvoltage');
});

test('a misspelt name and a wrong unit are mended', async () => {
  const session = await start({ files: WORKSHOP });
  const [name] = (await session.open(BUILD, RAFTER.replace('Slim480_2S', 'Slim480_2s'))).filter(
    ({ code }) => code === 'unknown-name',
  );
  const [mendName] = await actions(session, BUILD, name?.range);
  expect(applied(session, BUILD, mendName)).toBe(RAFTER);
});

test('all of a kind, and all of a file', async () => {
  const session = await start();
  const text = 'item A { mass: 1.5 mm }\nitem B { mass: 2.5 mm }\nitem C { mass: 3 V }\n';
  const mended = text.replaceAll(/mm|V/g, 'g');
  const [first] = await session.open('items.fettle', text);
  const alike = (await actions(session, 'items.fettle', first?.range)).find(({ title }) => title.startsWith('Fix all'));
  expect(applied(session, 'items.fettle', alike)).toBe(mended);
  const [all] = await actions(session, 'items.fettle', first?.range, ['source.fixAll']);
  expect(all?.kind).toBe('source.fixAll');
  expect(applied(session, 'items.fettle', all)).toBe(mended);
  expect(await session.change('items.fettle', mended)).toEqual([]);
});

test('offers nothing where nothing is wrong', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  expect(await actions(session, BUILD, { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } })).toEqual(
    [],
  );
});
