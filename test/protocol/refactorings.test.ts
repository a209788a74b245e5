/** Changes of how something is written that keep what it states. */
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

const PROPELLER = 'propeller Three {\n  diameter: 63.5 mm\n  blades: 3\n}\n';

test('a figure is written in another unit, with the digits that it takes to mean the same', async () => {
  const session = await start();
  const offered = await rewritings(session, PROPELLER, '63');
  expect([...offered.values()]).toContain(PROPELLER.replace('63.5 mm', '2.5 in'));
  expect([...offered.values()]).toContain(PROPELLER.replace('63.5 mm', '6.35 cm'));
});

test('what a mass is of stays behind it, and is no part of the title', async () => {
  const session = await start();
  const build = 'build Odd {\n  item: 5 g "solder, wire"\n}\n';
  const offered = await rewritings(session, build, '5');
  expect(offered.get('Write it in mg: 5000 mg')).toBe(build.replace('5 g', '5000 mg'));
});

test('of a size or a range every side is converted', async () => {
  const session = await start();
  const motor = 'motor Mine {\n  stator: 12 x 4 mm\n  kv: 6000 rpm/V\n}\n';
  expect([...(await rewritings(session, motor, '12 x 4 mm')).values()]).toContain(
    motor.replace('12 x 4 mm', '1.2 x 0.4 cm'),
  );
  expect([...(await rewritings(session, motor, '12 x 4 mm')).keys()]).toContain('Write it in cm: 1.2 x 0.4 cm');
  await session.closeAll();
  const load = 'load Lamp {\n  draw: 2400 mW\n  supply: 4.5 V .. 12 V\n}\n';
  expect([...(await rewritings(session, load, '4.5 V')).values()]).toContain(
    load.replace('4.5 V .. 12 V', '4500 mV .. 12000 mV'),
  );
});

test('a sign is part of the number that is converted; half a number is not converted', async () => {
  const session = await start();
  const stand = 'bench Cold {\n  air: -5 degC\n}\n';
  const offered = await rewritings(session, stand, '-5');
  expect(offered.get('Write it in degF: 23 degF')).toBe(stand.replace('-5 degC', '23 degF'));
  expect(offered.get('Write it in K: 268.15 K')).toBe(stand.replace('-5 degC', '268.15 K'));
  await session.closeAll();
  const warm = 'bench Warm {\n  air: 14 degF\n}\n';
  expect([...(await rewritings(session, warm, '14')).values()]).toContain(warm.replace('14 degF', '-10 degC'));
  await session.closeAll();
  const comma = 'item Tape {\n  mass: 0,12 kg\n}\n';
  expect((await rewritings(session, comma, '0,12')).size).toBe(0);
});

test('minutes and seconds, plain numbers and words are left alone', async () => {
  const session = await start();
  const rules = 'rules House {\n  require hover_time >= 4 min 30 s\n}\n';
  expect((await rewritings(session, rules, '4')).size).toBe(0);
  await session.closeAll();
  expect((await rewritings(session, PROPELLER, 'blades: 3')).size).toBe(0);
  await session.closeAll();
  expect((await rewritings(session, PROPELLER, 'diam')).size).toBe(0);
});

test('a part gets the lines that it still needs, with their units, and nothing else', async () => {
  const session = await start();
  const pack = 'pack Blue {\n  cells: 3S\n}\n';
  const offered = await rewritings(session, pack, 'pack Bl');
  expect([...offered]).toEqual([
    ['Add what Blue still needs: capacity', 'pack Blue {\n  cells: 3S\n  capacity:  mAh\n}\n'],
  ]);
  await session.closeAll();
  const rows = pack.replaceAll('\n', '\r\n');
  expect([...(await rewritings(session, rows, 'pack Bl')).values()]).toEqual([
    'pack Blue {\r\n  cells: 3S\r\n  capacity:  mAh\r\n}\r\n',
  ]);
  await session.closeAll();
  expect([...(await rewritings(session, 'pack Blue { cells: 3S }\n', 'pack Bl')).values()]).toEqual([
    'pack Blue { cells: 3S  capacity:  mAh }\n',
  ]);
  await session.closeAll();
  expect([...(await rewritings(session, 'pack Blue { }\n', 'pack Bl')).values()]).toEqual([
    'pack Blue {\n  cells: S\n  capacity:  mAh\n}\n',
  ]);
  await session.closeAll();
  const whole = 'pack Blue { cells: 3S  capacity: 450 mAh }\n';
  expect((await rewritings(session, whole, 'pack Bl')).size).toBe(0);
});
