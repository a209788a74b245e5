/** What somebody who types is reported on the way: nothing that the next keys cure by themselves, and everything that they do not. */
import { expect, test } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { cases, oneIn } from '../long.ts';
import { examplesIn, lightly } from './example-files.ts';
import { MemoryServer } from './memory-server.ts';
import { typed } from './typist.ts';
import { BOARDS, PACKS, PARTS, RAFTER, WORKSHOP } from './workshop.ts';

const SHARED = examplesIn('parts', 'rules', 'stands');
const BUILT = examplesIn('builds');
const text = (path: string): string => lightly(BUILT.get(path) ?? '');

/** Files that are there, the file that is typed, and its text. Of a long one, an ordinary run types the end. */
const BUILDS: Readonly<Record<string, readonly [ReadonlyMap<string, string>, string, string]>> = {
  'a file of nine numbers': [new Map(), 'builds/first.fettle', text('builds/first.fettle')],
  'a full build on shared parts': [SHARED, 'builds/spire.fettle', text('builds/spire.fettle')],
  'parts line by line': [
    new Map([
      ['parts/boards.fettle', BOARDS],
      ['parts/packs.fettle', PACKS],
      ['builds/rafter.fettle', lightly(RAFTER)],
    ]),
    'parts/motors.fettle',
    PARTS,
  ],
};

const KEYS = 20;
const thereOf = (written: string): string =>
  written.slice(0, cases(1 + written.lastIndexOf('\n', Math.max(0, written.length - KEYS)), 0));

test.each(Object.entries(BUILDS))(
  '%s, at a key each 120 ms: nothing is reported that becomes false',
  async (_, [files, path, written]) => {
    expect((await typed(files, path, written, 120, thereOf(written))).falseMessages).toEqual([]);
  },
  600_000,
);

/** Each build at each pace; an ordinary run tries each build and each pace once. */
const PACED = oneIn(
  4,
  [450, 1000, 2000].flatMap((pace) => Object.keys(BUILDS).map((name) => [name, pace] as const)),
);

test.each(PACED)(
  '%s, at a key each %s ms: at most one thing in ten lines is',
  async (name, pace) => {
    const [files, path, written] = BUILDS[name] ?? [new Map(), '', ''];
    const { falseMessages, lines } = await typed(files, path, written, pace, thereOf(written));
    expect(falseMessages.length, falseMessages.join('\n')).toBeLessThanOrEqual(lines / 10);
  },
  600_000,
);

test.each(oneIn(3, Object.entries(BUILDS)))(
  '%s, where findings do not wait: the same keys bring more than one in a line',
  async (_, [files, path, written]) => {
    const { falseMessages, lines } = await typed(files, path, written, 120, thereOf(written), false);
    expect(falseMessages.length).toBeGreaterThan(lines);
  },
  600_000,
);

/** `FETTLE_EVERY_SAMPLE=1` types all of them: that takes a quarter of an hour. */
const EVERY = process.env.FETTLE_EVERY_SAMPLE === '1' ? 1 : cases(24, 12);
/** In an ordinary run the short ones only. */
const LONGEST = cases(120, Number.POSITIVE_INFINITY);
const CRAFT = new Map([['craft.fettle', EXAMPLE_CRAFT]]);
const SAMPLES: readonly (readonly [name: string, ReadonlyMap<string, string>, path: string, string])[] = [
  ...[...BUILT].map(([path, sample]) => [path, SHARED, path, sample] as const),
  ...[...SHARED].map(
    ([path, sample]) => [path, new Map([...SHARED].filter(([other]) => other !== path)), path, sample] as const,
  ),
  ...Object.entries(PAGES).flatMap(([id, { passes }]) =>
    passes === undefined ? [] : [[`the page of ${id}`, CRAFT, 'sample.fettle', passes] as const],
  ),
]
  .filter(([, , , sample]) => sample.length <= LONGEST)
  .filter((_, index) => index % EVERY === EVERY - 1);

test.each(SAMPLES)(
  'the sample %s, one key each second',
  async (_, files, path, sample) => {
    const { falseMessages, lines } = await typed(files, path, sample, 1000);
    expect(falseMessages.length, falseMessages.join('\n')).toBeLessThanOrEqual(lines);
  },
  600_000,
);

// ---- what is reported, and when ----

