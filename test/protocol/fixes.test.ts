import { expect, test } from 'vitest';
import { type CodeAction, CodeActionRequest, type Range, TextDocumentEdit } from 'vscode-languageserver-protocol/node';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { sessions } from './one-session.ts';
import { codesOf, type Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';

async function actions(
  session: Session,
  path: string,
  range: Range | undefined,
  only?: string[],
): Promise<CodeAction[]> {
  if (range === undefined) {
    throw new Error('no finding to act on');
  }
  const answer = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(path) },
    range,
    context: { diagnostics: [], ...(only && { only }) },
  });
  return (answer ?? []) as CodeAction[];
}

function applied(session: Session, path: string, action: CodeAction | undefined): string {
  const [change] = action?.edit?.documentChanges ?? [];
  if (change === undefined || !TextDocumentEdit.is(change)) {
    throw new Error(`no edit in ${JSON.stringify(action)}`);
  }
  expect(change.textDocument).toEqual({ uri: session.uri(path), version: session.document(path).version });
  return session.withEdits(path, change.edits as { range: Range; newText: string }[]);
}

test('the preferred fix of an overvoltage limits the duty and removes the error', async () => {
  const session = await start({ files: WORKSHOP });
  const diagnostics = await session.open(BUILD, RAFTER.replace(' duty 58 %', ''));
  const overvoltage = diagnostics.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, BUILD, overvoltage?.range);
  const fix = offered.find(
    ({ isPreferred, diagnostics }) => isPreferred && diagnostics?.[0]?.code === 'motor-overvoltage',
  );
  expect(fix).toMatchObject({ kind: 'quickfix' });
  const mended = applied(session, BUILD, fix);
  expect(mended).toMatch(/pack: Slim900_5S duty \d+ %/);
  expect(codesOf(await session.change(BUILD, mended))).not.toContain('motor-overvoltage');
});

test('a fix that is written into another file names that file', async () => {
  const session = await start({ files: { ...WORKSHOP, [BUILD]: RAFTER.replace(' duty 58 %', '') } });
  const heir = 'use "../parts"\n\nbuild Heir like Rafter {\n  item: Strap\n}\n';
  const found = await session.open('builds/heir.fettle', heir);
  const overvoltage = found.find(({ code }) => code === 'motor-overvoltage');
  const offered = await actions(session, 'builds/heir.fettle', overvoltage?.range);
  const fixes = offered.filter(({ title, edit }) => title.startsWith('Limit the duty') && edit !== undefined);
  expect(fixes.length).toBeGreaterThan(0);
  for (const { title } of fixes) expect(title).toMatch(/ \(in rafter\.fettle\)$/);
});

test('a misspelt name and a wrong unit are mended', async () => {
  const session = await start({ files: WORKSHOP });
  const [name] = (await session.open(BUILD, RAFTER.replace('Slim900_3S', 'Slim900_3s'))).filter(
    ({ code }) => code === 'unknown-name',
  );
  const [mendName] = await actions(session, BUILD, name?.range);
  expect(applied(session, BUILD, mendName)).toBe(RAFTER);
});

test('all of a kind, each where there is one way to mend it', async () => {
  const session = await start();
  const text = 'item A { mass: 1.5 mm }\nitem B { mass: 2.5 mm }\nitem C { mass: 3 V }\n';
  const mended = text.replaceAll(/mm|V/g, 'g');
  const [first] = await session.open('items.fettle', text);
  const alike = (await actions(session, 'items.fettle', first?.range)).find(({ title }) => title.startsWith('Fix all'));
  expect(applied(session, 'items.fettle', alike)).toBe(mended);
  expect(await session.change('items.fettle', mended)).toEqual([]);
});

const EVERYTHING = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };

