/** Edits in the middle of a text, key by key, one each second: what is on the way to something right is not reported. */
import { expect, test } from 'vitest';
import { oneIn } from '../long.ts';
import { MemoryServer } from './memory-server.ts';
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
const TEXT = `${RAFTER.replace('Rafter', 'Typed')}${CHOICE}`;

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
  oneIn(2, [
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
  expect((await falseOn(path, begun, texts)).filter((code) => !code.startsWith('implausible-value'))).toEqual([]);
});
