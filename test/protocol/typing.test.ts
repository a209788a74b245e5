import { expect, test } from 'vitest';
import { DocumentSymbolRequest, HoverRequest } from 'vscode-languageserver-protocol/node';
import { cases } from '../long.ts';
import { sessions } from './one-session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

// All the way to the built server in a process of its own where there is time for it.
const start = sessions({ alone: cases(0, 1) === 1 });
const FILE = 'builds/typed.fettle';

test('typed letter by letter: no crash, never a stale answer, no flood, and the same end as opened at once', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(FILE, '');
  const characters = [...RAFTER.replace('Rafter', 'Typed')];
  let typed = '';
  for (const [index, character] of characters.entries()) {
    const end = session.document(FILE).positionAt(typed.length);
    typed += character;
    await session.changeWithoutWaiting(FILE, character, { start: end, end });
    if (index % 16 === 0) await session.completionsAt(FILE, session.document(FILE).positionAt(typed.length));
  }
  const { version } = session.document(FILE);
  const atTheEnd = await session.diagnosticsOf(FILE, version);

  const pushes = session.published.filter(({ uri }) => uri === session.uri(FILE));
  const versions = pushes.map((push) => push.version ?? 0);
  expect(versions).toEqual(versions.toSorted((left, right) => left - right));
  expect(new Set(versions).size).toBe(versions.length);
  expect(session.logged.filter((message) => /error/i.test(message))).toEqual([]);

  const other = await start({ files: WORKSHOP });
  expect(atTheEnd.map(({ message }) => message)).toEqual((await other.open(FILE, typed)).map(({ message }) => message));
});

test('a request right behind an edit is answered from the new text', async () => {
  const session = await start();
  await session.open(FILE, 'item Strap { mass: 1.6 g }\n');
  for (let round = 0; round < 20; round++) {
    const name = `Strap${round}`;
    await session.changeWithoutWaiting(FILE, `item ${name} "title ${round}" { mass: 1.6 g }\n`);
    const [symbols, hover] = await Promise.all([
      session.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri: session.uri(FILE) } }),
      session.connection.sendRequest(HoverRequest.type, session.at(FILE, { line: 0, character: 6 })),
    ]);
    expect(symbols).toMatchObject([{ name }]);
    expect(JSON.stringify(hover)).toContain(`title ${round}`);
  }
});
