/** What is mutated, and what must never be in anything that comes of it. */
import { readdirSync, readFileSync } from 'node:fs';

const filesIn = (folder: string): string[] => {
  const root = new URL(folder, import.meta.url);
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.fettle'))
    .map((path) => readFileSync(new URL(path, root), 'utf8'));
};

const WHOLE = [...filesIn('../fixtures/samples/'), ...filesIn('../../examples/')];
/** A part each, since most slips need no more; parts of builds cost a hundred times as much as others. */
const pieces = WHOLE.flatMap((text) => text.split(/\n(?=(?:[a-z]+) [A-Z]\w* .*\{)/)).filter(
  (text) => text.trim() !== '',
);
const isBuild = (text: string): boolean => /^\s*build /m.test(text);
export const PARTS = pieces.filter((text) => !isBuild(text));
export const BUILDS = pieces.filter(isBuild);

export const SMALL_BUILD = `airframe F { mass: 20 g  rotors: 4 }
motor M { kv: 9600 rpm/V  stator: 11 x 4 mm  mass: 5 g }
propeller Q { diameter: 50 mm  pitch: 40 mm  blades: 3  mass: 0.5 g }
esc E { mass: 4 g  channels: 4  continuous: 12 A  burst: 15 A }
pack P { cells: 2S  capacity: 480 mAh  mass: 30 g }
build B { airframe: F  motors: 4 x M with Q  esc: E  pack: P duty 58 %  require hover_time >= 3 min }
`;

/** What only a program writes. */
export const SPILT = /undefined|\bNaN\b|Infinity|\[object |\[native code|function \w*\(/;
/** What drives a terminal or turns the direction of reading. */
export const RAW = /[\p{Cc}\p{Bidi_C}]/u;

export interface Slip {
  readonly what: string;
  readonly text: string;
}

export const report = (slips: readonly Slip[]): string[] =>
  slips.map(({ what, text }) => `${what}\n    in ${JSON.stringify(text.slice(0, 1500))}`);

/** One of a sort is enough. */
export const isOfSort = (what: string, slips: readonly Slip[]): boolean => {
  const sortOf = (words: string): string => words.replace(/\d+/g, '#').slice(0, 60);
  return slips.some((slip) => sortOf(slip.what) === sortOf(what));
};
