import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { cases, oneIn } from '../long.ts';
import { burst, chance, differences, play, START, type Step, take, World } from './edit-bursts.ts';
import { MemoryServer } from './memory-server.ts';
import { PARTS } from './workshop.ts';

/** `FETTLE_RANDOM_EDITS=100000` for a long run, `FETTLE_SEED=7` for another one. */
const EDITS = Number(process.env.FETTLE_RANDOM_EDITS ?? cases(30, 150));
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
      const random = chance(seed);
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

/** Of what a file is reported, the ids. */
async function idsAfter(steps: readonly Step[], path: string): Promise<unknown[]> {
  const world = new World(START);
  const server = await MemoryServer.start(world.disk);
  for (const step of steps) await take(step, world, server);
  await server.settled();
  const reported = server.shown.get(`file:///home/${path}`) ?? [];
  server.stop();
  return reported.map(({ severity, code }) => `${severity} ${code}`);
}

const HEIR = 'heirs/heir.fettle';
const gone: Step = { does: 'write', texts: { [HEIR]: null } };

test('a build that lacks its motors is an error as soon as the build that brings them has gone', async () => {
  expect(await idsAfter([], 'builds/base.fettle')).toEqual(['4 missing-value']);
  expect(await idsAfter([gone], 'builds/base.fettle')).toEqual(['1 missing-value']);
  const emptied: Step = { does: 'write', texts: { [HEIR]: '' } };
  expect(await idsAfter([emptied], 'builds/base.fettle')).toEqual(['1 missing-value']);
  const open: Step[] = [{ does: 'open', path: 'builds/base.fettle' }, { does: 'settle' }];
  const moved: Step = { does: 'type', path: 'builds/base.fettle', text: `\n${START['builds/base.fettle']}` };
  expect(await idsAfter([...open, moved], 'builds/base.fettle')).toEqual(['4 missing-value']);
  const back: Step = { does: 'write', texts: { [HEIR]: START[HEIR] ?? '' } };
  expect(await idsAfter([gone, { does: 'settle' }, back], 'builds/base.fettle')).toEqual(['4 missing-value']);
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

const EXAMPLES = fileURLToPath(new URL('../../examples', import.meta.url));
const CRAFT = new Map(
  ['builds', 'parts', 'rules', 'stands', 'logs'].flatMap((folder) =>
    readdirSync(join(EXAMPLES, folder)).map((name) => {
      const path = `${folder}/${name}`;
      return [path, readFileSync(join(EXAMPLES, path), 'utf8')] as const;
    }),
  ),
);

// Of what others measured, stands and logs included, a file that is read first has to know as much as one that is read last.
test('what is reported does not depend on which file is open first', async () => {
  const none = await MemoryServer.start(CRAFT);
  for (const path of oneIn(
    4,
    [...CRAFT.keys()].filter((one) => one.endsWith('.fettle')),
  )) {
    const server = await MemoryServer.start(CRAFT, new Map([[path, CRAFT.get(path) ?? '']]));
    const reported = (from: MemoryServer) =>
      Object.fromEntries([...from.shown].toSorted(([one], [other]) => (one < other ? -1 : 1)));
    expect(reported(server), path).toEqual(reported(none));
    server.stop();
  }
  none.stop();
}, 120_000);
