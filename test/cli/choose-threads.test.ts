/** Candidates by the thousand are judged by several threads; nothing of the answer may show it. */

import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openAsked } from '../../packages/language/src/cli/choose-asked.ts';
import {
  CANDIDATES_A_LOT,
  lotsInThreads,
  threadsForCandidates,
} from '../../packages/language/src/cli/choose-threads.ts';
import { tableLinesOf, tableSoFarOn } from '../../packages/language/src/cli/table-so-far.ts';
import { Cancelled, choose, type Interim } from '../../packages/language/src/report/decide/choice.ts';
import { chosenJson } from '../../packages/language/src/report/decide/choice-text.ts';
import { Field } from '../../packages/language/src/report/decide/field.ts';
import type { JudgedLot } from '../../packages/language/src/report/decide/judging.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { cases, oneIn } from '../long.ts';
import { randomNumbers } from '../seeded.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

/** Of thousands, or a hundred or two in smaller lots. */
const STEPS = `duty 60 % .. 100 % step ${cases(20, 2)} %`;
/** An ordinary run takes the built thread, which starts sooner. */
const BUILT = cases(1, 0) ? { program: new URL('../../packages/language/dist/choose-worker.js', import.meta.url) } : {};
const PITCHES = `pitch in 2 in .. 3 in step ${cases(0.5, 0.2)} in`;
const LOT = cases(16, CANDIDATES_A_LOT);

/** Of Spire, some of which fall by checks, some by what is required. */
const asked = (prefer: readonly string[]) => ({
  name: 'Spire',
  in: [join(shop.folder, 'examples/builds')],
  vary: ['pack in "../parts"', PITCHES, STEPS],
  require: ['thrust_to_weight >= 3'],
  prefer,
});

async function spaceFor(prefer: readonly string[]) {
  const { services, document, node } = await openAsked(asked(prefer));
  return spaceOf(services, document, node);
}

describe('candidates shared out among threads', { timeout: 120_000 }, () => {
  it.each(oneIn(2, [[['hover_time', 'thrust_to_weight']], [['hover_time']]]))(
    'give the same answer as one thread, by %j',
    async (prefer) => {
      const space = await spaceFor(prefer);
      expect(space.count).toBeGreaterThan(2 * LOT);
      const alone = await choose(space);
      const together = await choose(space, {
        lots: lotsInThreads(space, asked(prefer), { threads: cases(2, 3), lotSize: LOT, ...BUILT }),
      });
      expect(chosenJson(together)).toBe(chosenJson(alone));
      expect(together.cloud).toEqual(alone.cloud);
      expect(alone.rejected.length).toBeGreaterThan(1);
    },
  );

  it('end with a reason when one of them fails, and when nobody waits any more', async () => {
    const space = await spaceFor(['hover_time']);
    const program = pathToFileURL(shop.write('failing.mjs', "throw new Error('out of order');\n"));
    const failing = choose(space, { lots: lotsInThreads(space, asked(['hover_time']), { threads: 2, program }) });
    await expect(failing).rejects.toThrow('out of order');
    let requested = 0;
    const isCancelled = () => ++requested > 3;
    const stopped = choose(space, {
      lots: lotsInThreads(space, asked(['hover_time']), { threads: 1, isCancelled, lotSize: LOT, ...BUILT }),
    });
    await expect(stopped).rejects.toThrow(Cancelled);
  });

  it('are worth it only by the ten thousand', () => {
    expect([1, 100, 9999].map(threadsForCandidates)).toEqual([1, 1, 1]);
    expect(threadsForCandidates(1_000_000)).toBeLessThanOrEqual(8);
  });
});

