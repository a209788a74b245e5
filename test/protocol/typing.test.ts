import { expect, test } from 'vitest';
import {
  CancellationTokenSource,
  DocumentSymbolRequest,
  ExecuteCommandRequest,
  HoverRequest,
  LSPErrorCodes,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol/node';
import { requirementsRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { cases } from '../long.ts';
import { sessions } from './one-session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions({ alone: true });
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
    if (index % 16 === 0) {
      await session.completionsAt(FILE, session.document(FILE).positionAt(typed.length));
    }
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

const BUILDS = cases(8, 60);

test('requests are answered once each while one types, cancelled ones as well', async () => {
  // A part that many builds rest on: there is time to change one's mind.
  const builds = Array.from({ length: BUILDS }, (_, i) => [`builds/b${i}.fettle`, RAFTER.replace('Rafter', `B${i}`)]);
  const session = await start({ files: { ...WORKSHOP, ...Object.fromEntries(builds) } });
  const part = 'parts/motors.fettle';
  await session.open(part, PARTS);
  const explain = {
    command: 'fettle.explain',
    arguments: [{ uri: session.uri('builds/b0.fettle'), build: 'B0', result: 'all_up_weight' }],
  };
  const outcomes: (number | string)[] = [];
  for (let round = 0; round < 12; round++) {
    await session.changeWithoutWaiting(part, PARTS.replace(/mass: \d/, `mass: ${1 + (round % 9)}`));
    const source = new CancellationTokenSource();
    const asked = [
      session.connection.sendRequest(requirementsRequest, { uri: session.uri('builds/b0.fettle') }, source.token),
      session.connection.sendRequest(HoverRequest.type, session.at(part, { line: 0, character: 8 }), source.token),
      session.connection.sendRequest(WorkspaceDiagnosticRequest.type, { previousResultIds: [] }, source.token),
      session.connection.sendRequest(ExecuteCommandRequest.type, explain, source.token),
    ];
    if (round % 2 === 0) source.cancel();
    const settled = await Promise.allSettled(asked);
    outcomes.push(...settled.map((one) => (one.status === 'fulfilled' ? 'answered' : one.reason.code)));
  }
  expect(outcomes).toContain(LSPErrorCodes.RequestCancelled);
  expect(outcomes).toContain('answered');
  const known = ['answered', LSPErrorCodes.RequestCancelled, LSPErrorCodes.ContentModified];
  expect(outcomes.filter((outcome) => !known.includes(outcome))).toEqual([]);
  // What was answered twice has come by the time the next text is checked.
  await session.change(part, PARTS);
  expect(session.asked.length).toBeGreaterThanOrEqual(outcomes.length);
  expect(session.answered).toEqual(new Map(session.asked.map((id) => [id, 1])));
});

test('brackets without end and large files leave the server up', async () => {
  const session = await start();
  await session.open('deep.fettle', `build B {\n  require ${'('.repeat(5000)}\n}\n`);
  await session.open('long.fettle', `motor M { ${'kv: 1 rpm/V '.repeat(cases(4000, 20_000))} }\n`);
  await session.open('binary.fettle', '\u0000\u0001\u0002'.repeat(100));
  expect(await session.open('good.fettle', 'item Strap { mass: 1.6 g }\n')).toEqual([]);
});
