/**
 * What the new craft would be found with under the old limits, rules, acceptances and measurements, and is not found with now, is in the first
 * line, and fails a run with `--fail-on forgiven`. The craft are the group's; the changes are random texts.
 */

import { describe, expect, it } from 'vitest';
import { type Files, findings, parse } from '../../../packages/language/src/index.ts';
import { cases } from '../../long.ts';
import { randomNumbers } from '../../seeded.ts';
import { type Edit, FLEET, fact, LOOSENINGS, tightened } from './loosening-edits.ts';
import { Change } from './texts-under-review.ts';

const RUNS = Number(process.env.FETTLE_RANDOM_REVIEWS ?? cases(1, 8));
/** Most changes hide nothing; the first of this one does, by an acceptance, a requirement and other names. */
const SEED = Number(process.env.FETTLE_SEED ?? cases(1, 5));

interface Drawn {
  readonly old: Files;
  readonly strict: Files;
  readonly lax: Files;
  readonly names: readonly string[];
}

/** The same with one seed, whatever has been drawn before. */
function drawn(seed: number): Drawn {
  const random = randomNumbers(seed);
  let old = FLEET;
  for (let i = 0; i < 9; i++) old = tightened(random, old);
  const facts: Edit[] = random() < 0.8 ? [fact(random)] : [];
  const all = Object.keys(LOOSENINGS);
  const names = Array.from(
    { length: 1 + Math.floor(3 * random()) },
    () => all[Math.floor(random() * all.length)] as string,
  );
  // Each draws from a chance of its own, so that the strict text is that of the lax one but for what it permits.
  const seeds = names.map(() => Math.floor(random() * 2 ** 31));
  const made = (isStrict: boolean) => {
    let files = old;
    for (const edit of facts) files = edit(files, isStrict) ?? files;
    for (const [i, name] of names.entries()) {
      const edit = LOOSENINGS[name]?.(randomNumbers(seeds[i] ?? 0));
      files = edit?.(files, isStrict) ?? files;
    }
    return files;
  };
  return { old, strict: made(true), lax: made(false), names };
}

/** Errors and warnings about builds, a count of each by build, pack and gravity at least. */
async function graveIn(files: Files): Promise<Map<string, number>> {
  const counts = new Map<string, number>();
  for (const { id, severity, build, pack, packs, accepted } of findings(await parse(files))) {
    if (build === undefined || accepted !== undefined || id === 'estimates') continue;
    for (const on of packs ?? [pack ?? ''])
      for (const gravity of severity === 'error' ? ['error', 'warning'] : severity === 'warning' ? ['warning'] : [])
        counts.set(`${id} ${build} ${on} ${gravity}`, (counts.get(`${id} ${build} ${on} ${gravity}`) ?? 0) + 1);
  }
  return counts;
}

async function hiding({ old, strict, lax, names }: Drawn): Promise<number> {
  const [under, now] = [await graveIn(strict), await graveIn(lax)];
  const gone = [...under].filter(([key, count]) => (now.get(key) ?? 0) < count).map(([key]) => key);
  if (gone.length === 0) return 0;
  const change = new Change(old).write(lax);
  const { sentence } = (await change.json()).verdict;
  const context = `${names.join(', ')}\n${gone.join('\n')}\n${sentence}`;
  expect(sentence, context).not.toMatch(/^Nothing to worry about/);
  expect(await change.fails('forgiven'), context).toBe(true);
  for (const key of gone) expect(sentence, context).toContain(key.split(' ')[0]);
  return 1;
}

describe('the law', () => {
  it(
    `of ${RUNS} random changes of the group’s files, none hides an error or a warning silently`,
    async () => {
      let hid = 0;
      for (let run = 0; run < RUNS; run++) {
        const seed = SEED * 1_000_003 + run;
        hid += await hiding(drawn(seed)).catch((error: Error) => {
          throw new Error(`seed ${seed}: ${error.message}`);
        });
      }
      // Of nothing the law would be true as well.
      expect(hid).toBeGreaterThan(RUNS / 8);
    },
    60_000 + RUNS * 20_000,
  );
});