test('all of a file: what a saving editor runs mends the writing', async () => {
  const session = await start();
  const text =
    'motor A {\n  kv 4500 rpm/V\n  no_load_current: 0,86 A at 10 V\n  mass: 1 000 mg # weighed\n  burst: 9 a\n}\n';
  await session.open('motors.fettle', text);
  const [all] = await actions(session, 'motors.fettle', EVERYTHING, ['source.fixAll']);
  expect(all?.kind).toBe('source.fixAll');
  expect(applied(session, 'motors.fettle', all)).toBe(
    'motor A {\n  kv: 4500 rpm/V\n  no_load_current: 0.86 A at 10 V\n  mass: 1000 mg // weighed\n  burst: 9 A\n}\n',
  );
});

test.each([
  ['two ways to join packs', 'build B {\n  pack: 2 x Slim900_3S\n}\n'],
  ['a share of the flight that is still alone', 'rules R {\n  flown: 50 % at hover\n}\n'],
  ['something stated twice', 'item A {\n  mass: 3 g\n  mass: 4 g measured "scale"\n}\n'],
  ['a share as a fraction', 'build B {\n  pack: Slim900_3S duty 0.58\n}\n'],
  ['a name that is like another', 'build B {\n  item: Strep\n}\n'],
  ['a unit that is missing', 'propeller P {\n  diameter: 3\n}\n'],
  ['a number with a comma that may be either', 'motor M {\n  kv: 1,105 rpm/V\n}\n'],
  ['an opened folder that nothing needs yet', 'item A { mass: 3 g }\n'],
])('a saving editor guesses nothing and loses nothing: %s', async (_, text) => {
  const session = await start({ files: WORKSHOP });
  const whole = `use "../parts"\n${text}`;
  expect(await session.open('builds/saved.fettle', whole)).not.toEqual([]);
  expect(await actions(session, 'builds/saved.fettle', EVERYTHING, ['source.fixAll'])).toEqual([]);
});

test('of several fixes none is the one that a key takes without a request', async () => {
  const session = await start();
  const found = await session.open('p.fettle', 'propeller P {\n  diameter: 3\n}\n');
  const missing = found.find(({ code }) => code === 'missing-unit');
  const offered = await actions(session, 'p.fettle', missing?.range);
  expect(offered.length).toBeGreaterThan(1);
  expect(offered.filter(({ isPreferred }) => isPreferred)).toEqual([]);
});

test('offers nothing where nothing is wrong', async () => {
  const session = await start({ files: WORKSHOP });
  await session.open(BUILD, RAFTER);
  expect(await actions(session, BUILD, { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } })).toEqual(
    [],
  );
});

const REQUIRED = 'require hover_time >= 1 min';

test.each(['full_current <= 20 A', 'full_cell_voltage >= 3.95 V'])(
  'a duty limit is searched for under which %s holds',
  async (condition) => {
    const session = await start({ files: WORKSHOP });
    const text = RAFTER.replace(REQUIRED, `require ${condition}`);
    const [failing] = (await session.open(BUILD, text)).filter(({ code }) => code === 'requirement-fails');
    const offered = await actions(session, BUILD, failing?.range);
    const limits = offered.filter(
      ({ title, diagnostics }) =>
        title.endsWith(`: ${condition} then holds`) && diagnostics?.[0]?.code === 'requirement-fails',
    );
    expect(limits[0]?.title).toMatch(/^Limit the duty to \d\d % on Slim900_/);
    let mended = text;
    for (const limit of limits) {
      // Each belongs to a line of its own: the second still fits after the first.
      const [, percent, pack] = /to (\d+) % on (\w+):/.exec(limit.title) ?? [];
      mended = mended.replace(new RegExp(`(pack: ${pack})( duty \\d+ %)?`), `$1 duty ${percent} %`);
    }
    expect(applied(session, BUILD, limits[0])).toMatch(/pack: Slim900_\dS duty \d+ %/);
    expect(codesOf(await session.change(BUILD, mended))).not.toContain('requirement-fails');
  },
);

