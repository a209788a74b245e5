/** Requests of our own, and the command that explains a result; `reference/protocol.md` describes them. */
import { expect, test } from 'vitest';
import { ExecuteCommandRequest, HoverRequest } from 'vscode-languageserver-protocol/node';
import {
  type BuildRequirements,
  buildsRequest,
  requirementsRequest,
} from '../../packages/language/src/editor/requests/protocol.ts';
import { examplesIn } from './example-files.ts';
import { sessions, sharedSession } from './one-session.ts';
import type { Session } from './session.ts';
import { PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const theSession = sharedSession({ files: WORKSHOP });
const BUILD = 'builds/rafter.fettle';
const EXAMPLES = Object.fromEntries(examplesIn('broken', 'builds', 'parts', 'rules', 'stands', 'logs'));

test('every build of the workspace is listed with its packs', async () => {
  const twin = 'use "../parts"\n\nbuild Twin like Rafter {\n  pack: Slim900_3S as Light\n}\n';
  const session = await start({ files: { ...WORKSHOP, 'builds/twin.fettle': twin } });
  const { builds } = await session.connection.sendRequest(buildsRequest, {});
  expect(builds).toEqual([
    {
      uri: session.uri(BUILD),
      name: 'Rafter',
      title: 'Rafter, roof-void survey',
      range: { start: { line: 2, character: 6 }, end: { line: 2, character: 12 } },
      packs: ['Slim900_3S', 'Slim900_5S'],
    },
    expect.objectContaining({ name: 'Twin', uri: session.uri('builds/twin.fettle') }),
  ]);
  expect(builds[1]?.packs).toContain('Light');
});

async function requirements(session: Session): Promise<readonly BuildRequirements[]> {
  return (await session.connection.sendRequest(requirementsRequest, { uri: session.uri(BUILD) })).builds;
}

test('requirements come with their line, and on each pack a verdict with both sides in numbers', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER.replace('hover_time >= 1 min', 'thrust_to_weight >= 30'));
  const [rafter] = await requirements(session);
  expect(rafter).toMatchObject({ build: 'Rafter', title: 'Rafter, roof-void survey' });
  const [thrust, voltage] = rafter?.requirements ?? [];
  expect(thrust).toMatchObject({
    text: 'thrust_to_weight >= 30',
    because: 'one roof bay and back',
    uri: session.uri(BUILD),
  });
  expect(thrust && session.textAt(BUILD, thrust.range)).toMatch(/^require thrust_to_weight >= 30/);
  expect(thrust?.packs.map(({ pack, verdict }) => [pack, verdict])).toEqual([
    ['Slim900_3S', 'fails'],
    ['Slim900_5S', 'fails'],
  ]);
  expect(thrust?.packs[0]?.message).toMatch(
    /^thrust-to-weight [\d.]+ (?:± [\d.]+|\([\d.]+ to [\d.]+\)), required ≥ 30$/,
  );
  expect(thrust?.packs[0]?.shortMessage).toBe(thrust?.packs[0]?.message.replace('thrust-to-weight ', ''));
  expect(voltage?.packs.map(({ verdict }) => verdict)).toEqual(['holds', 'holds']);

  await session.changeWithoutWaiting(BUILD, RAFTER.replace('hover_time >= 1 min', '30 <= thrust_to_weight'));
  const [turned] = await requirements(session);
  const [onFirst] = turned?.requirements[0]?.packs ?? [];
  expect(onFirst?.message).toBe(thrust?.packs[0]?.message);
  expect(onFirst?.shortMessage).toBeUndefined();

  // The answer is that of the text as it is now, without waiting for anything.
  await session.changeWithoutWaiting(BUILD, RAFTER);
  const [now] = await requirements(session);
  expect(now?.requirements[0]?.packs.map(({ verdict }) => verdict)).toEqual(['holds', 'holds']);
});

