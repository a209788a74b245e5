import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { cases, oneIn } from '../long.ts';
import { randomNumbers } from '../seeded.ts';
import { burst, differences, play, START, type Step, take, World } from './edit-bursts.ts';
import { examplesIn, fewer } from './example-files.ts';
import { MemoryServer } from './memory-server.ts';
import { PARTS } from './workshop.ts';

/** `FETTLE_RANDOM_EDITS=100000` for a long run, `FETTLE_SEED=7` for another one. */
const EDITS = Number(process.env.FETTLE_RANDOM_EDITS ?? cases(20, 150));
const SEED = Number(process.env.FETTLE_SEED ?? 1);
const BURSTS_A_SESSION = 20;

beforeEach(() => {
  // Half-made files are reported in the log.
  vi.spyOn(console, 'warn').mockImplementation(() => undefined);
});
afterEach(() => {
  vi.restoreAllMocks();
});

test(
  'after any burst of edits the server reports what a fresh one reports',
  async () => {
    let edits = 0;
    for (let seed = SEED; edits < EDITS; seed++) {
      const random = randomNumbers(seed);
      const world = new World(START);
      const server = await MemoryServer.start(world.disk);
      const steps: Step[] = [];
      for (let count = 0; count < BURSTS_A_SESSION && edits < EDITS; count++) {
        for (const step of burst(random, world)) {
          await take(step, world, server);
          steps.push(step);
          if (step.does !== 'wait') edits++;
        }
        const found = await differences(world, server, count % 2 === 1);
        // With the steps, so that a failure can become a case below.
        expect(found, `seed ${seed}: ${JSON.stringify(steps)}`).toEqual([]);
        steps.push({ does: 'settle' });
      }
      server.stop();
    }
  },
  60_000 + EDITS * 200,
);

const BASE = 'builds/base.fettle';
const HEIR = 'heirs/heir.fettle';

test('a build that lacks its motors is an error as soon as the build that brings them has gone', async () => {
  const world = new World(START);
  const server = await MemoryServer.start(world.disk);
  const after = async (step: Step): Promise<string[]> => {
    await take(step, world, server);
    await server.settled();
    return (server.shown.get(`file:///home/${BASE}`) ?? []).map(({ severity, code }) => `${severity} ${code}`);
  };
  const write = (text: string | null): Step => ({ does: 'write', texts: { [HEIR]: text } });
  const brought = ['4 missing-value'];
  const lacking = ['1 missing-value'];
  expect(await after({ does: 'settle' })).toEqual(brought);
  expect(await after(write(null))).toEqual(lacking);
  expect(await after(write(START[HEIR] ?? ''))).toEqual(brought);
  expect(await after(write(''))).toEqual(lacking);
  expect(await after(write(START[HEIR] ?? ''))).toEqual(brought);
  expect(await after({ does: 'open', path: BASE })).toEqual(brought);
  expect(await after({ does: 'type', path: BASE, text: `\n${START[BASE]}` })).toEqual(brought);
  server.stop();
});

test('a version without anything new is answered although another edit comes before it is looked at', async () => {
  const server = await MemoryServer.start(new World(START).disk);
  await server.openText('parts/motors.fettle', PARTS);
  await server.openText('parts/packs.fettle', START['parts/packs.fettle'] ?? '');
  await server.settled();
  await server.whileBusy(async () => {
    await server.changeText('parts/packs.fettle', START['parts/packs.fettle'] ?? '');
    await server.changeText('parts/motors.fettle', `\n${PARTS}`);
  });
  await server.settled();
  expect(server.unanswered).toEqual([]);
  server.stop();
});

test('edits that come while a build is under way are built together, and the last one is reported', async () => {
  const server = await MemoryServer.start(new World(START).disk);
  await server.openText('parts/motors.fettle', PARTS);
  await server.settled();
  await server.whileBusy(async () => {
    for (let edit = 1; edit <= 500; edit++)
      await server.changeText('parts/motors.fettle', PARTS.replace('3.40 g', `3.${edit} g`));
  });
  await server.settled();
  expect(server.answers.map(({ version }) => version)).toEqual([1, 501]);
  server.stop();
});

