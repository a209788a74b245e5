/** Shortlists and trials in an editor: lenses, pages, and taking a row as an edit. */
import { expect, test } from 'vitest';
import {
  CodeActionRequest,
  CompletionRequest,
  DocumentFormattingRequest,
  ExecuteCommandRequest,
  HoverRequest,
  RenameRequest,
} from 'vscode-languageserver-protocol/node';
import { sessions } from './one-session.ts';
import type { Session } from './session.ts';
import { CHOICE, RAFTER, SHORTLIST, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

const execute = (session: Session, command: string, argument: object): Promise<string> =>
  session.connection.sendRequest(ExecuteCommandRequest.type, { command, arguments: [argument] }) as Promise<string>;

const takingsOf = async (session: Session) => {
  const range = { start: { line: 2, character: 12 }, end: { line: 2, character: 12 } };
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(CHOICE) },
    range,
    context: { diagnostics: [] },
  });
  return (actions ?? []).flatMap((action) => ('edit' in action && /^Take \d/.test(action.title) ? [action] : []));
};

test('a shortlist has a lens, its candidates a page with a picture, and a row is taken as an edit', async () => {
  const session = await start({
    files: { ...WORKSHOP, [CHOICE]: SHORTLIST },
    initializationOptions: { commands: ['fettle.showChoice'] },
  });
  await session.open(CHOICE, SHORTLIST);
  expect((await session.lensesOf(CHOICE)).map(({ command }) => command?.title)).toEqual(['show candidates']);
  expect(await takingsOf(session)).toEqual([]);

  const page = await execute(session, 'fettle.choose', { uri: session.uri(CHOICE), shortlist: 'Which' });
  expect(page).toMatch(/^# Which\n\n!\[Which\]\(data:image\/svg\+xml;utf8,%3Csvg[^()\s]+\)\n/);
  const svg = decodeURIComponent(/utf8,([^)]+)\)/.exec(page)?.[1] ?? '');
  expect(svg).toMatch(/^<svg .*prefers-color-scheme: dark.*prefers-contrast: more.*<\/svg>$/s);
  expect(page).toContain('3 candidates, none of them is rejected');

  // What is found is then above the shortlist; nothing is surely better than today in all that is preferred.
  const titles = (await session.lensesOf(CHOICE)).map(({ command }) => command?.title);
  expect(titles).toEqual(['3 of 3 candidates pass: show them']);
  expect(page).not.toContain('is better than Rafter is today');

  // The row that is as today's build is needs no edit.
  const [first] = await takingsOf(session);
  expect(first?.title).toBe('Take 2: Slim900_3S · duty 90 % in Rafter');
  expect(first?.edit?.documentChanges).toMatchObject([
    { textDocument: { uri: session.uri(BUILD), version: null }, edits: [{}] },
  ]);

  // What was found is valid for the text in which it was found.
  await session.change(CHOICE, SHORTLIST.replace('step 10 %', 'step 5 %'));
  expect(await takingsOf(session)).toEqual([]);
});

test('a shortlist that cannot be tried is refused with the reason', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(CHOICE, SHORTLIST.replace('  vary: Slim900_3S\n  vary: duty 80 % .. 100 % step 10 %\n', ''));
  const asked = execute(session, 'fettle.choose', { uri: session.uri(CHOICE), shortlist: 'Which' });
  await expect(asked).rejects.toThrow(/Which varies nothing yet/);
});

