import { describe, expect, test } from 'vitest';
import {
  PrepareRenameRequest,
  type Range,
  ReferencesRequest,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';
import type { Session } from './session.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

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

async function opened(): Promise<Session> {
  const session = theSession();
  for (const [path, text] of Object.entries(FILES)) {
    await session.open(path, text);
  }
  return session;
}

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

  test('workspace symbols find parts by a piece of their name', async () => {
    const session = await opened();
    const symbols = await session.connection.sendRequest(WorkspaceSymbolRequest.type, { query: 'm1506' });
    expect(symbols?.map(({ name }) => name).sort()).toEqual(['M1506_2400', 'M1506_3900']);
  });
});

describe('rename', () => {
  // What becomes of a name, and which are refused: test/marked/rename.
  test('is possible where there is a name of the workspace', async () => {
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