const TOWER_FLIGHT = (START['builds/flown.fettle'] ?? '').replace('"roof" {\n', '"roof" { // tower\n');

/** Once different. */
const CASES: Readonly<Record<string, readonly Step[]>> = {
  'a part that a finding names moves down': [
    { does: 'write', texts: { 'rules/house.fettle': `\n${START['rules/house.fettle']}` } },
  ],
  'the first of two parts of one name moves down': [
    { does: 'write', texts: { 'parts/twin.fettle': 'item Strap { mass: 2 g }\n' } },
    { does: 'settle' },
    { does: 'write', texts: { 'parts/motors.fettle': `\n\n${PARTS}` } },
  ],
  'a likelier name comes': [
    { does: 'write', texts: { 'parts/motors.fettle': PARTS.replace('item Strap', 'item Stra') } },
    { does: 'settle' },
    { does: 'write', texts: { 'parts/half.fettle': `${START['parts/half.fettle']}\nitem Strop { mass: 2 g }\n` } },
  ],
  'a line of a flight becomes part of the comment before it': [
    { does: 'write', texts: { 'builds/flown.fettle': TOWER_FLIGHT } },
    { does: 'settle' },
    { does: 'write', texts: { 'builds/flown.fettle': TOWER_FLIGHT.replace('// tower\n', '// tower ') } },
  ],
  'a folder that may have been meant comes': [
    { does: 'open', path: HEIR },
    { does: 'type', path: HEIR, text: 'use "../spar"\n' },
    { does: 'settle' },
    { does: 'write', texts: { 'spare/more.fettle': 'item Spare { mass: 2 g }\n' } },
  ],
  'a stand comes into a folder that is opened for nothing else': [
    {
      does: 'write',
      texts: { 'heirs/other.fettle': 'use "../spare"\nitem Other { mass: 1 g }\n', 'spare/a.fettle': '' },
    },
    { does: 'settle' },
    { does: 'write', texts: { 'spare/a.fettle': 'bench Spare { }\n' } },
  ],
  'a folder goes in which a file is open': [
    { does: 'open', path: HEIR },
    { does: 'settle' },
    { does: 'write', texts: { [HEIR]: null }, asFolder: 'heirs' },
  ],
  'a folder of rows goes and comes back': [
    { does: 'write', texts: { 'stands/rows/roof.csv': '9000, 10, 1.4\n' } },
    {
      does: 'write',
      texts: { 'stands/roof.fettle': (START['stands/roof.fettle'] ?? '').replace('roof.csv', 'rows/roof.csv') },
    },
    { does: 'settle' },
    { does: 'write', texts: { 'stands/rows/roof.csv': null }, asFolder: 'stands/rows' },
  ],
  'a folder goes and comes back in one breath': [
    {
      does: 'write',
      texts: Object.fromEntries(
        Object.keys(START).flatMap((path) => (path.startsWith('parts/') ? [[path, null]] : [])),
      ),
      asFolder: 'parts',
    },
    { does: 'write', texts: { 'parts/motors.fettle': PARTS }, asFolder: 'parts' },
  ],
};

for (const [name, steps] of Object.entries(CASES)) {
  test(`as a fresh one: ${name}`, async () => {
    expect(await play(START, steps)).toEqual([]);
  });
}

const CRAFT = fewer(examplesIn('builds', 'parts', 'rules', 'stands', 'logs'));

// Of what others measured, stands and logs included, a file that is read first has to know as much as one that is read last.
test('what is reported does not depend on which file is open first', async () => {
  const none = await MemoryServer.start(CRAFT);
  for (const path of oneIn(
    7,
    [...CRAFT.keys()].filter((one) => one.endsWith('.fettle')),
    1,
  )) {
    const server = await MemoryServer.start(CRAFT, new Map([[path, CRAFT.get(path) ?? '']]));
    const reported = (from: MemoryServer) =>
      Object.fromEntries([...from.shown].toSorted(([one], [other]) => (one < other ? -1 : 1)));
    expect(reported(server), path).toEqual(reported(none));
    server.stop();
  }
  none.stop();
}, 120_000);
