/** Refactorings in the client that requests them: when none is offered, what is refused, what clients that can do less or more are given. */
import { expect, test } from 'vitest';
import {
  CancellationTokenSource,
  type CodeAction,
  CodeActionRequest,
  CodeActionResolveRequest,
} from 'vscode-languageserver-protocol/node';
import { sessions, sharedSession } from './one-session.ts';
import { offered, RESOLVING, taken, titled } from './refactoring-steps.ts';
import { BOARDS, PARTS, WORKSHOP } from './workshop.ts';

const start = sessions();
const theSession = sharedSession({ files: WORKSHOP, capabilities: RESOLVING });

test('no refactoring of a text that is half typed, of shipped parts, or while the cursor only moves', async () => {
  const session = theSession();
  await session.open('parts/motors.fettle', PARTS.replace('kv: 3900 rpm/V +- 3 %', 'kv 3900 {'));
  const isOne = ({ kind }: CodeAction): boolean => kind !== 'refactor.rewrite';
  expect((await offered(session, 'parts/motors.fettle', '  resistance', 'rated: 3S')).filter(isOne)).toEqual([]);
  await session.change('parts/motors.fettle', PARTS);
  const position = session.inside('parts/motors.fettle', 'M1506_3900');
  const unasked = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri('parts/motors.fettle') },
    range: { start: position, end: position },
    context: { diagnostics: [], triggerKind: 2 },
  });
  expect(unasked).toEqual([]);
});

test('what was offered for an older text is refused', async () => {
  const session = theSession();
  await session.open('parts/boards.fettle', BOARDS);
  const action = titled(await offered(session, 'parts/boards.fettle', 'Board50 like'), /^Inline/);
  await session.change('parts/boards.fettle', BOARDS.replace('50 A', '55 A'));
  await expect(session.connection.sendRequest(CodeActionResolveRequest.type, action)).rejects.toThrow(/changed since/);
});

test('a client that resolves nothing gets the edit at once, one that creates no files no new file, one that reads changes these', async () => {
  const textDocument = {
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
    publishDiagnostics: { versionSupport: true },
  };
  const session = await start({ files: WORKSHOP, capabilities: { textDocument } });
  await session.open('parts/boards.fettle', BOARDS);
  const actions = await offered(session, 'parts/boards.fettle', 'Board50 like');
  expect(actions.map(({ title }) => title)).not.toContainEqual(expect.stringContaining('new file'));
  expect(actions.length).toBeGreaterThan(1);
  for (const { edit, title } of actions) {
    expect(Object.keys(edit?.changes ?? {}), title).toContain(session.uri('parts/boards.fettle'));
    expect(edit?.documentChanges, title).toBeUndefined();
  }
});

test('a client that can prompt for a name is shown where the new one is written', async () => {
  const options = { files: WORKSHOP, capabilities: RESOLVING };
  for (const commands of [['fettle.renameAt'], []]) {
    const session = await start({ ...options, initializationOptions: { commands } });
    await session.open('parts/motors.fettle', PARTS);
    const extract = titled(await offered(session, 'parts/motors.fettle', '  no_load', 'rated: 3S'), /^Extract/);
    const resolved = await session.connection.sendRequest(CodeActionResolveRequest.type, extract);
    const after = await taken(session, WORKSHOP, resolved);
    const [place] = resolved.command?.arguments ?? [];
    expect(resolved.command?.command).toBe(commands[0]);
    if (commands.length === 0) continue;
    expect(place.uri).toBe(session.uri('parts/motors.fettle'));
    const row = after['parts/motors.fettle']?.split('\n')[place.position.line] ?? '';
    expect(row.slice(place.position.character)).toMatch(/^M1506_3900_Base \{/);
  }
});

test('one that is taken can be cancelled', async () => {
  const session = theSession();
  await session.open('parts/boards.fettle', BOARDS);
  const action = titled(await offered(session, 'parts/boards.fettle', 'Board50 like'), /^Inline/);
  const cancellation = new CancellationTokenSource();
  const answer = session.connection.sendRequest(CodeActionResolveRequest.type, action, cancellation.token);
  cancellation.cancel();
  await expect(answer).rejects.toThrow(/cancel/i);
  expect(session.logged.filter((line) => line.includes('Internal error'))).toEqual([]);
});
