/** The page of a shortlist as a browser shows it: readable at every width and in every theme, its points lead to their rows. */
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect } from 'vitest';
import { Workshop } from '../cli/command.ts';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);
const shop = new Workshop();
let browser: Browser;

/** One whose front has two figures; one with three, groups and warnings. */
const SHORTLISTS = {
  TowerPack: ['TowerPack'],
  Many: [
    'Spire',
    '--vary',
    'pack in "../parts"',
    'P3024x3',
    'P2522x4',
    'duty 70 % .. 100 % step 10 %',
    '--prefer',
    'hover_time',
    'thrust_to_weight',
    'full_current',
    '--require',
    'thrust_to_weight >= 3',
  ],
} as const;
const NAMES = Object.keys(SHORTLISTS) as (keyof typeof SHORTLISTS)[];

beforeAll(async () => {
  for (const name of NAMES) {
    const { code, out } = shop.fettle('choose', ...SHORTLISTS[name], '--in', 'examples', '--format', 'html');
    expect(code).toBe(0);
    shop.write(`${name}.html`, out);
  }
  if (hasChromium) browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterEach(async () => {
  await Promise.all(browser?.contexts().map((context) => context.close()) ?? []);
});
afterAll(async () => {
  await browser?.close();
  shop.remove();
});

async function open(name: string, width: number, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height: 900 }, ...options });
  const page = await context.newPage();
  await page.goto(pathToFileURL(join(shop.folder, `${name}.html`)).toString());
  return page;
}

describe.each(NAMES)('the page of %s', (name) => {
  it.for([400, 1000, 1400])('at %i px is no wider than the window, and no word lies on another', async (width) => {
    const page = await open(name, width);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    const table = await page.locator('.scroll').evaluate(({ scrollWidth, clientWidth }) => scrollWidth - clientWidth);
    expect(table).toBeLessThanOrEqual(1);
    const chart = page.locator('.chart:visible');
    expect(await chart.count()).toBe(1);
    const { sizes, covered, outside } = await chart.evaluate((drawing) => {
      const whole = drawing.getBoundingClientRect();
      const texts = [...drawing.querySelectorAll('text')].map((text) => ({
        words: text.textContent,
        box: text.getBoundingClientRect(),
        size:
          Number.parseFloat(getComputedStyle(text).fontSize) *
          (whole.width / (drawing as SVGSVGElement).viewBox.baseVal.width),
      }));
      const overlaps = (a: DOMRect, b: DOMRect) =>
        a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 2 && b.top < a.bottom - 2;
      return {
        sizes: texts.map(({ size }) => size),
        covered: texts.flatMap(({ words, box }, i) =>
          texts.slice(i + 1).some((other) => overlaps(box, other.box)) ? [words] : [],
        ),
        outside: texts.flatMap(({ words, box }) =>
          box.left < whole.left - 1 || box.right > whole.right + 1 ? [words] : [],
        ),
      };
    });
    expect({ covered, outside }).toEqual({ covered: [], outside: [] });
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(10);
  });

  it.for([
    { colorScheme: 'light' },
    { colorScheme: 'dark' },
    { colorScheme: 'light', contrast: 'more' },
    { colorScheme: 'dark', forcedColors: 'active' },
  ] as const)('has no barrier that axe finds: %o', async (options) => {
    for (const width of [400, 1000]) {
      const page = await open(name, width, options);
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual([]);
    }
  });
});

it('a point leads to its row, by keyboard too', async () => {
  const page = await open('TowerPack', 1000);
  const points = page.locator('.chart:visible a');
  const words = (await points.evaluateAll((all) => all.map((one) => one.getAttribute('aria-label')))) as string[];
  const rows = await page.locator('tr[id^=row-]').allTextContents();
  expect(words).toHaveLength(rows.length);
  for (const [i, shown] of words.entries()) {
    await points.nth(i).focus();
    await page.keyboard.press('Enter');
    const row = await page.locator('tr:target').textContent();
    expect(row).toBe(rows[i]);
    const [, label = '', level = ''] = /^\d+: (.+?), hover time (.+?),/.exec(shown) ?? [];
    expect(row).toContain(label);
    expect(row).toContain(level);
  }
});

it('where columns have no room each value names its figure', async () => {
  const page = await open('Many', 400);
  await expect.poll(() => page.locator('.choices thead').isVisible()).toBe(false);
  const named = await page
    .locator('#row-1 td')
    .evaluateAll((cells) =>
      cells.filter((cell) => cell.textContent !== '').map((cell) => getComputedStyle(cell, '::before').content),
    );
  expect(named.slice(0, 3)).toEqual(['"hover time "', '"thrust-to-weight "', '"full-duty current "']);
});
