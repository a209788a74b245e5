/** Letters that turn the direction of reading, or drive a terminal, in what a client shows as it comes. */
import { expect, test } from 'vitest';
import { CallHierarchyPrepareRequest, DocumentSymbolRequest } from 'vscode-languageserver-protocol/node';
import { requirementsRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { sessions } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const RAW = /[\p{Bidi_C}]|(?![\n\t])\p{Cc}/u;

test('are made visible in diagnostics, symbols, titles and calls', async () => {
  const session = await start({ files: WORKSHOP });
  const text = RAFTER.replace('Rafter, roof-void survey', 'Raf\u202eter\u001b[31m').replace(
    'item: Strap',
    'observed "log\u2066" with Slim900_3S { }\n  item: \u202eStrap',
  );
  const diagnostics = await session.open(BUILD, text);
  const uri = session.uri(BUILD);
  const symbols = await session.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri } });
  const { builds } = await session.connection.sendRequest(requirementsRequest, { uri });
  const calls = await session.connection.sendRequest(
    CallHierarchyPrepareRequest.type,
    session.at(BUILD, session.inside(BUILD, 'Rafter')),
  );
  const shown = JSON.stringify([diagnostics, symbols, builds.map(({ title }) => title), calls], (_, value) =>
    typeof value === 'string' && RAW.test(value) ? `RAW ${value}` : value,
  );
  expect(shown).not.toContain('RAW ');
  expect(shown).toContain('u{202e}ter');
  expect(shown).toContain('u{2066}');
  expect(diagnostics.some(({ message }) => JSON.stringify(message).includes('u{202e}'))).toBe(true);
});
