/** The page to try, as a visitor meets it: in a browser, from the files that a host of static pages serves. */
import { AxeBuilder } from '@axe-core/playwright';
import { unzipSync } from 'fflate';
import type { Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect } from 'vitest';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium, Playground, type Watched } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);

let playground: Playground;
const opened: Watched[] = [];

beforeAll(async () => {
  if (hasChromium) playground = await Playground.start();
});
// A page that stays open goes on working behind the next test.
afterEach(async () => {
  await playground?.closePages();
});
afterAll(async () => {
  await playground?.stop();
});

/** Opened, and judged for the first time. */
async function open(...given: Parameters<Playground['open']>): Promise<Page> {
  const watched = await playground.open(...given);
  opened.push(watched);
  await watched.page.locator('#findings li').first().waitFor({ state: 'attached', timeout: 30_000 });
  return watched.page;
}

const editor = (page: Page): Locator => page.locator('#editor .cm-content');
const findings = (page: Page): Locator => page.locator('#findings li');
const sheetOf = (page: Page) => page.frameLocator('#sheet');
const example = (page: Page, path: string) => page.locator('#examples').selectOption(path);

/** The line of the text that contains these words. */
const line = (page: Page, words: string): Locator => page.locator('.cm-line', { hasText: words }).first();

/** Replaces a part of a line, as somebody does who marks it and types. */
async function replace(page: Page, before: string, after: string): Promise<void> {
  await editor(page).click();
  await page.keyboard.press('Control+f');
  const box = page.locator('.cm-search');
  await box.locator('input[name=search]').fill(before);
  await box.locator('input[name=replace]').fill(after);
  await box.locator('button[name=replace]').click();
  await box.locator('button[name=replace]').click();
  await page.keyboard.press('Escape');
}

/** Points at a word until what it means is shown: colours that arrive meanwhile close the box again. */
async function pointAt(page: Page, word: Locator, shows: string): Promise<void> {
  await expect
    .poll(async () => {
      await page.mouse.move(5, 5);
      await word.hover();
      return page
        .locator(shows)
        .first()
        .waitFor({ timeout: 4000 })
        .then(() => true)
        .catch(() => false);
    })
    .toBe(true);
}