const FILE = 'builds/typed.fettle';
const BEGUN = RAFTER.replace('Rafter', 'Typed');

/** What is stated of the file after some keys at the end of a line that is there already. */
async function after(line: string, keys: string, pause = 0): Promise<{ server: MemoryServer; codes: () => string[] }> {
  const server = await MemoryServer.start(
    new Map([...Object.entries(WORKSHOP), [FILE, BEGUN]]),
    new Map([[FILE, BEGUN]]),
  );
  const at = BEGUN.indexOf(line) + line.length;
  for (const [index] of [...keys].entries()) {
    await server.changeText(FILE, BEGUN.slice(0, at) + keys.slice(0, index + 1) + BEGUN.slice(at));
    await server.built();
  }
  await server.elapse(pause);
  return { server, codes: () => server.codesOf(FILE) };
}

test.each([
  ['an unknown unit', 'item: Strap', '\n  item: 3 kgg', 'unknown-unit'],
  ['a pack too much for the motors', 'item: Strap', '\n  pack: Slim900_5S', 'motor-overvoltage'],
])('a finished line that is wrong is reported within a second: %s', async (_, line, keys, code) => {
  const { server, codes } = await after(line, keys);
  expect(codes()).toEqual([]);
  await server.elapse(1000);
  expect(codes()).toContain(code);
  server.stop();
});

test('what is wrong because of a line is reported as soon as the next one begins', async () => {
  const { server, codes } = await after('item: Strap', '\n  pack: Slim900_5S\n');
  expect(codes()).toContain('motor-overvoltage');
  server.stop();
});

test('a wrong line is reported as soon as the next edit leaves it', async () => {
  const { server, codes } = await after('item: Strap', '\n  item: Stra\n');
  expect(codes()).toEqual(['unknown-name']);
  server.stop();
});

test('a wrong line is reported as soon as the cursor is seen elsewhere', async () => {
  const { server, codes } = await after('item: Strap', '\n  item: Stra', 1000);
  expect(codes()).toEqual([]);
  await server.seeCursor(FILE, 0);
  expect(codes()).toEqual(['unknown-name']);
  server.stop();
});

test('what was half written is reported in the end, wherever it is', async () => {
  const { server, codes } = await after('item: Strap', '\n  item: Stra', 1000);
  await server.settled();
  expect(codes()).toEqual(['unknown-name']);
  server.stop();
});

test('what was found before stays while another line is half written, and goes with its cause', async () => {
  const wrong = BEGUN.replace('Slim900_5S', 'Slim900_4S');
  const server = await MemoryServer.start(
    new Map([...Object.entries(WORKSHOP), [FILE, wrong]]),
    new Map([[FILE, wrong]]),
  );
  expect(server.codesOf(FILE)).toEqual(['unknown-name']);
  await server.changeText(FILE, wrong.replace('item: Strap', 'ite'));
  await server.built();
  expect(server.codesOf(FILE)).toEqual(['unknown-name']);
  await server.changeText(FILE, wrong);
  await server.built();
  await server.changeText(FILE, BEGUN);
  await server.built();
  expect(server.codesOf(FILE)).toEqual([]);
  server.stop();
});

test('a name that is being written anew costs no other file a message', async () => {
  const path = 'parts/motors.fettle';
  const server = await MemoryServer.start(new Map(Object.entries(WORKSHOP)), new Map([[path, PARTS]]));
  await server.changeText(path, PARTS.replace('motor M1506_3900', 'motor M11'));
  await server.built();
  expect(server.codesOf('builds/rafter.fettle')).toEqual([]);
  await server.settled();
  expect(server.codesOf('builds/rafter.fettle')).toContain('unknown-name');
  server.stop();
});

test('what changes in another file meanwhile is reported at once', async () => {
  const { server } = await after('item: Strap', '\n  item: Stra');
  await server.writeFile('parts/packs.fettle', PACKS.replace('900 mAh', '900 mA'));
  await server.built();
  expect(server.codesOf('parts/packs.fettle')).toEqual(['wrong-dimension']);
  server.stop();
});

test('text that comes in one piece is reported at once', async () => {
  const { server, codes } = await after('item: Strap', '');
  await server.changeText(FILE, `${BEGUN}\nitem Strap2 {\n  mass: 3 kgg\n}\n`);
  await server.built();
  expect(codes()).toEqual(['unknown-unit']);
  server.stop();
});
