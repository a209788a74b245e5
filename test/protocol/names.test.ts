import { describe, expect, test } from 'vitest';
import {
  DefinitionRequest,
  DocumentHighlightRequest,
  type LocationLink,
  PrepareRenameRequest,
  type Range,
  ReferencesRequest,
  RenameRequest,
  TextDocumentEdit,
  type TextEdit,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { sessions, sharedSession } from './one-session.ts';
import type { Session } from './session.ts';
import { BOARDS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const BUILD = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';

const TWIN = `use "../parts"

build Twin {
  airframe: Open152
  motors: 4 x M1506_2400 with P3022x3
  esc: Board50 as Top
  load: Camera from Top.video
  pack: Slim900_5S
  require rail.Top.video.voltage >= 5 V
}

build Twin_Light like Twin {
  without: Camera
}
`;
const FILES: Readonly<Record<string, string>> = { ...WORKSHOP, 'builds/twin.fettle': TWIN };

const theSession = sharedSession({ files: FILES });
const start = sessions();

async function opened(): Promise<Session> {
  const session = theSession();
  for (const [path, text] of Object.entries(FILES)) {
    await session.open(path, text);
  }
  return session;
}

describe('from names to what they refer to', () => {
  async function definition(session: Session, path: string, piece: string, occurrence = 1): Promise<LocationLink[]> {
    const answer = await session.connection.sendRequest(
      DefinitionRequest.type,
      session.at(path, session.inside(path, piece, occurrence)),
    );
    return (answer ?? []) as LocationLink[];
  }

  test('parts, rails, second names and inherited lines', async () => {
    const session = await opened();
    const [motor] = await definition(session, BUILD, 'M1506_3900');
    expect(motor?.targetUri).toBe(session.uri(MOTORS));
    expect(motor && session.textAt(MOTORS, motor.targetSelectionRange)).toBe('M1506_3900');
    const [rail] = await definition(session, BUILD, 'video');
    expect(rail && session.textAt('parts/boards.fettle', rail.targetSelectionRange)).toBe('video');
    const [alias] = await definition(session, 'builds/twin.fettle', 'Top.video');
    expect(alias && session.textAt('builds/twin.fettle', alias.targetRange)).toBe('as Top');
    const [load] = await definition(session, 'builds/twin.fettle', 'Camera', 2);
    expect(load?.targetUri).toBe(session.uri('parts/boards.fettle'));
  });

  test('the path of a use leads to its files', async () => {
    const session = await opened();
    const files = await definition(session, BUILD, '../parts');
    expect(files.map(({ targetUri }) => targetUri).sort()).toEqual(
      ['parts/boards.fettle', MOTORS, 'parts/packs.fettle'].map((path) => session.uri(path)),
    );
  });

  test('words of the language lead nowhere', async () => {
    const session = await opened();
    expect(await definition(session, BUILD, 'hover_time')).toEqual([]);
  });
});

describe('everywhere a name is written', () => {
  test('across files, with and without the declaration', async () => {
    const session = await opened();
    const at = session.at(MOTORS, session.inside(MOTORS, 'M1506_3900'));
    const all = await session.connection.sendRequest(ReferencesRequest.type, {
      ...at,
      context: { includeDeclaration: true },
    });
    const uses = await session.connection.sendRequest(ReferencesRequest.type, {
      ...at,
      context: { includeDeclaration: false },
    });
    expect(all?.map(({ uri }) => uri).sort()).toEqual([session.uri(BUILD), session.uri(MOTORS), session.uri(MOTORS)]);
    expect(uses).toHaveLength(2);
  });

  test('highlighted in the file itself', async () => {
    const session = await opened();
    const marks = await session.connection.sendRequest(
      DocumentHighlightRequest.type,
      session.at('builds/twin.fettle', session.inside('builds/twin.fettle', 'Top')),
    );
    expect(marks?.map(({ range }) => session.textAt('builds/twin.fettle', range))).toEqual(['Top', 'Top', 'Top']);
  });

  test('workspace symbols find parts by a piece of their name', async () => {
    const session = await opened();
    const symbols = await session.connection.sendRequest(WorkspaceSymbolRequest.type, { query: 'm1506' });
    expect(symbols?.map(({ name }) => name).sort()).toEqual(['M1506_2400', 'M1506_3900']);
  });
});

describe('rename', () => {
  /** The texts of all files after renaming what is at a piece of one of them. */
  async function renamed(
    session: Session,
    path: string,
    piece: string,
    newName: string,
  ): Promise<Record<string, string>> {
    const edit = await session.connection.sendRequest(RenameRequest.type, {
      ...session.at(path, session.inside(path, piece)),
      newName,
    });
    const texts: Record<string, string> = { ...FILES };
    for (const change of edit?.documentChanges ?? []) {
      const file = Object.keys(FILES).find(
        (candidate) => TextDocumentEdit.is(change) && session.uri(candidate) === change.textDocument.uri,
      );
      if (file !== undefined && TextDocumentEdit.is(change)) {
        const document = TextDocument.create('', '', 0, FILES[file] ?? '');
        texts[file] = TextDocument.applyEdits(document, change.edits as { range: Range; newText: string }[]);
      }
    }
    return texts;
  }

  test('a part, in its own file and in builds', async () => {
    const texts = await renamed(await opened(), MOTORS, 'M1506_3900', 'Bat1506');
    expect(texts[MOTORS]).toBe(PARTS.replaceAll('M1506_3900', 'Bat1506'));
    expect(texts[BUILD]).toBe(RAFTER.replaceAll('M1506_3900', 'Bat1506'));
  });

  test('a rail, with its overrides in variants and in results', async () => {
    const texts = await renamed(await opened(), 'parts/boards.fettle', 'video', 'camera_feed');
    expect(texts['parts/boards.fettle']).toBe(BOARDS.replaceAll('video', 'camera_feed'));
    expect(texts[BUILD]).toBe(RAFTER.replaceAll('video', 'camera_feed'));
    expect(texts['builds/twin.fettle']).toBe(TWIN.replaceAll('video', 'camera_feed'));
  });

  test('a rail that rules name, unless they mean those of other boards as well', async () => {
    const rules = 'rules House {\n  require rail.video.voltage >= 4.5 V\n}\n';
    const boards = `${BOARDS}\nesc Other like Board32 { }\nesc Stranger { channels: 4  rail video { output: 5 V } }\n`;
    const build = RAFTER.replace('item: Strap', 'item: Strap\n  rules: House');
    const files = { ...WORKSHOP, 'parts/rules.fettle': rules, 'parts/boards.fettle': boards, [BUILD]: build };
    const session = await start({ files });
    await session.open('parts/boards.fettle', boards);
    await session.open('parts/rules.fettle', rules);
    const at = session.at('parts/boards.fettle', session.inside('parts/boards.fettle', 'video'));
    const edit = await session.connection.sendRequest(RenameRequest.type, { ...at, newName: 'camera_feed' });
    const inRules = edit?.documentChanges?.find(
      (change) => TextDocumentEdit.is(change) && change.textDocument.uri === session.uri('parts/rules.fettle'),
    );
    const edits = inRules && TextDocumentEdit.is(inRules) ? (inRules.edits as TextEdit[]) : [];
    expect(session.withEdits('parts/rules.fettle', edits)).toBe(rules.replace('video', 'camera_feed'));
    await session.createFile('builds/odd.fettle', `use "../parts"\nbuild Odd { esc: Stranger  rules: House }\n`);
    await expect
      .poll(() => session.connection.sendRequest(RenameRequest.type, { ...at, newName: 'feed' }).catch(String))
      .toContain('in Odd that is not this rail');
  });

  test('a second name', async () => {
    const texts = await renamed(await opened(), 'builds/twin.fettle', 'Top', 'Upper');
    expect(texts['builds/twin.fettle']).toBe(TWIN.replaceAll('Top', 'Upper'));
  });

  test('refuses names that are none, taken, or words of the language', async () => {
    const session = await opened();
    await expect(renamed(session, MOTORS, 'M1506_3900', '9x')).rejects.toThrow('cannot be a name');
    await expect(renamed(session, MOTORS, 'M1506_3900', 'with')).rejects.toThrow('cannot be a name');
    await expect(renamed(session, MOTORS, 'M1506_3900', 'hover_time')).rejects.toThrow('word of the language');
    await expect(renamed(session, MOTORS, 'M1506_3900', 'M1506_2400')).rejects.toThrow('already');
    await expect(renamed(session, MOTORS, 'M1506_3900', 'Board32')).rejects.toThrow('already');
    await expect(renamed(session, 'builds/twin.fettle', 'Top', 'Camera')).rejects.toThrow('already');
    // In the folder of those who name it, it would become another part.
    await session.open('builds/own.fettle', 'pack Blue like Slim900_3S { mass: 20 g }\n');
    const packs = 'parts/packs.fettle';
    const [path] = Object.entries(WORKSHOP).find(([, text]) => text.includes('pack Slim900_3S')) ?? [packs];
    await session.open(path, WORKSHOP[path as keyof typeof WORKSHOP]);
    await expect(renamed(session, path, 'Slim900_3S', 'Blue')).rejects.toThrow(
      'sees a pack Blue already, in own.fettle',
    );
    await expect(renamed(session, 'builds/own.fettle', 'Blue', 'Slim900_3S')).rejects.toThrow('Slim900_3S');
    await session.close('builds/own.fettle');
  });

  test('takes a name of a part elsewhere that nobody sees', async () => {
    const session = await opened();
    await session.open('elsewhere/far.fettle', 'item Far { mass: 2 g }\nbuild Shelf { item: Far }\n');
    const texts = await renamed(session, MOTORS, 'M1506_3900', 'Far');
    expect(texts[BUILD]).toBe(RAFTER.replaceAll('M1506_3900', 'Far'));
    await session.close('elsewhere/far.fettle');
  });

  test('offers only what can be renamed', async () => {
    const session = await opened();
    const prepare = (path: string, piece: string) =>
      session.connection.sendRequest(PrepareRenameRequest.type, session.at(path, session.inside(path, piece)));
    expect(session.textAt(BUILD, (await prepare(BUILD, 'M1506_3900')) as Range)).toBe('M1506_3900');
    expect(await prepare(BUILD, 'hover_time')).toBeNull();
    expect(await prepare(BUILD, 'motors')).toBeNull();
    await session.change(BUILD, RAFTER.replace('M1506_3900', 'Stator1104'));
    await expect(prepare(BUILD, 'Stator1104')).rejects.toThrow('shipped with the language');
  });
});
