/** The sheet as a browser shows and prints it: nothing cut off without a sign, two pages on paper. */

import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import { Workshop } from '../cli/command.ts';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);
const NAMES = ['Four', 'Spire', 'Fledgling', 'LongNames'];
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
  shop.write(
    'long.fettle',
    `use "examples/parts"
motor M1606_3150_rewound_by_hand_for_the_tall_tower like M1606_3150 { }
pack Mast1350_4S_second_hand_from_the_spare_box like Mast1350_4S { }
build LongNames "A craft with a title that no narrow page has room for, and a Weitwinkelkameraaufhängungsvorrichtung" {
  airframe: Open148
  motors: 4 x M1606_3150_rewound_by_hand_for_the_tall_tower with P3024x3
  esc: Board35
  load: LinkCam from pack
  load: Receiver from Board35.logic
  pack: Mast720_4S as the_small_pack_for_a_short_look_around
  pack: Mast1050_4S
  pack: Mast1350_4S_second_hand_from_the_spare_box duty 92.5 %
  pack: Eaves1150_3S
  require hover_time >= 9 min because "two bays and back, with a minute for the nests under the parapet"
}
`,
  );
  const files = ['examples', 'four.fettle', 'long.fettle'];
  for (const name of NAMES)
    expect(shop.fettle('sheet', name, ...files, '--out', `${name}.html`)).toMatchObject({ code: 0 });
  if (hasChromium) browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterAll(async () => {
  await browser?.close();
  shop.remove();
});

const addressOf = (name: string): string => pathToFileURL(join(shop.folder, `${name}.html`)).toString();

/** Parts of values that are on two lines, such as a number on one and its unit on the other. */
const brokenValues = () =>
  [...document.querySelectorAll('.by-pack td.number span, .pack dd b, .pack dd span')]
    .filter((one) => one.getClientRects().length > 1 || one.getBoundingClientRect().height > 40)
    .map(({ textContent }) => textContent);

/** Words of one chart that cover each other. */
const overlapping = () =>
  [...document.querySelectorAll('svg')].flatMap((chart) => {
    const boxes = [...chart.querySelectorAll('text')].map((text) => ({ text, box: text.getBoundingClientRect() }));
    return boxes.flatMap(({ text, box }, i) =>
      boxes
        .slice(i + 1)
        .filter(
          ({ box: other }) =>
            Math.min(box.right, other.right) - Math.max(box.left, other.left) > 1 &&
            // Lines of text may touch.
            Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top) > 4,
        )
        .map((other) => `${text.textContent} / ${other.text.textContent}`),
    );
  });

describe.each(NAMES)('the sheet of %s', (name) => {
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
      expect(await page.evaluate(brokenValues)).toEqual([]);
      expect(await page.evaluate(overlapping)).toEqual([]);
      await page.close();
    }
  });

  it('is two pages on paper, with all columns of its tables', async () => {
    // As wide as the paper between its margins.
    const page = await browser.newPage({ viewport: { width: 718, height: 1000 } });
    await page.goto(addressOf(name));
    const printed = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(printed.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(name === 'LongNames' ? 3 : 2);
    await page.emulateMedia({ media: 'print' });
    const wide = await page.evaluate(
      () => [...document.querySelectorAll('.scroll')].filter((one) => one.scrollWidth > one.clientWidth + 1).length,
    );
    expect(wide).toBe(0);
    await page.close();
  });
});
