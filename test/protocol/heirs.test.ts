/** The hierarchy along `like`; parts and builds found by pieces of names and titles. Implementations are in `test/marked/navigation`. */
import { expect, test } from 'vitest';
import {
  ImplementationRequest,
  type TypeHierarchyItem,
  TypeHierarchyPrepareRequest,
  TypeHierarchySubtypesRequest,
  TypeHierarchySupertypesRequest,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver-protocol/node';
import { sharedSession } from './one-session.ts';
import { PACKS, PARTS, WORKSHOP } from './workshop.ts';

const MOTORS = 'parts/motors.fettle';
const HEAVY = 'use "../parts"\n\nbuild Heavy like Rafter {\n  esc: Board50\n}\n';
const LATE =
  'motor M1506_late "late delivery" like M1506_2400 { mass: 12.8 g }\nmotor Own like Stator1104 { kv: 7200 rpm/V }\n';
const theSession = sharedSession({
  files: { ...WORKSHOP, 'builds/heavy.fettle': HEAVY, 'parts/late.fettle': LATE },
});

test('the hierarchy along like is walked up and down, across files', async () => {
  const session = theSession();
  await session.open(MOTORS, PARTS);
  const { connection } = session;
  const at = session.at(MOTORS, session.inside(MOTORS, 'M1506_2400'));
  const [item] = (await connection.sendRequest(TypeHierarchyPrepareRequest.type, at)) ?? [];
  expect(item).toMatchObject({ name: 'M1506_2400', detail: 'motor', uri: session.uri(MOTORS) });
  const up = await connection.sendRequest(TypeHierarchySupertypesRequest.type, { item: item as TypeHierarchyItem });
  expect(up).toMatchObject([{ name: 'M1506_3900', detail: 'motor · 1506 stator' }]);
  const down = await connection.sendRequest(TypeHierarchySubtypesRequest.type, { item: item as TypeHierarchyItem });
  expect(down).toMatchObject([{ name: 'M1506_late', uri: session.uri('parts/late.fettle') }]);
  const [top] = up ?? [];
  expect(await connection.sendRequest(TypeHierarchySupertypesRequest.type, { item: top as TypeHierarchyItem })).toEqual(
    [],
  );
});

test('a unit, a rail and a place without a name have no hierarchy', async () => {
  const session = theSession();
  await session.open(MOTORS, PARTS);
  for (const piece of ['mohm', 'kv', '// The winding']) {
    const at = session.at(MOTORS, session.inside(MOTORS, piece));
    expect(await session.connection.sendRequest(TypeHierarchyPrepareRequest.type, at)).toBeNull();
    expect(await session.connection.sendRequest(ImplementationRequest.type, at)).toBeNull();
  }
});

async function found(query: string): Promise<string[]> {
  const symbols = await theSession().connection.sendRequest(WorkspaceSymbolRequest.type, { query });
  return symbols?.map(({ name }) => name) ?? [];
}

test('symbols are found by a piece of the name, by the title, by the kind, the nearest first', async () => {
  const session = theSession();
  await session.open(
    'parts/packs.fettle',
    PACKS.replace('pack Slim900_3S', 'pack Slim900_3S "for the void above the roof"'),
  );
  // In the middle of a name, and in a title.
  expect(await found('900')).toEqual(['Slim900_3S', 'Slim900_5S', 'M1506_3900']);
  expect((await found('roof')).sort()).toEqual(['Rafter', 'Slim900_3S']);
  expect(await found('late delivery')).toEqual(['M1506_late']);
  // Both words, wherever each of them is.
  expect(await found('delivery 1506')).toEqual(['M1506_late']);
  expect(await found('delivery roof')).toEqual([]);
  // The name itself before what begins with it, that before what contains it.
  expect((await found('rafter'))[0]).toBe('Rafter');
  expect((await found('board'))[0]).toMatch(/^Board/);
  expect(await found('no such thing')).toEqual([]);
});
