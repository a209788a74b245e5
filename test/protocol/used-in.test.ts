/** From a part to who uses it; what a move of files or folders does to the lines that open them. */
import { expect, test } from 'vitest';
import {
  CallHierarchyIncomingCallsRequest,
  type CallHierarchyItem,
  CallHierarchyOutgoingCallsRequest,
  CallHierarchyPrepareRequest,
  CodeLensRefreshRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  DefinitionRequest,
  DocumentLinkRequest,
  type LocationLink,
  TextDocumentEdit,
  type TextEdit,
  WillRenameFilesRequest,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { sessions } from './one-session.ts';
import { codesOf, type Session } from './session.ts';
import { BOARDS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const start = sessions();
const BUILD = 'builds/rafter.fettle';
const HEAVY = 'use "../parts"\n\nbuild Heavy like Rafter {\n  esc: Board50\n}\n';

async function itemAt(session: Session, path: string, piece: string): Promise<CallHierarchyItem> {
  const items = await session.connection.sendRequest(
    CallHierarchyPrepareRequest.type,
    session.at(path, session.inside(path, piece)),
  );
  const [item] = items ?? [];
  if (item === undefined) throw new Error(`${piece} has no users to ask for`);
  return item;
}

async function usersOf(session: Session, item: CallHierarchyItem) {
  const calls = await session.connection.sendRequest(CallHierarchyIncomingCallsRequest.type, { item });
  return calls ?? [];
}

test('of two parts of one name each has its own users', async () => {
  const file = 'parts/titans.fettle';
  const titans =
    'motor Titan like M1506_3900 {}\npack Titan like Slim900_3S {}\nbuild Big like Rafter { pack: Titan as Large }\n';
  const session = await start({ files: WORKSHOP });
  await session.open(file, `use "../builds"\n${titans}`);
  const lenses = await session.connection.sendRequest(CodeLensRequest.type, {
    textDocument: { uri: session.uri(file) },
  });
  const titles = await Promise.all(
    (lenses ?? [])
      .filter(({ range }) => session.textAt(file, range) === 'Titan')
      .map(async (lens) => (await session.connection.sendRequest(CodeLensResolveRequest.type, lens)).command?.title),
  );
  expect(titles).toEqual(['used by no build', 'used by 1 build']);
  const users = async (piece: string) =>
    (await usersOf(session, await itemAt(session, file, piece))).map(({ from }) => from.name);
  expect(await users('Titan like Slim')).toEqual(['Big']);
});

test('a part is used in variants and builds, these in further ones; a build names its parts', async () => {
  const session = await start({ files: { ...WORKSHOP, 'builds/heavy.fettle': HEAVY } });
  await session.open('parts/boards.fettle', BOARDS);
  const board = await itemAt(session, 'parts/boards.fettle', 'Board32');
  expect(board).toMatchObject({ name: 'Board32', detail: 'esc', uri: session.uri('parts/boards.fettle') });
  const users = await usersOf(session, board);
  expect(users.map(({ from }) => from.name).sort()).toEqual(['Board50', 'Rafter']);

  const rafter = users.find(({ from }) => from.name === 'Rafter');
  // Twice: as the board, and as what feeds the camera.
  await session.open(BUILD, RAFTER);
  expect(rafter?.fromRanges.map((range) => session.textAt(BUILD, range))).toContain('Board32');
  const next = rafter === undefined ? [] : await usersOf(session, rafter.from);
  expect(next.map(({ from }) => from.name)).toEqual(['Heavy']);

  const item = await itemAt(session, BUILD, 'Rafter');
  const calls = await session.connection.sendRequest(CallHierarchyOutgoingCallsRequest.type, { item });
  const named = calls?.map(({ to }) => to.name) ?? [];
  expect(named).toEqual(expect.arrayContaining(['Open152', 'M1506_3900', 'P3022x3', 'Board32', 'Camera', 'Strap']));
  const motor = calls?.find(({ to }) => to.name === 'M1506_3900');
  expect(motor?.fromRanges.map((range) => session.textAt(BUILD, range))).toEqual(['M1506_3900']);
});

/** Moves as an editor makes them: sends its request first, edits, then moves; answers the texts that the edits give. */
async function move(session: Session, files: Record<string, string>, moves: readonly (readonly [string, string])[]) {
  const answer = await session.connection.sendRequest(WillRenameFilesRequest.type, {
    files: moves.map(([from, to]) => ({ oldUri: session.uri(from), newUri: session.uri(to) })),
  });
  const texts: Record<string, string> = { ...files };
  for (const change of answer?.documentChanges ?? []) {
    const path = Object.keys(files).find(
      (name) => TextDocumentEdit.is(change) && session.uri(name) === change.textDocument.uri,
    );
    if (path === undefined || !TextDocumentEdit.is(change)) {
      throw new Error(`an edit of no file: ${JSON.stringify(change)}`);
    }
    const document = TextDocument.create('', 'fettle', 0, files[path] ?? '');
    texts[path] = TextDocument.applyEdits(document, change.edits as TextEdit[]);
  }
  const renamed = (path: string) => {
    const found = moves.find(([from]) => path === from || path.startsWith(`${from}/`));
    return found === undefined ? path : found[1] + path.slice(found[0].length);
  };
  return Object.fromEntries(Object.entries(texts).map(([path, text]) => [renamed(path), text]));
}

const MOVES: readonly { what: string; moves: readonly (readonly [string, string])[]; build: string; reads: RegExp }[] =
  [
    {
      what: 'a folder of parts that is renamed',
      moves: [['parts', 'shelf']],
      build: 'builds/rafter.fettle',
      reads: /^use "\.\.\/shelf"\n/,
    },
    {
      what: 'a build that moves deeper',
      moves: [['builds/rafter.fettle', 'builds/roof/rafter.fettle']],
      build: 'builds/roof/rafter.fettle',
      reads: /^use "\.\.\/\.\.\/parts"\n/,
    },
    {
      what: 'a file that leaves an opened folder',
      moves: [['parts/motors.fettle', 'shelf/motors.fettle']],
      build: 'builds/rafter.fettle',
      reads: /^use "\.\.\/parts"\nuse "\.\.\/shelf"\n/,
    },
    {
      what: 'everything into one folder',
      moves: [
        ['builds', 'club/builds'],
        ['parts', 'club/parts'],
      ],
      build: 'club/builds/rafter.fettle',
      reads: /^use "\.\.\/parts"\n/,
    },
  ];

test.each(MOVES)('$what takes its use lines along', async ({ moves, build, reads }) => {
  const session = await start({ files: WORKSHOP });
  const after = await move(session, WORKSHOP, moves);
  expect(after[build]).toMatch(reads);
  const again = await start({ files: after });
  const findings = await again.open(build, after[build] ?? '');
  expect(codesOf(findings).filter((code) => code !== 'estimates')).toEqual([]);
});

test('a use that ends in a slash follows its folder', async () => {
  const files = { ...WORKSHOP, [BUILD]: RAFTER.replace('use "../parts"', 'use "../parts/"') };
  const session = await start({ files });
  expect((await move(session, files, [['parts', 'shelf']]))[BUILD]).toMatch(/^use "\.\.\/shelf"\n/);
});

test('a use of a package of parts leads to its files', async () => {
  const motors = 'node_modules/barn-parts/motors.fettle';
  const files = { [motors]: 'motor M1 { mass: 3 g }\n', 'builds/stand.fettle': 'use "barn-parts"\n' };
  const session = await start({ files });
  await session.open('builds/stand.fettle', files['builds/stand.fettle'] ?? '');
  const at = session.at('builds/stand.fettle', session.inside('builds/stand.fettle', 'barn-parts'));
  const definitions = (await session.connection.sendRequest(DefinitionRequest.type, at)) as LocationLink[];
  expect(definitions.map(({ targetUri }) => targetUri)).toEqual([session.uri(motors)]);
  const links = await session.connection.sendRequest(DocumentLinkRequest.type, { textDocument: at.textDocument });
  expect(links?.map(({ target }) => target)).toEqual([session.uri(motors)]);
});

test('a use of one file, and the rows of a stand, follow these files; a name that moves away from its neighbours opens them', async () => {
  const files = {
    'a/one.fettle': 'motor M1 { kv: 10000 rpm/V  mass: 3 g }\nmotor M2 like M3 {}\n',
    'a/two.fettle': 'motor M3 { kv: 9000 rpm/V  mass: 3 g }\n',
    'b/stand.fettle':
      'use "../a/one.fettle"\n\nbench Stand {\n  motor: M1\n  rows duty in %, thrust in gf from "stand.csv"\n}\n',
    'b/stand.csv': 'duty,thrust\n50,30\n',
  };
  const session = await start({ files });
  const after = await move(session, files, [
    ['a/one.fettle', 'c/first.fettle'],
    ['b/stand.csv', 'rows/stand.csv'],
  ]);
  expect(after['b/stand.fettle']).toContain('use "../c/first.fettle"');
  expect(after['b/stand.fettle']).toContain('from "../rows/stand.csv"');
  expect(after['c/first.fettle']).toMatch(/^use "\.\.\/a"\n/);
});

test('moving what nobody names edits nothing', async () => {
  const session = await start({ files: { ...WORKSHOP, 'notes/readme.fettle': '// nothing yet\n' } });
  const files = [{ oldUri: session.uri('notes'), newUri: session.uri('old') }];
  expect(await session.connection.sendRequest(WillRenameFilesRequest.type, { files })).toBeNull();
});

test('a build that begins to use a part makes the client count again', async () => {
  const capabilities = { textDocument: { publishDiagnostics: {} }, workspace: { codeLens: { refreshSupport: true } } };
  const session = await start({ files: WORKSHOP, capabilities });
  await session.open('parts/motors.fettle', PARTS);
  await session.open(BUILD, RAFTER);
  const textDocument = { uri: session.uri('parts/motors.fettle') };
  // Answered when all that the opening set off is done.
  await session.connection.sendRequest(CodeLensRequest.type, { textDocument });
  const requested = new Promise<void>((resolve) =>
    session.connection.onRequest(CodeLensRefreshRequest.type, () => resolve()),
  );
  await session.change(BUILD, RAFTER.replace('M1506_3900', 'M1506_2400'));
  await requested;
  const lenses = await session.lensesOf('parts/motors.fettle');
  const titleOf = (name: string) =>
    lenses.find(({ range }) => session.textAt('parts/motors.fettle', range) === name)?.command?.title;
  expect(titleOf('M1506_2400')).toBe('used by 1 build');
});
