/** The sheet of a build, as an editor's view requests it. */
import { expect, test } from 'vitest';
import { type Location, ResponseError } from 'vscode-languageserver-protocol/node';
import {
  type BuildSheet,
  checkedNotification,
  type SheetAnswer,
  type SheetTarget,
  sheetRequest,
} from '../../packages/language/src/editor/requests/protocol.ts';
import { sessions } from './one-session.ts';
import type { Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

const ask = (session: Session, build = 'Rafter', path = BUILD): Promise<SheetAnswer> =>
  session.connection.sendRequest(sheetRequest, { uri: session.uri(path), build });

async function sheetOf(session: Session, build?: string, path?: string): Promise<BuildSheet> {
  const { sheet } = await ask(session, build, path);
  if (sheet === undefined) throw new Error('no sheet');
  return sheet;
}

const section = (sheet: BuildSheet, id: string) => sheet.sections.find((one) => one.id === id);
const htmlOf = (sheet: BuildSheet): string => sheet.sections.map(({ html }) => html).join('\n');

/** Where what is written with this text leads. */
function targetOf(sheet: BuildSheet, id: string, text: string): SheetTarget | undefined {
  const { html = '', targets = [] } = section(sheet, id) ?? {};
  const [, number] = new RegExp(`data-go="(\\d+)">(?:<code>)?${text}<`).exec(html) ?? [];
  return number === undefined ? undefined : targets[Number(number)];
}

const isLocation = (target: SheetTarget | undefined): target is Location => target !== undefined && 'uri' in target;

test('a sheet answers the questions of the job, section by section, from the text as typed', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  const sheet = await sheetOf(session);
  expect(sheet).toMatchObject({ build: 'Rafter', title: 'Rafter, roof-void survey', isComplete: true });
  expect(sheet.sections.map(({ id }) => id)).toEqual([
    ...['head', 'findings', 'asked', 'fly', 'surer', 'land', 'limits', 'weight', 'sizes', 'caution'],
  ]);
  const weightOf = (one: BuildSheet) => /all-up weight<\/th>.*?>(\d+\.\d)/.exec(section(one, 'fly')?.html ?? '')?.[1];
  const before = Number(weightOf(sheet));

  // 4 g more, not saved, not waited for; with two per cent of small things.
  await session.changeWithoutWaiting(BUILD, RAFTER.replace('item: Strap', 'item: Strap\n  item: 4 g "lamp"'));
  expect(Number(weightOf(await sheetOf(session)))).toBeGreaterThan(before + 2);
});

test('a quick sheet leaves out what is searched for, in its place', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  const requested = { uri: session.uri(BUILD), build: 'Rafter', quick: true };
  const { sheet: quick } = await session.connection.sendRequest(sheetRequest, requested);
  const whole = await sheetOf(session);
  const rows = (sheet: BuildSheet | undefined) => (sheet ? htmlOf(sheet) : '').match(/<tr>/g)?.length;
  expect(rows(quick)).toBe(rows(whole));
  expect(quick && section(quick, 'asked')?.html).toContain('>…<');
  expect(section(whole, 'asked')?.html).not.toContain('>…<');
  expect(section(whole, 'asked')?.html).toMatch(
    /; <span class="quiet">the pack may weigh \d+(\.\d+)? ± \d+(\.\d+)? g more</,
  );
});

test('what is in a sheet leads to its line, or to how it came about', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER.replace('hover_time >= 1 min', 'thrust_to_weight >= 30'));
  const sheet = await sheetOf(session);

  const found = section(sheet, 'findings')?.targets.map((one) => isLocation(one) && session.textAt(BUILD, one.range));
  expect(found).toContain('require thrust_to_weight >= 30 because "one roof bay and back"');
  const pack = targetOf(sheet, 'fly', 'Slim900_5S, duty 58 %');
  expect(isLocation(pack) && session.textAt(BUILD, pack.range)).toMatch(/^pack: Slim900_5S/);
  const requested = targetOf(sheet, 'asked', 'thrust_to_weight &gt;= 30');
  expect(isLocation(requested) && session.textAt(BUILD, requested.range)).toMatch(/^require thrust_to_weight/);

  // Masses and ratings are in the files of parts.
  const motor = targetOf(sheet, 'weight', 'M1506_3900');
  expect(isLocation(motor) && motor.uri).toBe(session.uri('parts/motors.fettle'));
  const limit = targetOf(sheet, 'limits', 'Board32, continuous rating');
  expect(isLocation(limit) && limit.uri).toBe(session.uri('parts/boards.fettle'));

  expect(section(sheet, 'fly')?.targets).toContainEqual({ pack: 'Slim900_3S', result: 'hover_time' });
});