test('a build has a lens to try lines, and a page that shows what they do; the text stays', async () => {
  const session = await start({ files: WORKSHOP, initializationOptions: { commands: ['fettle.tryLines'] } });
  await session.open(BUILD, RAFTER);
  expect((await session.lensesOf(BUILD)).map(({ command }) => command?.title)).toContain('try…');
  const asked = { uri: session.uri(BUILD), build: 'Rafter' };
  const page = await execute(session, 'fettle.try', { ...asked, lines: ['item: 5 g'] });
  expect(page).toMatch(/^# Rafter, what if\n/);
  expect(page).toMatch(/\| all-up weight \| [^|]+ \| [^|]+ \| \+5\.\d/);
  await expect(execute(session, 'fettle.try', { ...asked, lines: ['item: 5 mm'] })).rejects.toThrow(/“item: 5 mm”/);
  await expect(execute(session, 'fettle.try', asked)).rejects.toThrow(/takes \{ uri, build, lines \}/);
});

test('the words of a shortlist are offered, its names renamed and shown, its layout made like that of other blocks', async () => {
  const session = await start({ files: { ...WORKSHOP, [CHOICE]: SHORTLIST } });
  const at = (line: number, character: number) => ({
    textDocument: { uri: session.uri(CHOICE) },
    position: { line, character },
  });
  const labelsAt = async (line: number, character: number) => {
    const found = await session.connection.sendRequest(CompletionRequest.type, at(line, character));
    return (Array.isArray(found) ? found : (found?.items ?? [])).map(({ label }) => label);
  };
  const half = SHORTLIST.replace('vary: Slim900_3S', 'vary: ');
  await session.open(CHOICE, half);
  const varied = await labelsAt(4, half.split('\n')[4]?.length ?? 0);
  expect(varied).toEqual(expect.arrayContaining(['Slim900_3S', 'pack', 'propeller', 'capacity']));
  expect(varied).not.toContain('Rafter');
  expect(await labelsAt(6, '  prefer: '.length)).toEqual(expect.arrayContaining(['hover_time', 'price']));
  expect(await labelsAt(3, '  for: '.length)).toContain('Rafter');

  await session.change(CHOICE, SHORTLIST);
  const hover = await session.connection.sendRequest(HoverRequest.type, at(4, 10));
  expect(JSON.stringify(hover?.contents)).toContain('Slim900_3S');
  const renamed = await session.connection.sendRequest(RenameRequest.type, { ...at(4, 10), newName: 'Slim' });
  const changed = renamed?.documentChanges?.flatMap((one) => ('textDocument' in one ? one.textDocument.uri : []));
  expect((changed ?? Object.keys(renamed?.changes ?? {})).sort()).toEqual(
    [BUILD, CHOICE, 'parts/packs.fettle'].map((path) => session.uri(path)).sort(),
  );

  await session.change(CHOICE, SHORTLIST.replaceAll('\n  ', '\n').replace('vary: duty 80', 'vary:   duty 80'));
  const edits = await session.connection.sendRequest(DocumentFormattingRequest.type, {
    textDocument: { uri: session.uri(CHOICE) },
    options: { tabSize: 2, insertSpaces: true },
  });
  expect(edits?.length).toBeGreaterThan(0);
});

test('what is surely better than today is a lens above the shortlist', async () => {
  const better = SHORTLIST.replace('  prefer: full_current\n', '').replace(
    'duty 80 % .. 100 % step 10 %',
    'duty 70 % .. 100 % step 15 %',
  );
  const session = await start({
    files: {
      ...WORKSHOP,
      [BUILD]: RAFTER.replace('pack: Slim900_3S\n', 'pack: Slim900_3S duty 65 %\n'),
      [CHOICE]: better,
    },
    initializationOptions: { commands: ['fettle.showChoice'] },
  });
  await session.open(CHOICE, better);
  await execute(session, 'fettle.choose', { uri: session.uri(CHOICE), shortlist: 'Which' });
  const titles = (await session.lensesOf(CHOICE)).map(({ command }) => command?.title);
  expect(titles).toEqual([
    expect.stringMatching(/candidates pass/),
    expect.stringMatching(/^surely better than Rafter today: Slim900_3S · duty \d+ %$/),
  ]);
});

test('a figure is tried with another value in the builds that rest on it; what a step does is a page', async () => {
  const session = await start({
    files: WORKSHOP,
    initializationOptions: { commands: ['fettle.tryLines', 'fettle.showSteps'] },
  });
  const MOTORS = 'parts/motors.fettle';
  const text = WORKSHOP[MOTORS] ?? '';
  await session.open(MOTORS, text);
  const at = text.indexOf('kv:') + 'kv: 1'.length;
  const line = text.slice(0, at).split('\n').length - 1;
  const position = { line, character: at - text.lastIndexOf('\n', at) - 1 };
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(MOTORS) },
    range: { start: position, end: position },
    context: { diagnostics: [], only: ['refactor'] },
  });
  const tried = (actions ?? []).flatMap((one) =>
    'command' in one && typeof one.command === 'object' ? [one.command] : [],
  );
  const [command] = tried.filter(({ title }) => title.startsWith('Try another'));
  expect(command?.title).toMatch(/^Try another kv in Rafter…$/);
  const [argument] = command?.arguments ?? [];
  expect(argument).toEqual({
    uri: session.uri(BUILD),
    build: 'Rafter',
    line: expect.stringMatching(/^\w+\.kv: \d+ rpm\/V$/),
  });
  // The line as it is changes nothing: it is what one edits.
  const page = await execute(session, 'fettle.try', { ...argument, lines: [argument.line] });
  expect(page).toMatch(/No finding comes or goes/);

  await session.open(BUILD, RAFTER);
  expect((await session.lensesOf(BUILD)).map((lens) => lens.command?.title)).toContain('what a step does');
  const steps = await execute(session, 'fettle.sensitivity', { uri: session.uri(BUILD), build: 'Rafter' });
  expect(steps).toMatch(/^# Rafter, what a step does\n/);
  expect(steps).toMatch(/\| 10 g more \| mass on board \| -\d/);
  expect(steps).toContain('**thrust-to-weight** of');
});

test('what a shortlist prefers is judged anew where the build in another file changes', async () => {
  const choice = SHORTLIST.replace('prefer: full_current', 'prefer: flight.Loop.time');
  const session = await start({ files: { ...WORKSHOP, [CHOICE]: choice } });
  await session.open(BUILD, RAFTER);
  const [before] = await session.open(CHOICE, choice);
  expect(before).toMatchObject({ code: 'unknown-name', message: expect.stringContaining('makes no flight Loop') });

  const flown = `flight Loop { leg: 1 min hover }\n${RAFTER.replace('  item: Strap\n', '  item: Strap\n  flight: Loop\n')}`;
  await session.change(BUILD, flown);
  await session.diagnosticsWhere(CHOICE, (diagnostics) => diagnostics.length === 0);
  await session.change(BUILD, RAFTER);
  await session.diagnosticsWhere(CHOICE, (diagnostics) => diagnostics.some(({ code }) => code === 'unknown-name'));
});
