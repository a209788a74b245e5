/** Clients that declare little, or know one folder only. */
import { expect, test } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  DefinitionRequest,
  type Diagnostic,
  DocumentSymbolRequest,
  HoverRequest,
  ReferencesRequest,
  RenameRequest,
} from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import { codesOf } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const MODEST = { textDocument: { publishDiagnostics: {} } };
/** Without versions, the first findings may be those of the file on the disk. */
const isMisspelt = (diagnostics: readonly Diagnostic[]) => codesOf(diagnostics).includes('unknown-name');

test('a client that knows a root only has a workspace: a rename reaches files that are not open', async () => {
  const session = await start({ files: WORKSHOP, withRootOnly: true, capabilities: MODEST });
  await session.open(BUILD, RAFTER);
  const at = session.at(BUILD, session.inside(BUILD, 'Slim900_3S'));
  const edit = await session.connection.sendRequest(RenameRequest.type, { ...at, newName: 'Slim' });
  // And it reads `changes`, not `documentChanges`.
  expect(edit?.documentChanges).toBeUndefined();
  const places = Object.entries(edit?.changes ?? {}).map(([uri, edits]) => [uri, edits.length]);
  expect(places.sort()).toEqual([
    [session.uri(BUILD), 1],
    [session.uri('parts/packs.fettle'), 2],
  ]);
  const references = await session.connection.sendRequest(ReferencesRequest.type, {
    ...at,
    context: { includeDeclaration: true },
  });
  expect(references).toHaveLength(3);
});

test('a client that knows no links gets places, and fixes as changes', async () => {
  const session = await start({
    files: WORKSHOP,
    capabilities: {
      textDocument: {
        ...MODEST.textDocument,
        codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
      },
    },
  });
  await session.open(BUILD, RAFTER.replace('item: Strap', 'item: Stra'));
  const diagnostics = await session.diagnosticsWhere(BUILD, isMisspelt);
  const at = session.at(BUILD, session.inside(BUILD, 'M1506_3900'));
  const found = await session.connection.sendRequest(DefinitionRequest.type, at);
  expect(found).toEqual([{ uri: session.uri('parts/motors.fettle'), range: expect.anything() }]);
  const wrong = diagnostics.filter(({ code }) => code === 'unknown-name');
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: wrong[0]?.range ?? { start: at.position, end: at.position },
    context: { diagnostics: wrong },
  });
  const fix = (actions as CodeAction[]).find(({ title }) => /to Strap\b/i.test(title));
  expect(fix?.edit).toEqual({ changes: { [session.uri(BUILD)]: [{ range: wrong[0]?.range, newText: 'Strap' }] } });
});

test('a client that declares next to nothing gets words, flat symbols and bare findings, and no registrations', async () => {
  const session = await start({
    files: WORKSHOP,
    capabilities: { textDocument: { publishDiagnostics: {}, hover: {} } },
  });
  const { capabilities } = session.initializeResult;
  expect(capabilities.renameProvider).toBe(true);
  expect(capabilities.codeActionProvider).toBe(false);
  await session.open(BUILD, `use "../parts" as unused\n${RAFTER.replace('item: Strap', 'item: Stra')}`);
  const diagnostics = await session.diagnosticsWhere(BUILD, isMisspelt);
  const members = new Set(diagnostics.flatMap((one) => Object.keys(one)));
  expect([...members].sort()).toEqual(['code', 'message', 'range', 'severity', 'source']);

  const hover = await session.connection.sendRequest(
    HoverRequest.type,
    session.at(BUILD, session.inside(BUILD, 'Rafter')),
  );
  expect(hover?.contents).toMatchObject({ kind: 'plaintext', value: expect.stringContaining('build Rafter') });
  expect(hover?.contents).toMatchObject({ value: expect.not.stringMatching(/[*`|\\]|\]\(/) });
  for (const { documentation } of await session.completionsAt(BUILD, session.behind(BUILD, 'duty')))
    expect(documentation ?? { kind: 'plaintext' }).toMatchObject({ kind: 'plaintext' });

  const textDocument = { uri: session.uri(BUILD) };
  const symbols = await session.connection.sendRequest(DocumentSymbolRequest.type, { textDocument });
  expect(symbols).toContainEqual(
    expect.objectContaining({
      name: 'Slim900_3S',
      containerName: 'Rafter',
      location: expect.objectContaining(textDocument),
    }),
  );
  expect(symbols?.some((symbol) => 'children' in symbol)).toBe(false);
  expect(session.registered).toEqual([]);
});

test('what another program writes is followed for a client that cannot watch', async () => {
  const session = await start({ files: WORKSHOP, capabilities: MODEST });
  await session.open(BUILD, RAFTER);
  session.writeFile('parts/more.fettle', 'item Spare { mass: 3 kgg }\n');
  await session.diagnosticsWhere('parts/more.fettle', (reported) => codesOf(reported).includes('unknown-unit'));
  session.writeFile('parts/more.fettle', 'item Spare { mass: 3 g }\n');
  await session.diagnosticsWhere('parts/more.fettle', (reported) => reported.length === 0);
  session.writeFile('parts/more.fettle', 'item Spare { mass: 3 kgg }\n');
  await session.diagnosticsWhere('parts/more.fettle', (reported) => reported.length > 0);
  session.removeFolder('parts/more.fettle');
  await session.diagnosticsWhere('parts/more.fettle', (reported) => reported.length === 0);
});
