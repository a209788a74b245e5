/** What comes on board after the craft was weighed. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const SPIRE = 'examples/builds/spire.fettle';

it('a line that was added since the scale was read: the warning states that the results leave it out', () => {
  const before = readFileSync(join(shop.folder, SPIRE), 'utf8');
  expect(shop.fettle('check', SPIRE).out).not.toContain('mass-unexplained');
  shop.write(SPIRE, before.replace('item: 2 x Strap', 'item: 2 x Strap\n  item: 30 g "second camera"'));
  const out = shop.fettle('check', SPIRE).out.replaceAll(/\s+/g, ' ');
  expect(out).toMatch(/warning mass-unexplained .* g less than it explains\./);
  expect(out).toContain('What was added since is not in the results: weigh it again.');
  // As the scale read it, or nearly.
  const [, grams] = / Mast1050_4S (\d+)\.?\d* ± [\d.]+ g /.exec(out) ?? [];
  expect(Math.abs(Number(grams) - 298)).toBeLessThan(5);
});
