/** Refactorings as a client takes them: what is offered where, and the text that it leaves in each file. */
import { expect, test } from 'vitest';
import { CodeActionResolveRequest, TextDocumentEdit } from 'vscode-languageserver-protocol/node';
import { examplesIn, lightly } from './example-files.ts';
import { sessions, sharedSession } from './one-session.ts';
import { offered, RESOLVING, taken, titled } from './refactoring-steps.ts';
import { BOARDS, PACKS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

const theSession = sharedSession({ files: WORKSHOP, capabilities: RESOLVING });

test('selected lines become a base, with their comments; what is inlined again is what it was', async () => {
  const session = theSession();
  const text = PARTS.replace('  rated: 3S\n', '  // The cell count it is wound for.\n  rated: 3S  // and no more\n');
  await session.open('parts/motors.fettle', text);
  const files = { ...WORKSHOP, 'parts/motors.fettle': text };
  const actions = await offered(session, 'parts/motors.fettle', '  no_load', 'rated: 3S');
  const extract = titled(actions, 'Extract 2 lines of M1506_3900 into a base that it is like');
  // The edit is made when it is taken.
  expect(extract).toMatchObject({ kind: 'refactor.extract', data: expect.anything() });
  expect(extract.edit).toBeUndefined();
  const after = await taken(session, files, extract);
  expect(after['parts/motors.fettle']).toMatch(
    `motor M1506_3900_Base {
  no_load_current: 0.86 A at 11.1 V measured
  // The cell count it is wound for.
  rated: 3S  // and no more
}

// The winding the roof-void craft flies on.
motor M1506_3900 "1506 stator" like M1506_3900_Base {
  kv: 3900 rpm/V +- 3 %
  resistance: 74 mohm measured "milliohm meter"
  continuous: 11 A claimed
`,
  );
  await session.change('parts/motors.fettle', after['parts/motors.fettle'] ?? '');
  const back = titled(
    await offered(session, 'parts/motors.fettle', 'M1506_3900_Base {'),
    'Inline M1506_3900_Base into M1506_3900',
  );
  const again = await taken(session, after, back);
  // The lines come first; else it is the text it was.
  const moved =
    '  no_load_current: 0.86 A at 11.1 V measured\n  // The cell count it is wound for.\n  rated: 3S  // and no more\n';
  const expected = text.replace(moved, '').replace('"1506 stator" {\n', `"1506 stator" {\n${moved}`);
  expect(again['parts/motors.fettle']).toBe(expected);
});

const SHELF = `pack Eave_3S "for the eaves" {
  chemistry: lipo
  cells: 3S
  capacity: 850 mAh
  discharge: 60C
  mass: 73 g
}

pack Eave_big_3S {
  chemistry: lipo
  cells: 3S
  capacity: 1150 mAh
  discharge: 60C
  mass: 97 g
}
`;

test('lines that two parts share become the base of both; of packs that one build flies, only what is exact', async () => {
  const path = 'parts/eaves.fettle';
  const alone = { ...WORKSHOP, [path]: SHELF };
  const session = await start({ files: alone, capabilities: RESOLVING });
  await session.open(path, SHELF);
  const shared = titled(
    await offered(session, path, 'Eave_3S'),
    'Extract 3 lines that Eave_3S and Eave_big_3S share into a base',
  );
  expect((await taken(session, alone, shared))[path]).toBe(`pack Eave_Base {
  chemistry: lipo
  cells: 3S
  discharge: 60C
}

pack Eave_3S "for the eaves" like Eave_Base {
  capacity: 850 mAh
  mass: 73 g
}

pack Eave_big_3S like Eave_Base {
  capacity: 1150 mAh
  mass: 97 g
}
`);
  // One error of both discharges would be another one than two.
  const both = RAFTER.replace('pack: Slim900_3S\n', 'pack: Eave_3S\n  pack: Eave_big_3S\n');
  await session.open(BUILD, both);
  const titles = (await offered(session, path, 'Eave_3S')).map(({ title }) => title);
  expect(titles.filter((title) => title.startsWith('Extract'))).toEqual([
    'Extract 2 lines that Eave_3S and Eave_big_3S share into a base',
  ]);
});

test('a base is inlined into what is like it, rails by name; it stays while others need it', async () => {
  const session = theSession();
  await session.open('parts/boards.fettle', BOARDS);
  const inline = titled(await offered(session, 'parts/boards.fettle', 'Board50 like'), /^Inline Board32 into Board50$/);
  const after = await taken(session, WORKSHOP, inline);
  expect(after['parts/boards.fettle']).toBe(
    BOARDS.replace(
      'esc Board50 like Board32 {\n  continuous: 50 A\n  rail video { output: 8 V }\n}',
      `esc Board50 {
  channels: 4
  cells: 3S .. 6S
  burst: 40 A for 10 s claimed
  mass: 11.30 g measured
  continuous: 50 A
  rail video {
    from: pack
    type: buck
    continuous: 1.4 A
    output: 8 V
  }
}`,
    ),
  );
});

test('a part moves to a new file and to another folder, with the use lines that others need, saved or not', async () => {
  const session = theSession();
  // Of this text only the client knows.
  const typed = '// typed, not saved\nbuild Heavy like Rafter {\n  item: 2 x Strap\n}\n';
  await session.open('builds/heavy.fettle', `use "../parts"\n\n${typed}`);
  await session.open('parts/motors.fettle', PARTS);
  await session.open(BUILD, RAFTER);
  const files = { ...WORKSHOP, 'builds/heavy.fettle': `use "../parts"\n\n${typed}` };
  const actions = await offered(session, 'parts/motors.fettle', 'Strap {');
  const beside = await taken(session, files, titled(actions, 'Move Strap to the new file strap.fettle'));
  expect(beside['parts/strap.fettle']).toBe('item Strap { mass: 1.6 g }\n');
  expect(beside['parts/motors.fettle']).toBe(PARTS.replace('\nitem Strap { mass: 1.6 g }\n', ''));
  expect(beside[BUILD]).toBe(RAFTER);

  // Out of the builds' sight, from where the last part of a file is needed no more.
  const elsewhere = { ...files, 'things/things.fettle': 'item Tape { mass: 2 g }\n' };
  await session.open('things/things.fettle', elsewhere['things/things.fettle'] ?? '');
  const far = titled(await offered(session, 'parts/motors.fettle', 'Strap {'), 'Move Strap to ../things/things.fettle');
  const { edit } = await session.connection.sendRequest(CodeActionResolveRequest.type, far);
  const versions = edit?.documentChanges?.map((change) =>
    TextDocumentEdit.is(change) ? [change.textDocument.uri, change.textDocument.version] : [],
  );
  expect(versions).toContainEqual([session.uri('builds/heavy.fettle'), 1]);
  const after = await taken(session, elsewhere, far);
  expect(after['builds/heavy.fettle']).toBe(`use "../things"\n\n${typed}`);
  expect(after[BUILD]).toBe(RAFTER.replace('use "../parts"', 'use "../parts"\nuse "../things"'));
  expect(after['things/things.fettle']).toBe('item Tape { mass: 2 g }\n\nitem Strap { mass: 1.6 g }\n');
});

test('the only build of a file moves, with the use lines that only it needed', async () => {
  const session = theSession();
  const build = '// Of the loft.\nbuild Alone like Rafter {\n  item: 2 x Strap\n}\n';
  const head = 'use "../builds"\nuse "../parts"\n';
  for (const newline of ['\n', '\r\n']) {
    const text = `${head}\n${build}`.replaceAll('\n', newline);
    const files = { ...WORKSHOP, 'spares/spare.fettle': text };
    await session.open('spares/spare.fettle', text);
    const actions = await offered(session, 'spares/spare.fettle', 'build Alone');
    const action = titled(actions, 'Move Alone to the new file');
    const after = await taken(session, files, { ...action });
    expect(after['spares/spare.fettle']).toBe('');
    const created = Object.keys(after).find((path) => !(path in files)) ?? '';
    expect(after[created]).toBe(`${head}\n${build}`.replaceAll('\n', newline));
    await session.close('spares/spare.fettle');
  }
});

test('no second use line of a folder that the file a part leaves opens already', async () => {
  const session = theSession();
  const item = '\nitem Ribbon { mass: 1 g }\n';
  const text = `use "../builds"\nuse "../parts"\n${item}\nbuild Light like Rafter {\n  item: 2 x Strap\n  item: Ribbon\n}\n`;
  const files = { ...WORKSHOP, 'spares/light.fettle': text };
  await session.open('spares/light.fettle', text);
  const actions = await offered(session, 'spares/light.fettle', 'Ribbon {');
  const after = await taken(session, files, titled(actions, 'Move Ribbon to ../parts/motors.fettle'));
  expect(after['spares/light.fettle']).toBe(text.replace(item, ''));
  expect(after['parts/motors.fettle']).toBe(`${PARTS}${item}`);
});

test('packs of a build are sorted by cells, then capacity, each with its comments', async () => {
  const session = theSession();
  const text = RAFTER.replace(
    '  pack: Slim900_3S\n  pack: Slim900_5S duty 58 %\n',
    '\n  // Only in a calm.\n  pack: Slim900_5S duty 58 %  // spares the motors\n  pack: Slim900_3S\n',
  );
  await session.open(BUILD, text);
  const sort = titled(
    await offered(session, BUILD, 'pack: Slim900_5S'),
    'Sort the packs of Rafter by cells and capacity',
  );
  expect((await taken(session, { ...WORKSHOP, [BUILD]: text }, sort))[BUILD]).toBe(
    text.replace(
      '  // Only in a calm.\n  pack: Slim900_5S duty 58 %  // spares the motors\n  pack: Slim900_3S\n',
      '  pack: Slim900_3S\n  // Only in a calm.\n  pack: Slim900_5S duty 58 %  // spares the motors\n',
    ),
  );
  await session.open('parts/packs.fettle', PACKS);
  expect((await offered(session, 'parts/packs.fettle', 'Slim900_3S')).map(({ title }) => title)).not.toContainEqual(
    expect.stringMatching(/^Sort/),
  );
});

test('what is claimed was measured today', async () => {
  const session = theSession();
  await session.open('parts/motors.fettle', PARTS);
  const action = titled(await offered(session, 'parts/motors.fettle', '11 A claimed'), /^Change claimed to measured/);
  const after = await taken(session, WORKSHOP, action);
  expect(after['parts/motors.fettle']).toMatch(/\n {2}continuous: 11 A measured "20\d\d-[01]\d-[0-3]\d"\n/);
  const titles = (await offered(session, 'parts/motors.fettle', '12.40 g')).map(({ title }) => title);
  expect(titles.filter((title) => title.includes('measured'))).toEqual([]);
});

test('lines of a build become rules that it follows, and come back', async () => {
  const session = theSession();
  const text = RAFTER.replace('  require hover', '  // Up there it is cold.\n  air: 4 degC at 300 m\n  require hover');
  await session.open(BUILD, text);
  const files = { ...WORKSHOP, [BUILD]: text };
  const extract = titled(
    await offered(session, BUILD, '  air: 4', '300 m'),
    'Extract 1 line of Rafter into rules that it follows',
  );
  const after = await taken(session, files, extract);
  expect(after[BUILD]).toContain(
    'rules Rafter_Rules {\n  // Up there it is cold.\n  air: 4 degC at 300 m\n}\n\nbuild Rafter',
  );
  expect(after[BUILD]).toContain('survey" {\n  rules: Rafter_Rules\n  airframe');
  await session.change(BUILD, after[BUILD] ?? '');
  const inline = titled(
    await offered(session, BUILD, 'Rafter_Rules {'),
    'Inline Rafter_Rules into Rafter and remove it',
  );
  const back = await taken(session, after, inline);
  const own = '  // Up there it is cold.\n  air: 4 degC at 300 m\n';
  expect(back[BUILD]).toBe(text.replace(own, '').replace('survey" {\n', `survey" {\n${own}`));
});

test('an item used once is written into its line where that changes nothing, and is one of its own again', async () => {
  const session = theSession();
  // In addition to a list of small things one more of them adds nothing to what is allowed for them.
  const text = `${RAFTER.replace('item: Strap', 'item: 3 g "solder, tape"\n  item: Bumper')}\nitem Bumper "foam" { mass: 2 g measured }\n`;
  await session.open(BUILD, text);
  const files = { ...WORKSHOP, [BUILD]: text };
  const inline = titled(await offered(session, BUILD, 'Bumper\n'), 'Inline Bumper into Rafter and remove it');
  const after = await taken(session, files, inline);
  expect(after[BUILD]).toBe(RAFTER.replace('item: Strap', 'item: 3 g "solder, tape"\n  item: 2 g "foam" measured'));
  await session.change(BUILD, after[BUILD] ?? '');
  const extract = titled(await offered(session, BUILD, '2 g "foam"'), 'Extract “foam” into an item of its own');
  const back = await taken(session, after, extract);
  expect(back[BUILD]).toContain('item Foam "foam" { mass: 2 g measured }\n\nbuild Rafter');
  // The only list of small things is none any more: a share for them would come on top.
  await session.change(BUILD, RAFTER.replace('item: Strap', 'item: 3 g "solder, tape"'));
  const titles = (await offered(session, BUILD, '3 g "solder')).map(({ title }) => title);
  expect(titles.filter((title) => title.startsWith('Extract'))).toEqual([]);
});

test('line breaks stay those of the file', async () => {
  const session = theSession();
  const text = BOARDS.replaceAll('\n', '\r\n');
  await session.open('parts/boards.fettle', text);
  const files = { ...WORKSHOP, 'parts/boards.fettle': text };
  const actions = await offered(session, 'parts/boards.fettle', '  channels', '6S');
  for (const action of [
    ...actions.filter(({ kind }) => kind === 'refactor.extract'),
    ...(await offered(session, 'parts/boards.fettle', 'Board50 like')),
  ]) {
    const after = await taken(session, files, action);
    expect(after['parts/boards.fettle']?.replaceAll('\r\n', ''), action.title).not.toContain('\n');
  }
});

test('one after the other where a test stand measured the propeller', async () => {
  const files = Object.fromEntries(
    [...examplesIn('builds', 'parts', 'rules', 'stands')].map(([path, text]) => [path, lightly(text)]),
  );
  const session = await start({ files, capabilities: RESOLVING });
  const path = 'parts/motors.fettle';
  const text = files[path] ?? '';
  await session.open(path, text);
  const extract = titled(await offered(session, path, 'kv: 3150', 'resistance: 82'), /^Extract 2 lines/);
  const after = await taken(session, files, extract);
  await session.change(path, after[path] ?? '');
  const inline = titled(await offered(session, path, 'M1606_3150_Base {'), /^Inline M1606_3150_Base/);
  const back = await taken(session, after, inline);
  expect(back[path]?.split('\n').sort()).toEqual(text.split('\n').sort());
});
