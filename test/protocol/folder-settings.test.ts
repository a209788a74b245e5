/** What a folder of the workspace sets: hints, how findings are shown, units. None of it touches a verdict. */
import { expect, onTestFinished, test } from 'vitest';
import {
  CodeLensRequest,
  DiagnosticSeverity,
  DidChangeConfigurationNotification,
  HoverRequest,
  InlayHintRequest,
} from 'vscode-languageserver-protocol/node';
import { requirementsRequest, statusRequest } from '../../packages/language/src/editor/requests/protocol.ts';
import { FINDING_IDS } from '../../packages/language/src/vocabulary/findings.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { MemoryServer } from './memory-server.ts';
import { Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

/** With a pack on more cells than the motor is made for: an error. */
const UNSAFE = RAFTER.replace(' duty 58 %', '');
const CRAFT = { ...WORKSHOP, 'builds/rafter.fettle': UNSAFE };
const within = (folder: string) =>
  Object.fromEntries(Object.entries(CRAFT).map(([path, text]) => [`${folder}/${path}`, text]));

async function twoFolders(settingsIn: (folder: string) => unknown): Promise<Session> {
  const session = await Session.start({
    files: { ...within('ours'), ...within('theirs') },
    folders: ['ours', 'theirs'],
    settingsIn,
  });
  onTestFinished(async () => {
    await session.stop();
  });
  return session;
}

const build = (folder: string): string => `${folder}/builds/rafter.fettle`;

async function severitiesOf(session: Session, folder: string): Promise<ReadonlyMap<string, number | undefined>> {
  const path = build(folder);
  const found = await session.open(path, UNSAFE);
  return new Map(found.map(({ code, severity }) => [String(code), severity]));
}

test('each folder has its own: hints, severities and units of one leave the other as it is', async () => {
  const session = await twoFolders((folder) =>
    folder === 'ours'
      ? {
          hints: { packs: false },
          severities: { 'motor-overvoltage': 'hint', estimates: 'off' },
          units: ['oz', 'nonsense'],
        }
      : undefined,
  );
  const [ours, theirs] = [await severitiesOf(session, 'ours'), await severitiesOf(session, 'theirs')];
  expect(theirs.get('motor-overvoltage')).toBe(DiagnosticSeverity.Error);
  expect(ours.get('motor-overvoltage')).toBe(DiagnosticSeverity.Hint);
  expect([ours.has('estimates'), theirs.has('estimates')]).toEqual([false, true]);

  const hover = async (folder: string) =>
    JSON.stringify(
      await session.connection.sendRequest(
        HoverRequest.type,
        session.at(build(folder), session.inside(build(folder), 'Rafter')),
      ),
    );
  expect(await hover('ours')).toMatch(/all-up weight \| [\d.]+ ± [\d.]+ oz/);
  expect(await hover('theirs')).toMatch(/all-up weight \| [\d.]+ ± [\d.]+ g/);

  const hints = async (folder: string) => {
    const range = { start: { line: 0, character: 0 }, end: { line: 999, character: 0 } };
    const textDocument = { uri: session.uri(build(folder)) };
    return JSON.stringify(await session.connection.sendRequest(InlayHintRequest.type, { textDocument, range }));
  };
  expect(await hints('ours')).not.toContain('x weight');
  expect(await hints('theirs')).toContain('x weight');
});

test('what is off is counted by no lens and no status, none of which claims a craft fit for it; the test explorer takes no notice', async () => {
  const all = Object.fromEntries(FINDING_IDS.map((id) => [id, 'off']));
  const session = await twoFolders((folder) => (folder === 'ours' ? { severities: all } : undefined));
  expect([...(await severitiesOf(session, 'ours'))]).toEqual([]);
  const answers = await Promise.all(
    ['ours', 'theirs'].map(async (folder) => {
      await severitiesOf(session, folder);
      const uri = session.uri(build(folder));
      const [lenses, status, tests] = await Promise.all([
        session.connection.sendRequest(CodeLensRequest.type, { textDocument: { uri } }),
        session.connection.sendRequest(statusRequest, { uri }),
        session.connection.sendRequest(requirementsRequest, { uri }),
      ]);
      const packs = tests.builds.flatMap((one) => one.packs.map(({ pack, checks }) => [pack, checks.verdict]));
      return { lens: lenses?.map(({ command }) => command?.title), status, packs };
    }),
  );
  expect(answers[0]?.lens?.[0]).toMatch(/^no error, no warning shown, \d+ off in the settings$/);
  expect(answers[1]?.lens?.[0]).toMatch(/^1 error/);
  expect(answers[0]?.status.builds[0]).toMatchObject({
    worry: 'unjudged',
    text: expect.stringMatching(/^no verdict: .*motor-overvoltage.* off in the settings$/),
  });
  expect(answers[1]?.status.builds[0]).toMatchObject({ worry: 'error', text: expect.stringMatching(/^1 error/) });
  expect(answers[0]?.packs).toEqual(answers[1]?.packs);
  expect(answers[0]?.packs).toContainEqual(['Slim900_5S', 'fails']);
});

test('a changed setting shows at once, without an edit', async () => {
  let severities: Record<string, string> = {};
  const session = await twoFolders(() => ({ severities }));
  expect((await severitiesOf(session, 'ours')).get('motor-overvoltage')).toBe(DiagnosticSeverity.Error);
  severities = { 'motor-overvoltage': 'warning' };
  const seen = session.published.length;
  await session.connection.sendNotification(DidChangeConfigurationNotification.type, { settings: null });
  await expect
    .poll(
      () =>
        session.published
          .slice(seen)
          .findLast(({ uri }) => uri === session.uri(build('ours')))
          ?.diagnostics.find(({ code }) => code === 'motor-overvoltage')?.severity,
    )
    .toBe(DiagnosticSeverity.Warning);
});

test.each([
  null,
  7,
  'off',
  { severities: 7, units: 'oz', hints: null },
  { severities: { 'motor-overvoltage': 'loud', constructor: 'off', nothing: 'off' }, units: [7, {}, '—'] },
])('what is no setting is left aside: %j', async (settings) => {
  const session = await twoFolders(() => settings);
  expect((await severitiesOf(session, 'ours')).get('motor-overvoltage')).toBe(DiagnosticSeverity.Error);
});

test('the status counts, names minutes no finer than they are known, and is silent while a line is half typed', async () => {
  const path = 'builds/rafter.fettle';
  const files = new Map(Object.entries(WORKSHOP));
  const server = await MemoryServer.start(files, new Map([[path, RAFTER]]));
  const uri = uriOf(path).toString();
  const status = () =>
    server.ask<{ isBeingWritten: boolean; builds: { worry: string; text: string }[] }>('fettle/status', { uri });
  const whole = await status();
  expect(whole.isBeingWritten).toBe(false);
  expect(whole.builds[0]?.text).toMatch(/^(fit to fly on 2 packs|\d+ warnings?) · [\d.]+ (to [\d.]+ )?min$/);
  await server.changeText(path, RAFTER.replace('esc: Board32', 'esc: Boa'));
  await server.built();
  expect((await status()).isBeingWritten).toBe(true);
  await server.settled();
  const rested = await status();
  expect(rested.isBeingWritten).toBe(false);
  expect(rested.builds[0]).toMatchObject({ worry: 'error', text: expect.stringMatching(/^\d errors?/) });
  server.stop();
});