test.each(['thrust_to_weight >= 12', 'full_current <= 2 A'])(
  'no duty limit is offered where it would not help or would ground the craft: %s',
  async (condition) => {
    const session = await start({ files: WORKSHOP });
    const [failing] = (await session.open(BUILD, RAFTER.replace(REQUIRED, `require ${condition}`))).filter(
      ({ code }) => code === 'requirement-fails',
    );
    const titles = (await actions(session, BUILD, failing?.range)).map(({ title }) => title);
    expect(titles.filter((title) => title.startsWith('Limit the duty'))).toEqual([]);
  },
);

test('where no duty limit leaves a craft that flies well the part that is needed is named, as an action that changes nothing', async () => {
  const capabilities = { textDocument: { codeAction: { ...LITERALS, disabledSupport: true } } };
  const session = await start({ files: { 'craft.fettle': EXAMPLE_CRAFT }, capabilities });
  const weak = PAGES['esc-overcurrent']?.fails ?? '';
  const [found] = (await session.open('weak.fettle', weak)).filter(({ code }) => code === 'esc-overcurrent');
  const offered = (await actions(session, 'weak.fettle', found?.range)).filter(
    ({ title, diagnostics }) => diagnostics?.[0]?.code === 'esc-overcurrent' && !title.startsWith('Accept'),
  );
  expect(offered).toHaveLength(1);
  expect(offered[0]?.title).toMatch(/^Take a board that withstands [\d.]+ A per channel for seconds$/);
  expect(offered[0]?.disabled?.reason).toContain('too little thrust');
  expect(offered[0]?.edit).toBeUndefined();
});

const LITERALS = { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } };
const UNLIMITED = RAFTER.replace(' duty 58 %', '');

async function acceptance(session: Session, text: string, code: string): Promise<CodeAction | undefined> {
  const found = (await session.open(BUILD, text)).find((diagnostic) => diagnostic.code === code);
  const offered = await actions(session, BUILD, found?.range);
  return offered.find(({ title }) => title.startsWith(`Accept this ${code}`));
}

test('a finding can be accepted up to a little more than today, with the reason still to be written', async () => {
  const session = await start({ files: WORKSHOP });
  const accept = await acceptance(session, UNLIMITED, 'motor-overvoltage');
  const accepted = applied(session, BUILD, accept);
  expect(accepted).toMatch(/\n {2}accept motor-overvoltage below 1\.7 with Slim900_5S because ""\n}\n$/);
  expect(codesOf(await session.change(BUILD, accepted))).toContain('missing-value');
  const reported = await session.change(BUILD, accepted.replace('because ""', 'because "ten-second hops"'));
  const finding = reported.find(({ code }) => code === 'motor-overvoltage');
  expect(finding?.severity).toBe(4);
  expect(finding?.message).toContain('Accepted: ten-second hops');
  expect(codesOf(reported)).not.toContain('missing-value');
});

test('the cursor is in the quotes where the client knows how, and CRLF stays', async () => {
  const capabilities = {
    textDocument: { codeAction: LITERALS },
    workspace: { workspaceEdit: { documentChanges: true, snippetEditSupport: true } },
  };
  const session = await start({ files: WORKSHOP, capabilities });
  const accept = await acceptance(session, UNLIMITED.replaceAll('\n', '\r\n'), 'motor-overvoltage');
  const [change] = accept?.edit?.documentChanges ?? [];
  expect(change).toMatchObject({
    edits: [
      {
        snippet: {
          kind: 'snippet',
          value: '  accept motor-overvoltage below 1.7 with Slim900_5S because "$0"\r\n',
        },
      },
    ],
  });
});

test('what was accepted and got worse is accepted anew by its number alone', async () => {
  const session = await start({ files: WORKSHOP });
  const line = '  accept motor-overvoltage below 1.2 with Slim900_5S because "ten-second hops"\n}\n';
  const accept = await acceptance(session, UNLIMITED.replace(/}\n$/, line), 'motor-overvoltage');
  expect(applied(session, BUILD, accept)).toContain('below 1.7 with Slim900_5S because "ten-second hops"');
});
