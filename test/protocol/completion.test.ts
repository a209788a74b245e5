/** What comes with an offer; what is offered where is in `test/marked/completion`. */
import { expect, test } from 'vitest';
import { CompletionResolveRequest } from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';
import { Session } from './session.ts';
import { PARTS, WORKSHOP } from './workshop.ts';

const theSession = sharedSession({ files: WORKSHOP });

const FILE = 'builds/new.fettle';
const MOTORS = 'parts/motors.fettle';

test('a property comes with its sentence', async () => {
  const session = theSession();
  await session.open(FILE, 'motor M {\n  \n}\n');
  const items = await session.completionsAt(FILE, session.behind(FILE, '{\n  '));
  await session.close(FILE);
  const kv = items.find(({ label }) => label === 'kv');
  expect(kv?.documentation).toMatchObject({ value: expect.stringContaining('Unloaded speed per volt') });
});

test('a client that resolves offers gets their documentation on request', async () => {
  const completionItem = {
    snippetSupport: true,
    documentationFormat: ['markdown' as const],
    resolveSupport: { properties: ['documentation'] },
  };
  const session = await Session.start({
    files: WORKSHOP,
    capabilities: { textDocument: { publishDiagnostics: {}, completion: { completionItem } } },
  });
  const text = `use "../parts"\nbuild B {\n  motors: 4 x \n}\n`;
  await session.open(FILE, text);
  const items = await session.completionsAt(FILE, session.behind(FILE, '4 x '));
  const motor = items.find(({ label }) => label === 'M1506_3900');
  expect(motor?.documentation).toBeUndefined();
  const resolved = motor && (await session.connection.sendRequest(CompletionResolveRequest.type, motor));
  expect(resolved).toMatchObject({ label: 'M1506_3900', textEdit: motor?.textEdit });
  expect(resolved?.documentation).toMatchObject({
    kind: 'markdown',
    value: expect.stringMatching(/\| kv \| 3900 ± 140 rpm\/V \|/),
  });
  // Of an earlier list nothing is known any more, and nothing wrong is stated.
  await session.completionsAt(FILE, session.behind(FILE, 'build B {\n  '));
  expect(motor && (await session.connection.sendRequest(CompletionResolveRequest.type, motor))).toEqual(motor);
  await session.stop();
});

test('a new build names parts in one order, whichever was edited last', async () => {
  const session = theSession();
  await session.open(FILE, 'use "../parts"\n\n');
  const offered = async () => {
    const items = await session.completionsAt(FILE, session.behind(FILE, '"../parts"\n'));
    return items.find(({ label }) => label === 'build')?.textEdit?.newText;
  };
  await session.open(MOTORS, PARTS);
  await session.open('parts/late.fettle', 'motor Late { kv: 2000 rpm/V }\n');
  const before = await offered();
  expect(before).toContain('Late,M1506_3900');
  await session.change(MOTORS, `${PARTS}\n`);
  expect(await offered()).toBe(before);
  await session.closeAll();
});
