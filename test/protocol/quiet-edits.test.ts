/** Edits in the middle of a text, key by key, one each second: what is on the way to something right is not reported. */

import { expect, test } from 'vitest';
import { cases, oneIn } from '../long.ts';
import { uriOf } from '../references/memory-workspace.ts';
import { randomNumbers } from '../seeded.ts';
import { examplesIn, fewer, lightly } from './example-files.ts';
import { MemoryServer } from './memory-server.ts';
import { PERSON_EDITS, type PersonEdit } from './person-edits.ts';
import { RAFTER, WORKSHOP } from './workshop.ts';

const FILE = 'builds/typed.fettle';
const CHOICE = `
flight Loft {
  leg: 2 min hover
  leg: home at 9 m/s
}

shortlist Packs {
  for: Typed
  vary: pack in "../parts"
  prefer: hover_time
}
`;
const TEXT = `${lightly(RAFTER).replace('Rafter', 'Typed')}${CHOICE}`;

/** Each text on the way, one letter at a time. */
function typing(text: string, behind: string, letters: string): string[] {
  const at = text.indexOf(behind) + behind.length;
  return [...letters].map((_, index) => text.slice(0, at) + letters.slice(0, index + 1) + text.slice(at));
}

function deleting(text: string, before: string, count: number): string[] {
  const end = text.indexOf(before);
  return Array.from({ length: count }, (_, index) => text.slice(0, end - index - 1) + text.slice(end));
}

/** What is reported on the way and not in the end, each once. */
async function falseOn(path: string, begun: string, texts: readonly string[]): Promise<string[]> {
  const files = new Map([...Object.entries(WORKSHOP), [FILE, TEXT], [path, begun]]);
  const server = await MemoryServer.start(files, new Map([[path, begun]]));
  const codes = () => server.codesOf(path);
  const seen = new Set<string>();
  for (const text of texts) {
    await server.changeText(path, text);
    await server.built();
    await server.elapse(1000);
    for (const code of codes()) seen.add(`${code} at ${JSON.stringify(text.slice(-12))}`);
  }
  await server.settled();
  const final = new Set(codes());
  server.stop();
  return [...seen].filter((code) => ![...final].some((one) => code.startsWith(`${one} at `)));
}

test.each(
  oneIn(4, [
    ['a duty limit to be varied', 'vary: pack in "../parts"', '\n  vary: duty 70 % .. 100 % step 10 %'],
    ['a winding to be varied', 'vary: pack in "../parts"', '\n  vary: kv in 2500 rpm/V .. 3300 rpm/V step 100 rpm/V'],
    ['a requirement of a choice', 'vary: pack in "../parts"', '\n  require thrust_to_weight >= 2'],
    ['a wind while hovering', 'leg: 2 min hover', ' against 4 m/s'],
    ['a leg over the ground', 'leg: 2 min hover', '\n  leg: 200 m at 8 m/s against 3 m/s'],
  ]),
)('%s, typed', async (_, behind, letters) => {
  expect(await falseOn(FILE, TEXT, typing(TEXT, behind, letters))).toEqual([]);
});

test('the number of a figure, deleted and written anew', async () => {
  const path = 'parts/packs.fettle';
  const begun = WORKSHOP[path];
  const gone = deleting(begun, ' mAh', 3);
  const texts = [...gone, ...typing(gone.at(-1) ?? '', 'capacity: ', '900')];
  expect(texts.at(-1)).toBe(begun);
  expect(await falseOn(path, begun, texts)).toEqual([]);
});

// ---- at random ----

const WORLD = new Map(
  [...fewer(examplesIn('builds', 'parts', 'rules', 'stands', 'logs'))].map(([path, text]) => [path, lightly(text)]),
);
const PATHS = [...WORLD.keys()].filter((path) => path.endsWith('.fettle'));
const SEED = Number(process.env.FETTLE_SEED ?? 1);
const PACES = [120, 450, 1000];

interface Watched {
  /** Reported on the way, and of no text that is meant. */
  readonly falseMessages: readonly string[];
  /** Reported of every text that is meant, and not always on the way. */
  readonly vanished: readonly string[];
}

/** @param pace ms between two keys */
async function watched(path: string, { steps, meant }: PersonEdit, pace: number, isQuiet = true): Promise<Watched> {
  const text = WORLD.get(path) ?? '';
  const server = await MemoryServer.start(WORLD, new Map([[path, text]]), {}, { quietWhileTyping: isQuiet });
  const own = uriOf(path).toString();
  const messages = (): string[] =>
    [...server.shown].flatMap(([uri, all]) =>
      all.map((one) => `${uri === own ? '' : uri} ${one.code}: ${one.message}`),
    );
  const truths = [new Set(messages())];
  for (const one of [...meant, text]) {
    await server.elapse(10_000);
    await server.changeText(path, one);
    await server.settled();
    truths.push(new Set(messages()));
  }
  await server.elapse(10_000);
  const always = [...(truths[0] ?? [])].filter((one) => truths.every((truth) => truth.has(one)));
  const seen = new Set<string>();
  const vanished = new Set<string>();
  for (const step of steps) {
    await server.changeText(path, step);
    await server.built();
    await server.elapse(pace);
    const now = new Set(messages());
    for (const one of now) seen.add(one);
    for (const one of always) if (!now.has(one)) vanished.add(one);
  }
  server.stop();
  return { falseMessages: [...seen].filter((one) => !truths.some((truth) => truth.has(one))), vanished: [...vanished] };
}

const EDITS = cases(1, 12);

/** Of an edit with more keys than that an ordinary run learns little that one with fewer does not show. */
const MOST_KEYS = cases(16, Number.POSITIVE_INFINITY);

/** Of all kinds of edits an ordinary run tries some. */
const KINDS = oneIn(3, Object.entries(PERSON_EDITS), SEED);

test.each(KINDS)(
  'an edit in an example at any pace reports nothing that becomes false, and takes nothing away: %s',
  async (kind, draw) => {
    const random = randomNumbers(SEED + Object.keys(PERSON_EDITS).indexOf(kind) * 1000);
    const below = (count: number): number => Math.floor(random() * count);
    for (let count = 0; count < EDITS; ) {
      const path = PATHS[below(PATHS.length)] ?? '';
      const edit = draw(WORLD.get(path) ?? '', below);
      if (edit === undefined || edit.steps.length > MOST_KEYS) continue;
      const pace = PACES[below(PACES.length)] ?? 1000;
      count++;
      const { falseMessages, vanished } = await watched(path, edit, pace);
      // The note on a build is at its name: it goes while that is gone.
      const kept = kind === 'a name' ? vanished.filter((message) => !message.startsWith(' estimates: ')) : vanished;
      expect({ falseMessages, kept }, `${path}, ${edit.what}, a key each ${pace} ms`).toEqual({
        falseMessages: [],
        kept: [],
      });
    }
  },
  120_000 + EDITS * 60_000,
);

test('where findings do not wait, the same edits report what becomes false', async () => {
  const path = 'builds/wren.fettle';
  const edit = PERSON_EDITS['a line typed anew']?.(WORLD.get(path) ?? '', () => 3) as PersonEdit;
  expect((await watched(path, edit, 1000, false)).falseMessages.length).toBeGreaterThan(3);
  expect(await watched(path, edit, 1000)).toEqual({ falseMessages: [], vanished: [] });
}, 120_000);