test('the checks hold on a pack without errors only, and what cannot be judged does not hold', async () => {
  const session = theSession();
  const checksOf = async (text: string, build = 'Rafter') => {
    await session.changeWithoutWaiting(BUILD, text);
    const found = (await requirements(session)).find((one) => one.build === build);
    return found?.packs.map(({ checks }) => [checks.verdict, checks.message]);
  };
  await session.open(BUILD, RAFTER);
  const fine = ['holds', 'no errors'];
  expect(await checksOf(RAFTER)).toEqual([fine, fine]);
  const unlimited = RAFTER.replace(' duty 58 %', '');
  expect(await checksOf(unlimited)).toEqual([fine, ['fails', expect.stringMatching(/\bmotor-overvoltage\b/)]]);
  const accepted = unlimited.replace(
    '  item: Strap',
    '  item: Strap\n  accept motor-overvoltage because "on the bench"',
  );
  expect(await checksOf(accepted)).toEqual([fine, fine]);
  const slip = ['cannot be judged', expect.stringMatching(/^not judged: no such item: Strip/)];
  expect(await checksOf(RAFTER.replace('item: Strap', 'item: Strip'))).toEqual([slip, slip]);
  const other = `${RAFTER}\nbuild Other like Rafter { item: Strip }\n`;
  expect(await checksOf(other)).toEqual([fine, fine]);
  expect(await checksOf(other, 'Other')).toEqual([slip, slip]);
  const bare = RAFTER.replace(/ *motors: .*\n/, '');
  const lacking = ['cannot be judged', expect.stringMatching(/^not judged: Rafter /)];
  expect(await checksOf(bare)).toEqual([lacking, lacking]);
  const copied = `${bare}\nbuild Whole like Rafter { motors: 4 x M1506_3900 with P3022x3 }\n`;
  expect(await checksOf(copied)).toEqual([lacking, lacking]);
  expect(await checksOf(copied, 'Whole')).toEqual([fine, fine]);
});

test('a requirement is reported by its own item alone; a margin that is not kept, which has no item, by the checks', async () => {
  const rules = 'rules Club {\n  require hover_time >= 90 min\n}\n';
  const session = await start({ files: { ...WORKSHOP, 'parts/rules.fettle': rules } });
  const judged = async (lines: string) => {
    await session.changeWithoutWaiting(BUILD, RAFTER.replace('  item: Strap', `${lines}\n  item: Strap`));
    const [rafter] = await requirements(session);
    return [
      rafter?.packs.map(({ checks }) => [checks.verdict, checks.message]),
      rafter?.requirements.flatMap((one) => one.packs.map(({ verdict }) => verdict)).filter((one) => one === 'fails'),
    ];
  };
  await session.open(BUILD, RAFTER);
  const fine = ['holds', 'no errors'];
  const failed = ['fails', 'fails'];
  expect(await judged('  require all_up_weight <= 60 g')).toEqual([[fine, fine], failed]);
  expect(await judged('  rules: Club')).toEqual([[fine, fine], failed]);
  expect(await judged('  require hover_speed <= 1 rpm')).toEqual([[fine, fine], failed]);
  const unkept = ['fails', 'requirement-fails'];
  expect(await judged('  keep 95 % in reserve on motor.burst')).toEqual([[unkept, unkept], []]);
});

test('over all examples, a file has an error exactly where the checks or requirements of a build do not hold', async () => {
  const session = await start({ files: EXAMPLES });
  const { builds } = await session.connection.sendRequest(buildsRequest, {});
  const isBroken = (uri: string) =>
    session.published.findLast((one) => one.uri === uri)?.diagnostics.some(({ severity }) => severity === 1) === true;
  const uris = [...new Set(builds.map(({ uri }) => uri))];
  // Of the eleven slips two are warnings, and one is in a file without a build.
  expect(uris.filter(isBroken)).toHaveLength(8);
  for (const uri of uris) {
    const answer = await session.connection.sendRequest(requirementsRequest, { uri });
    const verdicts = answer.builds.flatMap(({ packs, requirements }) => [
      ...packs.map(({ checks }) => checks.verdict),
      ...requirements.flatMap((one) => one.packs.map(({ verdict }) => verdict)),
    ]);
    const isRefused = verdicts.some((verdict) => verdict === 'fails' || verdict === 'cannot be judged');
    expect([uri, isRefused]).toEqual([uri, isBroken(uri)]);
  }
});

test('a requirement of a rules file is reported with its place there', async () => {
  const rules = 'rules Club {\n  require hover_time >= 1 min\n}\n';
  const session = await start({ files: { ...WORKSHOP, 'parts/rules.fettle': rules } });
  await session.open(BUILD, RAFTER.replace('  item: Strap', '  rules: Club\n  item: Strap'));
  const [rafter] = await requirements(session);
  const uris = rafter?.requirements.map(({ uri }) => uri);
  expect(uris).toContain(session.uri('parts/rules.fettle'));
});