describe('a visitor', () => {
  it('sees a build, its findings and its sheet', async () => {
    const page = await open();
    await expect.poll(() => line(page, 'build Spire').isVisible()).toBe(true);
    await sheetOf(page).getByText('all-up weight', { exact: true }).first().waitFor();
    expect(await page.locator('#build').textContent()).toContain('Spire');
  });

  it('changes a number: the finding appears and the sheet follows, and both go again', async () => {
    const page = await open();
    const weight = sheetOf(page).locator('tr', { hasText: 'all-up weight' }).first();
    const before = await weight.textContent();
    await replace(page, '5 g "solder', '2900 g "solder');
    await findings(page).filter({ hasText: 'Error' }).first().waitFor();
    await expect.poll(() => weight.textContent()).not.toBe(before);
    expect(await page.locator('#tabs .count').textContent()).toMatch(/^\d+$/);
    await replace(page, '2900 g "solder', '5 g "solder');
    await expect.poll(() => findings(page).filter({ hasText: 'Error' }).count()).toBe(0);
    await expect.poll(() => weight.textContent()).toBe(before);
  });

  it('is offered words, with stops to fill in', async () => {
    const page = await open();
    await page.locator('#new').click();
    await editor(page).click();
    await page.keyboard.press('Control+End');
    await page.keyboard.type('moto');
    const offer = page.locator('.cm-tooltip-autocomplete li', { hasText: 'motor' }).first();
    await offer.waitFor();
    await offer.click();
    await expect.poll(() => editor(page).textContent()).toMatch(/motor \w+/);
    expect(await page.locator('.cm-snippetField').count()).toBeGreaterThan(0);
  });

  it('applies a fix from the list and from the box at the pointer', async () => {
    const page = await open();
    await example(page, 'broken/misspelt-pack.fettle');
    const finding = findings(page).filter({ hasText: 'Error' }).first();
    await finding.waitFor();
    await pointAt(page, page.locator('.cm-lintRange-error').first(), '.pointed .fixes button');
    await page.mouse.move(5, 5);
    await finding.getByRole('button', { name: 'Fixes' }).click();
    await finding.locator('.fixes button').first().click();
    await expect.poll(() => findings(page).filter({ hasText: 'Error' }).count()).toBe(0);
  });

  it('reads what a name means at the pointer, and the page about a finding', async () => {
    const page = await open();
    await pointAt(page, line(page, 'build Spire').locator('span', { hasText: 'Spire' }).first(), '.pointed table');
    await page.mouse.move(5, 5);
    await findings(page).first().getByRole('button', { name: 'estimates' }).click();
    await page.locator('dialog h1').waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('dialog').isVisible()).toBe(false);
  });

  it('follows a figure of the sheet to its derivation, and a part to its line', async () => {
    const page = await open();
    const row = sheetOf(page).getByRole('rowheader', { name: 'hover time', exact: true }).locator('..');
    await row.locator('td [data-go]').first().click();
    await page.locator('dialog', { hasText: 'I_m' }).waitFor();
    await page.keyboard.press('Escape');
    await sheetOf(page).getByText('Mast720_4S').first().click();
    await page.locator('.cm-activeLine', { hasText: 'pack: Mast720_4S' }).waitFor();
  });

  it('renames a part in every file that uses it, open or not', async () => {
    const page = await open();
    await line(page, 'M1606_3150').locator('span', { hasText: 'M1606_3150' }).first().click();
    await page.keyboard.press('F2');
    await page.locator('.cm-dialog input').fill('M1606_tower');
    await page.keyboard.press('Enter');
    await line(page, 'M1606_tower').waitFor();
    await example(page, 'builds/belfry.fettle');
    await line(page, 'M1606_tower').waitFor();
    await example(page, 'parts/motors.fettle');
    await line(page, 'motor M1606_tower').waitFor();
    await example(page, 'builds/spire.fettle');
    expect(await findings(page).filter({ hasText: 'Error' }).count()).toBe(0);
  });

  it('formats a text, and jumps to what a name means', async () => {
    const page = await open();
    await replace(page, '  esc: Board35', '        esc:    Board35');
    await editor(page).click();
    await page.keyboard.press('Shift+Alt+F');
    await expect.poll(() => line(page, 'esc:').textContent()).toBe('  esc: Board35');
    await line(page, 'esc:').locator('span', { hasText: 'Board35' }).first().click();
    await page.keyboard.press('F12');
    await line(page, 'esc Board35').waitFor();
  });

  it('keeps a closed file as it was left', async () => {
    const page = await open();
    await replace(page, '5 g "solder', '6 g "solder');
    await example(page, 'builds/gable.fettle');
    await page.locator('#tabs [role=tab]').first().click();
    await page.locator('#tabs .close').click();
    await line(page, 'build Gable').waitFor();
    await example(page, 'builds/spire.fettle');
    await line(page, '6 g "solder').waitFor();
  });

  it('takes all texts home', async () => {
    const page = await open();
    await replace(page, '5 g "solder', '7 g "solder');
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#zip').click()]);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    const files = unzipSync(new Uint8Array(Buffer.concat(chunks)));
    expect(new TextDecoder().decode(files['builds/spire.fettle'])).toContain('7 g "solder');
    expect(Object.keys(files)).toContain('parts/motors.fettle');
  });

  it('brings files of their own', async () => {
    const page = await open();
    const text = 'fettle 1\nuse "parts"\npack Own_4S { cells: 4 capacity: 900 mAh mass: 100 g }\n';
    await page.locator('#chosen').setInputFiles([
      { name: 'own.fettle', mimeType: 'text/plain', buffer: Buffer.from(text) },
      { name: 'picture.png', mimeType: 'image/png', buffer: Buffer.from('x') },
    ]);
    await line(page, 'pack Own_4S').waitFor();
    await expect.poll(() => page.locator('#status').textContent()).toContain('picture.png');
  });
});

