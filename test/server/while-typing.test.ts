/** The built server in a process of its own while somebody types: by the clock, with requests that are withdrawn, and with texts of no sense. */
import { expect, test } from 'vitest';
import {
  CancellationTokenSource,
  ExecuteCommandRequest,
  HoverRequest,
  LSPErrorCodes,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol/node';
import { requirementsRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { cases } from '../long.ts';
import { sessions } from '../protocol/one-session.ts';
import { PARTS, RAFTER, WORKSHOP } from '../protocol/workshop.ts';

const start = sessions({ alone: true });

test('by the clock: a finished wrong line within the pause, a half-written one after a rest', async () => {
  const FILE = 'builds/typed.fettle';
  const session = await start({ files: WORKSHOP, initializationOptions: { quietWhileTyping: true } });
  await session.open(FILE, RAFTER.replace('Rafter', 'Typed'));
  const at = session.behind(FILE, 'item: Strap');
  await session.changeWithoutWaiting(FILE, '\n  item: 3 kgg', { start: at, end: at });
  await session.diagnosticsWhere(FILE, (reported) => reported.some(({ code }) => code === 'unknown-unit'));
  const line = { line: at.line + 1, character: 0 };
  await session.changeWithoutWaiting(FILE, '  item: Stra', { start: line, end: { ...line, character: 13 } });
  await session.diagnosticsWhere(FILE, (reported) => reported.some(({ code }) => code === 'unknown-name'));
}, 20_000);

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
