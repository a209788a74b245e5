/** Clients that declare little, or know one folder only. */
import { expect, test } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  DefinitionRequest,
  ReferencesRequest,
  RenameRequest,
} from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const MODEST = { textDocument: { publishDiagnostics: {} } };

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
  const diagnostics = await session.open(BUILD, RAFTER.replace('item: Strap', 'item: Stra'));
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
