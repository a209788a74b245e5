/** What a release publishes, as a reader meets it in a browser: the example craft as a site, light and dark, on a phone, with and without a script. Needs the build. */

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, type BrowserContextOptions, chromium } from 'playwright-core';
import { afterAll, beforeAll, expect } from 'vitest';
import { publish } from '../../packages/playground/pages.mts';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium, serve } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);

const PAGES = [
  'index.html',
  'builds/Spire.html',
  'builds/OneBoard.html',
  'cards/Spire.html',
  'texts/builds/spire.fettle.html',
  'parts.html',
  'requirements.html',
  'search.html',
];

const folder = mkdtempSync(join(tmpdir(), 'fettle-pages-'));
let served: Awaited<ReturnType<typeof serve>>;
let browser: Browser;

beforeAll(async () => {
  if (!hasChromium) return;
  publish(folder, '/');
  served = await serve(folder);
  browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterAll(async () => {
  await browser?.close();
  served?.server.close();
  rmSync(folder, { recursive: true });
});

const LOOKS: readonly [string, BrowserContextOptions][] = [
  ['light', { colorScheme: 'light', viewport: { width: 1200, height: 900 } }],
  ['dark', { colorScheme: 'dark', viewport: { width: 1200, height: 900 } }],
  ['a phone', { viewport: { width: 390, height: 780 } }],
];

it.each(LOOKS)('nothing keeps a reader out, nothing is wider than the screen: %s', async (_look, options) => {
  const page = await (await browser.newContext(options)).newPage();
  const problems: string[] = [];
  page.on('console', (message) => problems.push(message.text()));
  page.on('pageerror', (error) => problems.push(String(error)));
  for (const path of PAGES) {
    await page.goto(`${served.address}/examples/${path}`);
    const { violations } = await new AxeBuilder({ page }).analyze();
    problems.push(...violations.map(({ id, nodes }) => `${path}: ${id}: ${nodes.map(({ html }) => html).join(' | ')}`));
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    if (width > (options.viewport?.width ?? 0)) problems.push(`${path}: ${width} px wide`);
    // On a phone no value is on two lines, and each has its heading.
    const broken = await page.evaluate(() =>
      [...document.querySelectorAll('.labelled td.number')]
        .filter(
          (one) =>
            [...one.querySelectorAll('span')].some((part) => part.getBoundingClientRect().height > 30) ||
            (innerWidth < 560 && getComputedStyle(one, '::before').content.length < 4),
        )
        .map(({ textContent }) => textContent),
    );
    problems.push(...broken.map((one) => `${path}: ${one}`));
  }
  expect(problems).toEqual([]);
});

it('searches names, titles and kinds; without a script the list is whole', async () => {
  const page = await browser.newPage();
  await page.goto(`${served.address}/examples/search.html`);
  const shown = page.locator('#found li:visible');
  const all = await shown.count();
  await page.locator('input').fill('mast pack');
  await expect.poll(() => shown.count()).toBeLessThan(all);
  expect(await page.locator('[role=status]').textContent()).toMatch(/^\d+ found$/);
  const plain = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
  await plain.goto(`${served.address}/examples/search.html`);
  expect(await plain.locator('#found li:visible').count()).toBe(all);
  expect(await plain.locator('input:visible').count()).toBe(0);
});

it('leads from a sheet to the page to try with the texts of the build', async () => {
  const page = await browser.newPage();
  await page.goto(`${served.address}/examples/builds/Spire.html`);
  await page.getByRole('link', { name: /try/i }).click();
  await expect.poll(() => page.locator('.cm-content').textContent(), { timeout: 15_000 }).toContain('build Spire');
  expect(new URL(page.url()).pathname).toBe('/');
});
