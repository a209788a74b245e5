/** Somebody goes on typing before the answer comes: it is about the text that the client had when it sent the request. */
import { expect, test } from 'vitest';
import { CompletionRequest, DocumentFormattingRequest } from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';

const theSession = sharedSession({});

const FILE = 'new.fettle';
/** So long that letters arrive while it is read. */
const LONG = 'motor M { kv: 3000 rpm/V }\n'.repeat(3000);

test('an offer replaces what was typed of the word, not the letters that came later, nor what was behind them', async () => {
  const session = theSession();
  await session.open(FILE, `build B {\n}\n\nm{\n\n${LONG}`);
  const at = (character: number) => ({ line: 3, character });
  const typed = (letter: string, character: number) =>
    session.changeWithoutWaiting(FILE, letter, { start: at(character), end: at(character) });
  await typed('o', 1);
  const answer = session.connection.sendRequest(CompletionRequest.type, session.at(FILE, at(2)));
  await typed('t', 2);
  await typed('o', 3);
  const list = await answer;
  await session.close(FILE);
  const items = Array.isArray(list) ? list : (list?.items ?? []);
  expect(items.map(({ label }) => label)).toContain('motor');
  for (const { textEdit } of items) expect(textEdit).toMatchObject({ range: { start: at(0), end: at(2) } });
});

test('a layout is that of the text for which it was requested', async () => {
  const session = theSession();
  const top = { line: 0, character: 0 };
  const layoutOf = () =>
    session.connection.sendRequest(DocumentFormattingRequest.type, {
      textDocument: { uri: session.uri(FILE) },
      options: { tabSize: 2, insertSpaces: true },
    });
  await session.open(FILE, `build B {\n      weight: 3 g\n}\n${LONG}`);
  await session.changeWithoutWaiting(FILE, ' ', { start: top, end: top });
  const quiet = await layoutOf();
  await session.changeWithoutWaiting(FILE, '', { start: top, end: { line: 0, character: 1 } });
  await session.changeWithoutWaiting(FILE, ' ', { start: top, end: top });
  const answer = layoutOf();
  await session.changeWithoutWaiting(FILE, '// a note\n// and another\n', { start: top, end: top });
  expect(await answer).toEqual(quiet);
  await session.close(FILE);
});
