/** The sheet as a browser shows and prints it: nothing cut off without a sign, two pages on paper. */

import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import { Workshop } from '../cli/command.ts';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);
const shop = new Workshop();
let browser: Browser;

beforeAll(async () => {
  shop.write(
    'four.fettle',
    `use "examples/parts"
build Four {
  airframe: Open148
  motors: 4 x M1606_3150 with P3024x3
  esc: Board35
  load: LinkCam from pack
  load: Receiver from Board35.logic
  pack: Mast720_4S
  pack: Mast1050_4S
  pack: Mast1350_4S
  pack: Eaves1150_3S duty 95 %
  require hover_time >= 9 min because "two bays and back"
}
`,
  );
  for (const name of ['Four', 'Spire', 'Fledgling'])
    expect(shop.fettle('sheet', name, 'examples', 'four.fettle', '--out', `${name}.html`)).toMatchObject({ code: 0 });
  if (hasChromium) browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterAll(async () => {
  await browser?.close();
  shop.remove();
});

const addressOf = (name: string): string => pathToFileURL(join(shop.folder, `${name}.html`)).toString();

describe.each(['Four', 'Spire', 'Fledgling'])('the sheet of %s', (name) => {
  it.for([400, 800, 1400])('at %i px', async (width) => {
    for (const colorScheme of ['light', 'dark'] as const) {
      const page = await browser.newPage({ viewport: { width, height: 900 }, colorScheme });
      await page.goto(addressOf(name));
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      // Words of charts inside them; text nowhere cut off, but where a shade at the edge shows that it can be scrolled.
      const cut = await page.evaluate(() => {
        const outside = [...document.querySelectorAll('svg text')].filter((text) => {
          const [one, whole] = [text.getBoundingClientRect(), text.closest('svg')?.getBoundingClientRect()];
          if (one.width === 0 || whole === undefined) return false;
          return (
            one.left < whole.left - 1 ||
            one.right > whole.right + 1 ||
            one.top < whole.top - 1 ||
            one.bottom > whole.bottom + 1
          );
        });
        const hidden = [...document.querySelectorAll('main *, header *, section *')].filter(
          (one) =>
            one.clientWidth > 1 &&
            one.scrollWidth > one.clientWidth + 1 &&
            getComputedStyle(one).overflowX !== 'visible' &&
            !getComputedStyle(one).backgroundImage.includes('gradient'),
        );
        return [...outside, ...hidden].map(({ textContent }) => textContent);
      });
      expect(cut).toEqual([]);
      await page.close();
    }
  });

  it('is two pages on paper', async () => {
    const page = await browser.newPage();
    await page.goto(addressOf(name));
    const printed = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(printed.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2);
    await page.close();
  });
});
