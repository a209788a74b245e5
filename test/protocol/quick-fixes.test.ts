/** A quick fix in a text of other line breaks; what each writes is in `test/marked/fixes`. */
import { expect, test } from 'vitest';
import { type CodeAction, CodeActionRequest } from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const UNLIMITED = RAFTER.replace(' duty 58 %', '');
const LITERALS = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } };

test('the cursor is in the quotes where the client knows how, and CRLF stays', async () => {
  const capabilities = {
    textDocument: { codeAction: LITERALS },
    workspace: { workspaceEdit: { documentChanges: true, snippetEditSupport: true } },
  };
  const session = await start({ files: WORKSHOP, capabilities });
  const diagnostics = await session.open(BUILD, UNLIMITED.replaceAll('\n', '\r\n'));
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  const offered = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(BUILD) },
    range: overvoltage?.range ?? { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
    context: { diagnostics: [] },
  });
  const accept = (offered as CodeAction[]).find(({ title }) => title.startsWith('Accept this motor-overvoltage'));
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
