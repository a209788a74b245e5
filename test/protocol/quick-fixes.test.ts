/** Quick fixes of which a client has to know more than their text; what each writes is in `test/marked/fixes`. */
import { expect, test } from 'vitest';
import { type CodeAction, CodeActionRequest, type Range, TextDocumentEdit } from 'vscode-languageserver-protocol/node';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { sessions, sharedSession } from './one-session.ts';
import { codesOf, type Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const theSession = sharedSession({ files: WORKSHOP });
const BUILD = 'builds/rafter.fettle';
const UNLIMITED = RAFTER.replace(' duty 58 %', '');
const LITERALS = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } };

async function actions(session: Session, path: string, range: Range | undefined): Promise<CodeAction[]> {
  if (range === undefined) throw new Error('no finding to act on');
  const answer = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(path) },
    range,
    context: { diagnostics: [] },
  });
  return (answer ?? []) as CodeAction[];
}

function applied(session: Session, path: string, action: CodeAction | undefined): string {
  const [change] = action?.edit?.documentChanges ?? [];
  if (change === undefined || !TextDocumentEdit.is(change)) throw new Error(`no edit in ${JSON.stringify(action)}`);
  expect(change.textDocument).toEqual({ uri: session.uri(path), version: session.document(path).version });
  return session.withEdits(path, change.edits as { range: Range; newText: string }[]);
}

test('the preferred fix of an overvoltage limits the duty and removes the error', async () => {
  const session = theSession();
  const diagnostics = await session.open(BUILD, UNLIMITED);
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, BUILD, overvoltage?.range);
  const fix = offered.find(
    ({ isPreferred, diagnostics }) => isPreferred && diagnostics?.[0]?.code === 'motor-overvoltage',
  );
  expect(fix).toMatchObject({ kind: 'quickfix' });
  const mended = applied(session, BUILD, fix);
  expect(mended).toMatch(/pack: Slim900_5S duty \d+ %/);
  expect(codesOf(await session.change(BUILD, mended))).not.toContain('motor-overvoltage');
});

test('a fix that is written into another file names that file', async () => {
  const session = await start({ files: { ...WORKSHOP, [BUILD]: UNLIMITED } });
  const heir = 'use "../parts"\n\nbuild Heir like Rafter {\n  item: Strap\n}\n';
  const found = await session.open('builds/heir.fettle', heir);
  const overvoltage = found.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, 'builds/heir.fettle', overvoltage?.range);
  const fixes = offered.filter(({ title, edit }) => title.startsWith('Limit the duty') && edit !== undefined);
  expect(fixes.length).toBeGreaterThan(0);
  for (const { title } of fixes) expect(title).toMatch(/ \(in rafter\.fettle\)$/);
});

test('where no duty limit leaves a craft that flies well the part that is needed is named, as an action that changes nothing', async () => {
  const capabilities = { textDocument: { codeAction: { ...LITERALS, disabledSupport: true } } };
  const session = await start({ files: { 'craft.fettle': EXAMPLE_CRAFT }, capabilities });
  const weak = PAGES['esc-overcurrent']?.fails ?? '';
  const [found] = (await session.open('weak.fettle', weak)).filter(({ code }) => code === 'esc-overcurrent');
  const offered = (await actions(session, 'weak.fettle', found?.range)).filter(
    ({ title, diagnostics }) => diagnostics?.[0]?.code === 'esc-overcurrent' && !title.startsWith('Accept'),
  );
  expect(offered).toHaveLength(1);
  expect(offered[0]?.title).toMatch(/^Take a board that withstands [\d.]+ A per channel for seconds$/);
  expect(offered[0]?.disabled?.reason).toContain('too little thrust');
  expect(offered[0]?.edit).toBeUndefined();
});

test('the cursor is in the quotes where the client knows how, and CRLF stays', async () => {
  const capabilities = {
    textDocument: { codeAction: LITERALS },
    workspace: { workspaceEdit: { documentChanges: true, snippetEditSupport: true } },
  };
  const session = await start({ files: WORKSHOP, capabilities });
  const diagnostics = await session.open(BUILD, UNLIMITED.replaceAll('\n', '\r\n'));
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, BUILD, overvoltage?.range);
  const accept = offered.find(({ title }) => title.startsWith('Accept this motor-overvoltage'));
  const [change] = accept?.edit?.documentChanges ?? [];
  expect(change).toMatchObject({
    edits: [
      {
        snippet: {
          kind: 'snippet',
          value: '  accept motor-overvoltage below 1.7 with Slim900_5S because "$0"\r\n',
        },
      },
    ],
  });
});