describe('a link', () => {
  it('contains the text: another visitor sees it, and so does who loads the page again', async () => {
    const page = await open();
    await replace(page, '5 g "solder', '8 g "solder');
    await page.locator('#share').click();
    await expect.poll(() => page.locator('#status').textContent()).toContain('link');
    const { hash } = new URL(page.url());
    expect(hash).toMatch(/^#1\./);
    // Only what differs from the examples.
    expect(hash.length).toBeLessThan(1500);
    const other = await open(hash);
    await line(other, '8 g "solder').waitFor();
    await page.reload();
    await line(page, '8 g "solder').waitFor();
  });

  const packed = async (value: unknown): Promise<string> => {
    const stream = new Blob([JSON.stringify(value)]).stream().pipeThrough(new CompressionStream('deflate-raw'));
    return `#1.${Buffer.from(await new Response(stream).arrayBuffer()).toString('base64url')}`;
  };

  it('is a text and nothing else: scripts in it do not run', async () => {
    const evil = '<img src=x onerror=alert(1)><script>alert(2)</script>[a](javascript:alert(3))';
    const text = `fettle 1\nuse "../parts"\nbuild Evil "${evil}" {\n  airframe: Open148\n  // ${evil}\n}\n`;
    const page = await open(await packed({ files: { 'builds/evil.fettle': text }, open: 'builds/evil.fettle' }));
    const requested: string[] = [];
    page.on('dialog', (dialog) => {
      requested.push(dialog.message());
      void dialog.dismiss();
    });
    await pointAt(page, line(page, 'build Evil').locator('span', { hasText: 'Evil' }).first(), '.pointed');
    await sheetOf(page).locator('h1').waitFor();
    expect(await page.locator('img[src="x"], script:not([src])').count()).toBe(0);
    expect(await sheetOf(page).locator('img, script:not([src])').count()).toBe(0);
    expect(requested).toEqual([]);
  });

  it.each([
    ['cut off', '#1.q1bKSVayUlBK', 'damaged'],
    ['of another form', '#whatever', 'does not contain a build'],
    ['too long', `#1.${'A'.repeat(70_000)}`, 'too long'],
  ])('that is %s is refused with a reason, and the examples are there', async (_how, fragment, reason) => {
    const page = await open(fragment);
    await expect.poll(() => page.locator('#status').textContent()).toContain(reason);
    await line(page, 'build Spire').waitFor();
  });

  it.each([
    ['a way out of the folder', { files: { '../outside.fettle': 'x' } }],
    ['a file of another kind', { files: { 'page.html': 'x' } }],
    ['no texts', { files: { 'a.fettle': 7 } }],
    ['a name of the language itself', { files: JSON.parse('{"__proto__": "x"}') }],
  ])('with %s is refused', async (_what, value) => {
    const page = await open(await packed(value));
    await expect.poll(() => page.locator('#status').textContent()).toContain('something else than builds');
  });

  it('that unpacks to more than the page reads is refused before it is unpacked', async () => {
    const page = await open(await packed({ files: { 'a.fettle': 'x'.repeat(20_000_000) } }));
    await expect.poll(() => page.locator('#status').textContent()).toContain('more text than this page reads');
  });
});

describe('for everybody', () => {
  it.each([
    ['light', { colorScheme: 'light' as const }],
    ['dark', { colorScheme: 'dark' as const }],
    ['a phone', { viewport: { width: 390, height: 780 } }],
  ])('nothing keeps a reader out: %s', async (_name, options) => {
    const page = await open('', options);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual([]);
  });

  it('shows one thing after the other where there is no room, and nothing is wider than the screen', async () => {
    const page = await open('', { viewport: { width: 390, height: 780 } });
    for (const view of ['Findings', 'Sheet', 'Text']) {
      await page.locator('#views button', { hasText: view }).click();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    }
    await page.locator('#views button', { hasText: 'Sheet' }).click();
    await sheetOf(page).getByText('all-up weight', { exact: true }).first().waitFor();
  });

  it('is used by keyboard alone', async () => {
    const page = await open();
    await page.locator('#examples').focus();
    for (let stops = 0; stops < 12; stops++) {
      await page.keyboard.press('Tab');
      if (await page.evaluate(() => document.activeElement?.id === 'editor')) break;
    }
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('editor');
    await page.keyboard.type('// hello\n');
    await line(page, '// hello').waitFor();
    // Tab belongs to the text; Escape gives it back for once.
    await page.keyboard.press('Escape');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.id)).not.toBe('editor');
  });

  it('remembers the theme that was chosen', async () => {
    const page = await open('', { colorScheme: 'light' });
    await page.locator('#theme').click();
    await page.reload();
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
    expect(await sheetOf(page).locator('html').getAttribute('data-theme')).toBe('dark');
  });
});

describe('the page', () => {
  it('made no request to elsewhere, and reported no error, in all of these', () => {
    expect(opened.length).toBeGreaterThan(10);
    expect(opened.flatMap(({ elsewhere }) => elsewhere)).toEqual([]);
    expect(opened.flatMap(({ problems }) => problems)).toEqual([]);
  });
});