test('no text of a file becomes markup in a sheet', async () => {
  const hostile = '<img src=x onerror=alert(1)></title><script>alert(2)</script>';
  const session = await start({ files: WORKSHOP });
  await session.open(
    BUILD,
    RAFTER.replace('"Rafter, roof-void survey"', `"${hostile}"`)
      .replace('"one roof bay and back"', `"${hostile}"`)
      .replace('item: Strap', `item: 3 g "${hostile}"`),
  );
  const html = htmlOf(await sheetOf(session));
  expect(html).not.toMatch(/<(?:img|script)|<[^>]* on\w+=|<[^>]* style=|javascript:/i);
  expect(html.match(/&lt;script&gt;/g)?.length).toBeGreaterThan(2);
});

test('while a line cannot be read the sheet reports that figures are missing', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER.replace('esc: Board32', 'esc: Boa'));
  expect(await sheetOf(session)).toMatchObject({ isComplete: false });
  // Half a requirement takes no figure away.
  await session.change(BUILD, RAFTER.replace('hover_time >= 1 min', 'hover_time >='));
  expect(await sheetOf(session)).toMatchObject({ isComplete: true });
  await session.change(BUILD, RAFTER.replace('pack: Slim900_5S', 'pack: Slim900_5'));
  expect(await sheetOf(session)).toMatchObject({ isComplete: false });
});

test('of a build that is not there the answer names those that are', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER.replace('build Rafter', 'build Purlin'));
  expect(await ask(session)).toEqual({ builds: ['Purlin'] });
});

test('a request about no file, or no build, is refused', async () => {
  const session = await start({ files: WORKSHOP });
  await expect(ask(session, 'Rafter', 'none.fettle')).rejects.toThrow('no such Fettle file');
  const wrong = { uri: session.uri(BUILD) } as { uri: string; build: string };
  await expect(session.connection.sendRequest(sheetRequest, wrong)).rejects.toBeInstanceOf(ResponseError);
});

test('where a mount states how it rings, the sheet shows what it passes on', async () => {
  const mount = 'mount Gel { frequency: 60 Hz measured  mass: 1 g }\n\nbuild';
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  expect(section(await sheetOf(session), 'shake')).toBeUndefined();
  const text = RAFTER.replace('build', mount).replace('from Board32.video', 'from Board32.video on Gel');
  await session.change(BUILD, text);
  const shake = section(await sheetOf(session), 'shake')?.html;
  expect(shake).toMatch(/Vibration that Gel passes on to Camera, on Slim900_3S/);
  expect(shake).toMatch(
    /Its natural frequency is 60(\.0)? Hz; in hover, at \d+ Hz, it passes on 0\.\d+ \(0\.\d+ to 0\.\d+\) times the vibration of the frame/,
  );
});

test('a client that requests it is notified which files were checked anew, and which are gone', async () => {
  const session = await start({ files: WORKSHOP, initializationOptions: { checked: true } });
  const reported: string[] = [];
  let arrived = (_uri: string): void => {};
  session.connection.onNotification(checkedNotification, ({ uris }) => {
    reported.push(...uris);
    for (const uri of uris) arrived(uri);
  });
  await session.open('parts/packs.fettle', WORKSHOP['parts/packs.fettle']);
  await ask(session);
  reported.length = 0;
  const isReported = (path: string) =>
    new Promise<void>((resolve) => {
      arrived = (uri) => uri === session.uri(path) && resolve();
    });
  const build = isReported(BUILD);
  await session.change('parts/packs.fettle', WORKSHOP['parts/packs.fettle'].replace('78.1 g', '79.3 g'));
  await build;
  expect(reported).not.toContain(session.uri('parts/boards.fettle'));

  const gone = isReported(BUILD);
  await session.deleteFile(BUILD);
  await gone;
});