test('packs come with their lines, inherited ones with those of the file they are in', async () => {
  const twin = 'use "../parts"\n\nbuild Twin like Rafter {\n  pack: Slim900_3S as Light\n}\n';
  const session = await start({ files: { ...WORKSHOP, 'builds/twin.fettle': twin } });
  await session.open(BUILD, RAFTER);
  await session.open('builds/twin.fettle', twin);
  const uri = session.uri('builds/twin.fettle');
  const { builds } = await session.connection.sendRequest(requirementsRequest, { uri });
  const lines = builds[0]?.packs.map(({ pack, uri, range }) => {
    const path = uri === session.uri(BUILD) ? BUILD : 'builds/twin.fettle';
    return [pack, path, session.textAt(path, range)];
  });
  expect(lines).toEqual([
    ['Slim900_3S', BUILD, 'pack: Slim900_3S'],
    ['Slim900_5S', BUILD, 'pack: Slim900_5S duty 58 %'],
    ['Light', 'builds/twin.fettle', 'pack: Slim900_3S as Light'],
  ]);
});

test('an answer from a half-typed file, or from half-typed rules, is marked as incomplete', async () => {
  const rules = 'rules Club {\n  require hover_time >= 1 min\n}\n';
  const session = await start({ files: { ...WORKSHOP, 'parts/rules.fettle': rules } });
  const text = RAFTER.replace('  item: Strap', '  rules: Club\n  item: Strap');
  await session.open(BUILD, text);
  await session.open('parts/rules.fettle', rules);
  const isComplete = async () =>
    (await session.connection.sendRequest(requirementsRequest, { uri: session.uri(BUILD) })).isComplete;
  expect(await isComplete()).toBe(true);
  for (const [whole, half] of [
    ['require hover_time >= 1 min', 'require hover_time >='],
    ['pack: Slim900_5S', 'pack: Slim900_5'],
    ['rules: Club', 'rules: Clu'],
    ['build Rafter "Rafter, roof-void survey"', 'build'],
  ] as const) {
    await session.changeWithoutWaiting(BUILD, text.replace(whole, half));
    expect(await isComplete()).toBe(false);
  }
  await session.changeWithoutWaiting(BUILD, text);
  expect(await isComplete()).toBe(true);
  await session.changeWithoutWaiting('parts/rules.fettle', rules.replace('1 min', ''));
  expect(await isComplete()).toBe(false);
});

test('a request about no Fettle file is refused', async () => {
  const session = theSession();
  const asked = session.connection.sendRequest(requirementsRequest, { uri: session.uri('none.fettle') });
  await expect(asked).rejects.toThrow('no such Fettle file');
});

async function explain(session: Session, argument: object): Promise<string> {
  return session.connection.sendRequest(ExecuteCommandRequest.type, {
    command: 'fettle.explain',
    arguments: [argument],
  });
}

