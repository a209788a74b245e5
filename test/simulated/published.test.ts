/** Published motors and propellers: three in four rows predict the one that is left out. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { BENCH_PAIRS } from '../reference/motor-propeller-bench.ts';
import { heldRows, tableOf } from './published.ts';

const REPORT = join(import.meta.dirname, '../reference/held-rows.json');

describe('published pairs, one row left out each time', async () => {
  const rows = await heldRows();
  if (process.env.FETTLE_AGREEMENT === 'write') writeFileSync(REPORT, `${JSON.stringify(tableOf(rows), null, 2)}\n`);

  test('every row is predicted', () => {
    expect(rows).toHaveLength(3 * BENCH_PAIRS.reduce((sum, pair) => sum + pair.rows.length, 0));
  });

  test.each(['current', 'thrust', 'speed'])('%s lies within what is stated', (reading) => {
    const held = rows.filter((row) => row.reading === reading);
    const within = held.filter(({ far }) => Math.abs(far) <= 2).length / held.length;
    expect(within).toBeGreaterThanOrEqual(0.9);
    const rms = Math.sqrt(held.reduce((sum, { error }) => sum + error ** 2, 0) / held.length);
    expect(rms).toBeLessThan(0.025);
  });
});
