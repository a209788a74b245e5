/** Whatever file a build's numbers come from: where another text of it moves a number, the review judges the build and names the text. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AssessedBuild,
  assess,
  type Files,
  findings,
  parse,
  review,
} from '../../../packages/language/src/index.ts';
import { oneIn } from '../../long.ts';
import { CRAFT } from './rooftop-craft.ts';

const log = (sag: number): string =>
  [
    'time (s),volts,amps,note',
    ...Array.from({ length: 240 }, (_, i) => {
      const isFlying = i > 10 && i < 225;
      const volts = 12.5 - sag * Math.min(i, 225) - (isFlying ? 0.35 : 0);
      return `${i},${volts.toFixed(3)},${(isFlying ? 6.4 + 0.4 * Math.sin(i) : 0.4).toFixed(2)},${i}`;
    }),
  ].join('\n');

/** Builds whose numbers come from parts, rules, bases, rows and logs in files, folders that are hidden, packages, and what was seen on others. */
const FILES: Files = {
  ...CRAFT,
  'parts/kitchen.fettle': `fettle 1

bench Kitchen {
  motor: M1506
  propeller: P3022
  air: 14.5 degC
  rows voltage in V, current in A, thrust in gf, speed in rpm from // as measured
    "../data/rows/kitchen.csv"
}
`,
  'data/rows/kitchen.csv':
    'thrust (gf),voltage (V),current (A),speed (rpm)\n27, 7.9, 1.6, 12900\n62, 7.7, 4.1, 18800\n108, 7.4, 8.2, 24300\n',
  'logs/logged.fettle': `fettle 1
use "../builds"
use "../parts"

build Logged like Rafter {
  without: Slim700
  observed "gutter" with Slim900 {
    log time, voltage "volts", current "amps" from "../data/.raw/flight.csv"
  }
}
build LoggedHeir like Logged { item: 3 g "strap" }
`,
  'data/.raw/flight.csv': log(0.004),
  'flown/taught.fettle': `fettle 1
use "../parts"
use "../seen"
use "../.shed"
use "shed-parts" as shed

build Taught {
  airframe: Open152
  motors: 4 x M1506 with P3022
  esc: Board32
  load: Lamp from Board32.video
  item: shed.Ballast
  pack: Slim900
}
`,
  '.shed/lamp.fettle': 'fettle 1\nload Lamp { draw: 2.5 W  mass: 6 g measured }\n',
  'node_modules/shed-parts/ballast.fettle': 'fettle 1\nitem Ballast { mass: 4 g }\n',
  'seen/seen.fettle': `fettle 1
use "../parts"
use "../rules"

build Seen {
  rules: HouseRules
  airframe: Open152
  motors: 4 x M1506 with P3022
  esc: Board32
  item: 9 g "tape"
  pack: Slim900
  observed "roof" {
    scale: 202 g
    hover_current: 5.6 A
    airborne: 4 min
    put_back: 350 mAh
  }
}
`,
};

const RUNS = Number(process.env.FETTLE_RANDOM_REVIEWS ?? 2);

/** Numbers of a text that may be another one: no version, no name, no comment. */
function numbersIn(text: string): { at: number; digits: string }[] {
  return [...text.matchAll(/(?<![\w."-])\d+(?:\.\d+)?(?=[ ,;%\n]|$)/gm)]
    .map((match) => ({ at: match.index, digits: match[0] }))
    .filter(({ at }) => at > 8);
}

/** By build, all that is computed and found. */
async function judged(files: Files): Promise<Map<string, string>> {
  const workspace = await parse(files);
  const found = findings(workspace);
  const text = (build: AssessedBuild): string =>
    JSON.stringify([
      build.options.map(({ pack, dutyLimit, results, missing }) => [
        pack,
        dutyLimit,
        Object.entries(results).map(([name, { value, plusMinus }]) => [name, rounded(value), rounded(plusMinus)]),
        missing,
      ]),
      found
        .filter((one) => one.build === build.name && one.id !== 'estimates')
        .map(({ id, severity, pack, accepted }) => [id, severity, pack, accepted]),
    ]);
  return new Map(assess(workspace).map((build) => [build.name, text(build)]));
}

const rounded = (value = 0): string => value.toPrecision(9);

let before: ReturnType<typeof judged> | undefined;

/** Where a line reads a file, what the review blames. */
const READERS: Readonly<Record<string, string>> = {
  'data/rows/kitchen.csv': 'parts/kitchen.fettle rows',
  'data/.raw/flight.csv': 'logs/logged.fettle rows of flight.csv',
};

describe('a number of a file that builds rest on', () => {
  it.each(oneIn(6, Object.keys(FILES), 1))(
    `as another one: each build that it moves is judged, and the text named: %s`,
    async (path) => {
      const text = FILES[path] ?? '';
      const numbers = numbersIn(text);
      before ??= judged(FILES);
      const untouched = await before;
      let moves = 0;
      await fc.assert(
        fc.asyncProperty(
          fc.constantFrom(...numbers),
          fc.double({ min: 0.93, max: 1.08, noNaN: true }),
          async ({ at, digits }, factor) => {
            const places = digits.split('.')[1]?.length ?? 0;
            const other = (Number(digits) * factor).toFixed(places + 1);
            const changed = { ...FILES, [path]: text.slice(0, at) + other + text.slice(at + digits.length) };
            const after = await judged(changed);
            const moved = [...after]
              .filter(([name, reported]) => untouched.get(name) !== reported)
              .map(([name]) => name);
            const { builds } = await review(FILES, changed);
            for (const name of moved) {
              moves += 1;
              const one = builds.find((build) => build.name === name);
              expect(one, `${name}, ${digits} → ${other}`).toBeDefined();
              const blamed = (one?.changes ?? []).map(({ file, what = '' }) => `${file} ${what}`);
              const expected = READERS[path] ?? path;
              expect(
                blamed.filter((blame) => blame.startsWith(expected)),
                `${name}: ${blamed.join('; ')}`,
              ).not.toEqual([]);
            }
          },
        ),
        { numRuns: RUNS, seed: 2711, endOnFailure: true },
      );
      // What is only required of a build, or duty limits, may move nothing.
      if (!path.startsWith('rules/') && !path.startsWith('builds/')) expect(moves).toBeGreaterThan(0);
    },
  );
});