test('a result is explained by formula, numbers and source, down to the results it rests on', async () => {
  const session = theSession();
  expect(session.initializeResult.capabilities.executeCommandProvider?.commands).toEqual([
    'fettle.explain',
    'fettle.compare',
    'fettle.choose',
    'fettle.take',
    'fettle.try',
    'fettle.sensitivity',
  ]);
  await session.open(BUILD, RAFTER);
  const asked = { uri: session.uri(BUILD), build: 'Rafter', pack: 'Slim900_5S', result: 'thrust_to_weight' };
  const text = await explain(session, asked);
  expect(text).toMatch(/^Rafter on Slim900_5S\n\n# thrust-to-weight: [\d.]+ (?:± [\d.]+|\([\d.]+ to [\d.]+\))\n/);
  expect(text).toMatch(/^## all-up weight: [\d.]+ ± [\d.]+ g$/m);
  expect(text).toMatch(/\| 12\.40 ± [\d.]+ g \| mass of M1506_3900 \||\| 49\.6\d* ± [\d.]+ g \|/);
  expect(text.match(/^Source: /gm)?.length).toBeGreaterThan(1);
  expect(text.match(/^The ± comes from: .+ \d+ % .*of its variance/gm)).toHaveLength(1);
});

test.each([
  [{ result: 'flight_of_fancy' }, 'no such result: flight_of_fancy'],
  [{ pack: 'Slim999' }, 'Rafter has no pack Slim999'],
  [{ build: 'Attic' }, 'no build Attic'],
  [{ result: 7 }, 'fettle.explain takes'],
])('what cannot be explained is refused in words: %j', async (wrong, problem) => {
  const session = theSession();
  const asked = { uri: session.uri(BUILD), build: 'Rafter', result: 'hover_time', ...wrong };
  await expect(explain(session, asked)).rejects.toThrow(problem);
});

test('the packs of a build are put side by side, each with what it differs from the first by', async () => {
  const session = theSession();
  await session.open(BUILD, RAFTER);
  const compare = (argument: object): Promise<string> =>
    session.connection.sendRequest(ExecuteCommandRequest.type, { command: 'fettle.compare', arguments: [argument] });
  const asked = { uri: session.uri(BUILD), build: 'Rafter' };
  const text = await compare(asked);
  expect(text).toMatch(/^# Rafter on each of its packs\n\n\| \| `Slim900_3S` \| `Slim900_5S` \|\n/);
  expect(text).toMatch(
    /^\| all-up weight \| [\d.]+ ± [\d.]+ g \| [\d.]+ ± [\d.]+ g +\(\+[\d.]+ ± [\d.]+ g \\\*\) \|$/m,
  );

  await expect(compare({ uri: asked.uri })).rejects.toThrow('fettle.compare takes { uri, build }');
  await session.change(BUILD, RAFTER.replace(/^.*pack: Slim900_5S.*\n/m, ''));
  await expect(compare(asked)).rejects.toThrow('Rafter has one pack at most: there is nothing to compare');
});

async function hoverOn(session: Session, piece: string): Promise<string> {
  const answer = await session.connection.sendRequest(
    HoverRequest.type,
    session.at(BUILD, session.inside(BUILD, piece)),
  );
  return JSON.stringify(answer?.contents);
}

test('a hover ends with the derivation, or with a link to it where the client can show it', async () => {
  const plain = theSession();
  await plain.open(BUILD, RAFTER);
  const reported = await hoverOn(plain, 'hover_time');
  expect(reported).toContain('Source: ');
  expect(reported).not.toContain('command:');

  const commands = ['fettle.showExplanation', 'fettle.showUses', 'fettle.openSheet'];
  const rich = await start({ files: WORKSHOP, initializationOptions: { commands } });
  await rich.open(BUILD, RAFTER);
  const linked = await hoverOn(rich, 'hover_time');
  expect(linked).not.toContain('Source: ');
  const [, query = ''] = /\(command:fettle\.showExplanation\?([^)]*)\)/.exec(linked) ?? [];
  const [asked] = JSON.parse(decodeURIComponent(query)) as [object];
  expect(await explain(rich, asked)).toContain('# hover time');
});

test('lenses call only the commands that the client has named', async () => {
  const commands = ['fettle.showUses', 'fettle.openSheet'];
  const session = await start({ files: WORKSHOP, initializationOptions: { commands } });
  await session.open(BUILD, RAFTER);
  await session.open('parts/motors.fettle', PARTS);
  const [, ofBuild] = await session.lensesOf(BUILD);
  const argument = { uri: session.uri(BUILD), build: 'Rafter' };
  expect(ofBuild?.command).toEqual({ title: 'open build sheet', command: 'fettle.openSheet', arguments: [argument] });
  const ofMotor = (await session.lensesOf('parts/motors.fettle')).find(
    ({ command }) => command?.title === 'used by 1 build',
  );
  expect(ofMotor?.command?.command).toBe('fettle.showUses');

  const titles = async () => (await session.lensesOf(BUILD)).map(({ command }) => command?.title);
  expect(await titles()).not.toContain('compare packs');

  const plain = theSession();
  await plain.open(BUILD, RAFTER);
  expect((await plain.lensesOf(BUILD)).filter(({ command }) => command?.command !== '')).toEqual([]);
});

test('a lens offers to add what was measured, to a client that can', async () => {
  const session = await start({ files: WORKSHOP, initializationOptions: { commands: ['fettle.addMeasured'] } });
  await session.open(BUILD, RAFTER);
  const lens = (await session.lensesOf(BUILD)).find(({ command }) => command?.title === 'add what I measured');
  expect(lens?.command).toEqual({
    title: 'add what I measured',
    command: 'fettle.addMeasured',
    arguments: [{ uri: session.uri(BUILD), build: 'Rafter' }],
  });
});

test('a lens puts the packs of a build side by side, where there are several', async () => {
  const session = await start({ files: WORKSHOP, initializationOptions: { commands: ['fettle.comparePacks'] } });
  const titles = async () => (await session.lensesOf(BUILD)).map(({ command }) => command?.title);
  await session.open(BUILD, RAFTER);
  expect(await titles()).toEqual(['no error, no warning', 'compare packs']);
  await session.change(BUILD, RAFTER.replace(/^.*pack: Slim900_5S.*\n/m, ''));
  expect(await titles()).toEqual(['no error, no warning']);
});
