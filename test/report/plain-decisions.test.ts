/** Laws of what the commands that decide print, over random craft: what to measure, try, solve, choose; steps, routes and how they are explained. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { chooseFrom } from '../../packages/language/src/cli/choose-command.ts';
import { explain } from '../../packages/language/src/cli/explain-command.ts';
import { measure } from '../../packages/language/src/cli/measure-command.ts';
import { sensitivity } from '../../packages/language/src/cli/sensitivity-command.ts';
import { solveFor } from '../../packages/language/src/cli/solve-command.ts';
import { tryLines } from '../../packages/language/src/cli/try-command.ts';
import { cases } from '../long.ts';
import { broken, craftTexts, keepsLaws, type Printed, prose } from './printed-words.ts';

/** `FETTLE_RANDOM_BUILDS=1000` tries that many, other ones each time. */
const demanded = Number(process.env.FETTLE_RANDOM_BUILDS ?? 0);
const BUILDS = demanded || cases(1, 8);
const SEED = demanded ? Date.now() % 2 ** 31 : 20_261_130;

const folder = mkdtempSync(join(tmpdir(), 'fettle-decisions-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The craft with a route that it flies, and a choice to be made. */
const deciding = (
  text: string,
  index: number,
): string => `${text.replace('  require ', `  flight: Outing${index}\n  require `)}
flight Outing${index} "up, out and home" {
  leg: 20 s climb at 2 m/s
  leg: 200 m at 7 m/s against 3 m/s
  leg: 40 s hover against 3 m/s
  leg: home at 7 m/s
}
shortlist Options${index} {
  for: Osprey${index}
  vary: Egret${index}
  vary: Ibis${index}
  vary: duty 80 % .. 100 % step 10 %
  prefer: hover_time
  prefer: thrust_to_weight
}
`;

/** What a command prints; nothing where it refuses. */
async function printedBy(name: string, run: () => Promise<unknown>): Promise<Printed[]> {
  const pieces: string[] = [];
  const write = vi.spyOn(process.stdout, 'write').mockImplementation((piece) => {
    pieces.push(String(piece));
    return true;
  });
  try {
    await run();
  } catch (error) {
    pieces.push(error instanceof Error ? error.message : String(error));
  } finally {
    write.mockRestore();
  }
  return [{ name, text: pieces.join('') }];
}

async function outputs(): Promise<Printed[]> {
  const all: Printed[] = [];
  for (const [index, text] of craftTexts(BUILDS, SEED).map(deciding).entries()) {
    const path = join(folder, `osprey${index}.fettle`);
    writeFileSync(path, text);
    const name = `Osprey${index}`;
    const at = { in: [path], format: 'text' } as const;
    const ways: readonly (readonly [string, () => Promise<unknown>])[] = [
      ['measure', () => measure(name, [path], { for: 'hover_time', format: 'text' })],
      [
        'measure with a scale',
        () => measure(name, [path], { for: 'thrust_to_weight', have: ['scale'], format: 'text' }),
      ],
      ['try', () => tryLines(name, ['item: 30 g'], { ...at, failOn: 'error' })],
      ['try another pack', () => tryLines(name, [`pack.capacity: 900 mAh`], { ...at, failOn: 'error' })],
      ['sensitivity', () => sensitivity('hover_time', name, [path], { format: 'text' })],
      ['solve', () => solveFor(name, { ...at, most: 'item mass', keep: ['thrust_to_weight >= 1.5'] })],
      ['solve for a pack', () => solveFor(name, { ...at, least: 'pack capacity', keep: ['hover_time >= 3 min'] })],
      ['choose', () => chooseFrom(`Options${index}`, { ...at })],
      ...['hover_time', `flight.Outing${index}.charge_left`, `rail.Ample${index}.voltage`, 'motor_temperature'].map(
        (result) => [`explain ${result}`, () => explain(result, name, [path], {})] as const,
      ),
    ];
    for (const [way, run] of ways) all.push(...(await printedBy(way, run)));
  }
  return all;
}

describe(`what is decided about ${BUILDS} random craft`, async () => {
  const all = await outputs();
  const words = all.map(({ name, text }) => ({ name, text: prose(text) }));

  it('is something, in every output', () => {
    for (const { name, text } of all) expect(text.trim(), name).not.toBe('');
  });

  // A step of a few seconds is printed in whole ones, its ± may be finer: a difference, as in a comparison.
  keepsLaws(words.map((one) => (one.name === 'sensitivity' ? { ...one, name: 'comparison' } : one)));

  it('is advice only where the ± gets narrower in print', () => {
    const law = /(±[^→\n]+?) → (±[^,\n]+), with/;
    expect(broken(words, law, ([, now, then]) => now !== then)).toEqual([]);
    expect(words.some(({ text }) => law.test(text))).toBe(true);
  });
});
