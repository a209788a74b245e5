/** Refactorings that a marked case cannot show: none at a cursor where a line could be extracted, other line breaks. */
import { expect, test } from 'vitest';
import { type CodeAction, CodeActionRequest, type TextEdit } from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import type { Session } from './session.ts';

const start = sessions();
const FILE = 'parts.fettle';

/** The rewritings offered behind a piece of the text, each with the text that it leaves. */
async function rewritings(session: Session, text: string, piece: string): Promise<Map<string, string>> {
  await session.open(FILE, text);
  const position = session.behind(FILE, piece);
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(FILE) },
    range: { start: position, end: position },
    context: { diagnostics: [], only: ['refactor'] },
  });
  return new Map(
    (actions as CodeAction[]).map(({ title, edit }) => {
      const [change] = edit?.documentChanges ?? [];
      const edits = change !== undefined && 'edits' in change ? (change.edits as TextEdit[]) : [];
      return [title, session.withEdits(FILE, edits)];
    }),
  );
}

test('a plain number and a word are not written in another unit', async () => {
  const session = await start();
  const propeller = 'propeller Three {\n  diameter: 63.5 mm\n  blades: 3\n}\n';
  expect((await rewritings(session, propeller, 'blades: 3')).size).toBe(0);
  await session.closeAll();
  expect((await rewritings(session, propeller, 'diam')).size).toBe(0);
});

test('lines that a part still needs end as those of the file do', async () => {
  const session = await start();
  expect([...(await rewritings(session, 'pack Blue {\r\n  cells: 3S\r\n}\r\n', 'pack Bl'))]).toEqual([
    ['Add what Blue still needs: capacity', 'pack Blue {\r\n  cells: 3S\r\n  capacity:  mAh\r\n}\r\n'],
  ]);
});