describe('what is kept of many that pass', () => {
  const lotOf = (points: readonly (readonly number[])[], from: number): JudgedLot => ({
    from,
    to: from + points.length,
    rejected: new Map(),
    passing: points.map((scores, i) => ({ index: from + i, scores })),
  });

  it('is the same however they are cut into lots, and does not grow with them', () => {
    const draw = randomNumbers(23);
    const points = Array.from({ length: 30_000 }, () => {
      const angle = (Math.PI / 2) * draw();
      return [Math.cos(angle) * (0.5 + draw() / 2), Math.sin(angle) * (0.5 + draw() / 2)];
    });
    for (const preferences of [1, 2]) {
      const of = points.map((point) => point.slice(0, preferences));
      const [whole, cut] = [new Field(preferences), new Field(preferences)];
      whole.add(lotOf(of, 0));
      for (let from = 0; from < of.length; ) {
        const size = 1 + Math.floor(draw() * 900);
        cut.add(lotOf(of.slice(from, from + size), from));
        from += size;
      }
      expect(cut.rows()).toEqual(whole.rows());
      expect(cut.cloud()).toEqual(whole.cloud());
      expect([cut.passing, cut.best]).toEqual([whole.passing, whole.best]);
      expect(whole.rows().length).toBeLessThanOrEqual(40);
      expect(whole.cloud().length).toBeLessThanOrEqual(2000);
      expect(whole.cloud().length).toBeGreaterThan(900);
    }
  });

  it('of a long front has both ends, and rows between them', () => {
    const field = new Field(2);
    field.add(
      lotOf(
        Array.from({ length: 1000 }, (_, i) => [i, -i]),
        0,
      ),
    );
    const rows = field.rows();
    expect(rows).toHaveLength(40);
    expect([rows[0]?.index, rows.at(-1)?.index]).toEqual([999, 0]);
    const gaps = rows.slice(1).map(({ index }, i) => (rows[i]?.index ?? 0) - index);
    expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThanOrEqual(1);
  });
});

describe('a table that fills in', () => {
  let now = 0;
  beforeEach(() => {
    now = 0;
    vi.spyOn(performance, 'now').mockImplementation(() => now);
  });
  afterEach(() => {
    vi.restoreAllMocks();
  });

  const sofar = (rows: number): Interim => ({
    done: 120,
    of: 2000,
    preferences: [{ name: 'hover_time', label: 'hover time', unit: 'min', isMoreBetter: true }],
    rows: () =>
      Array.from({ length: rows }, (_, i) => ({ label: `Pack${i} \u001b[2J${'·'.repeat(60)}`, values: [400 - i] })),
  });

  function onTerminal(isTTY: boolean, environment = {}) {
    const written: string[] = [];
    const stream = { isTTY, columns: 50, rows: 9, write: (text: string) => written.push(text) > 0 };
    return { written, table: tableSoFarOn(stream as never, environment) };
  }

  it('comes within a second, stays in the window, and leaves nothing behind', () => {
    const { written, table } = onTerminal(true);
    table?.show(sofar(3));
    expect(written).toEqual([]);
    now = 900;
    table?.show(sofar(3));
    const lines = (written[0] ?? '').split('\n').slice(0, -1);
    expect(lines).toHaveLength(5);
    for (const line of lines) expect(line.length).toBeLessThan(50);
    expect(written[0]).not.toContain('\u001b');
    now = 1800;
    table?.show(sofar(30));
    expect(written[1]?.startsWith('\u001b[5F\u001b[0J')).toBe(true);
    expect((written[1] ?? '').split('\n').length).toBeLessThanOrEqual(9);
    table?.end();
    expect(written.at(-1)).toBe('\u001b[7F\u001b[0J');
    table?.end();
    expect(written.at(-1)).toBe('');
  });

  it('does not come into a pipe, or where a terminal cannot go back', () => {
    expect(onTerminal(false).table).toBeUndefined();
    expect(onTerminal(true, { TERM: 'dumb' }).table).toBeUndefined();
  });

  it('shows values alone, and how far it is', () => {
    const [head = '', first = '', , last = ''] = tableLinesOf({ ...sofar(2), rows: () => sofar(2).rows() });
    expect(head).toMatch(/^best so far, without ± +hover time$/);
    expect(first).toMatch(/ 6 min 40 s$/);
    expect(last).toBe('judging candidates, 120 of 2000 …');
  });
});
