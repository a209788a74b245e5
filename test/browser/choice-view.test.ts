/** The page of a shortlist in an editor's view, in each kind of theme: by pointer, by keyboard, and for those who hear it. */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect } from 'vitest';
import { shellPage } from '../../packages/extension/src/sheet/shell-page.ts';
import {
  type ChoiceAnswer,
  choiceRequest,
  type SheetSection,
} from '../../packages/language/src/editor/requests/protocol.ts';
import { Session } from '../protocol/session.ts';
import { CHOICE, SHORTLIST, WORKSHOP } from '../protocol/workshop.ts';
import { where } from '../where.ts';
import { CHROMIUM, hasChromium, serve } from './open-page.ts';

const it = where(hasChromium, `a browser at ${CHROMIUM}`);
const VIEW = join(import.meta.dirname, '../../packages/extension/dist/view');
const LONGER = SHORTLIST.replace('80 %', '40 %');

/** What an editor gives its views, by the kind of its theme. */
const THEMES = {
  light: {
    'editor-background': '#ffffff',
    'editor-foreground': '#3b3b3b',
    descriptionForeground: '#3b3b3b',
    'editorWidget-background': '#f8f8f8',
    'editorWidget-border': '#c8c8c8',
    'charts-blue': '#0063d3',
    'charts-red': '#e51400',
    'charts-green': '#388a34',
    'charts-foreground': '#3b3b3b',
    errorForeground: '#f85149',
    'button-background': '#005fb8',
    'button-foreground': '#ffffff',
    'button-hoverBackground': '#0258a8',
    focusBorder: '#005fb8',
  },
  dark: {
    'editor-background': '#1f1f1f',
    'editor-foreground': '#cccccc',
    descriptionForeground: '#9d9d9d',
    'editorWidget-background': '#202020',
    'editorWidget-border': '#454545',
    'charts-blue': '#59a4f9',
    'charts-red': '#f14c4c',
    'charts-green': '#89d185',
    'charts-foreground': '#cccccc',
    errorForeground: '#f85149',
    'button-background': '#0078d4',
    'button-foreground': '#ffffff',
    'button-hoverBackground': '#026ec1',
    focusBorder: '#0078d4',
  },
  'high-contrast': {
    'editor-background': '#000000',
    'editor-foreground': '#ffffff',
    descriptionForeground: '#b8b8b8',
    'editorWidget-background': '#0c141f',
    'charts-blue': '#59a4f9',
    'charts-red': '#f48771',
    'charts-green': '#89d185',
    'charts-foreground': '#ffffff',
    errorForeground: '#f48771',
    contrastBorder: '#6fc3df',
    contrastActiveBorder: '#f38518',
    'button-background': '#000000',
    'button-foreground': '#ffffff',
    'button-border': '#6fc3df',
    focusBorder: '#f38518',
  },
} as const;

let folder: string;
let server: Server;
let address: string;
let browser: Browser;
let answer: ChoiceAnswer;

beforeAll(async () => {
  if (!hasChromium) return;
  const session = await Session.start({ files: { ...WORKSHOP, [CHOICE]: LONGER } });
  await session.open(CHOICE, LONGER);
  answer = await session.connection.sendRequest(choiceRequest, { uri: session.uri(CHOICE), shortlist: 'Which' });
  await session.stop();
  folder = mkdtempSync(join(tmpdir(), 'fettle-view-'));
  cpSync(VIEW, folder, { recursive: true });
  writeFileSync(
    join(folder, 'index.html'),
    shellPage({ style: 'sheet.css', script: 'sheet.js' }, "'self'", 'shortlist'),
  );
  ({ server, address } = await serve(folder));
  browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterEach(async () => {
  await Promise.all(browser?.contexts().map((context) => context.close()) ?? []);
});
afterAll(async () => {
  await browser?.close();
  server?.close();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

interface Sent {
  readonly sent: object[];
}

async function open(theme: keyof typeof THEMES = 'light', width = 640): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height: 800 } });
  const page = await context.newPage();
  await page.addInitScript(
    ({ variables, name }) => {
      const sent: object[] = [];
      let state: unknown;
      Object.assign(globalThis, {
        sent,
        acquireVsCodeApi: () => ({
          postMessage: (message: object) => sent.push(message),
          getState: () => state,
          setState: (next: unknown) => {
            state = next;
          },
        }),
      });
      addEventListener('DOMContentLoaded', () => {
        document.body.classList.add(`vscode-${name}`);
        for (const [key, value] of variables) document.documentElement.style.setProperty(`--vscode-${key}`, value);
        document.documentElement.style.setProperty('--vscode-font-family', 'sans-serif');
      });
    },
    { variables: Object.entries(THEMES[theme]), name: theme },
  );
  await page.goto(address);
  return page;
}

const post = (page: Page, message: object) => page.evaluate((data) => postMessage(data, '*'), message);
const sent = (page: Page) => page.evaluate(() => (globalThis as unknown as Sent).sent);

async function show(page: Page, sections: readonly SheetSection[] = answer.choice?.sections ?? []): Promise<void> {
  const shown = sections.map(({ id, html }) => ({ id, html }));
  await post(page, {
    type: 'show',
    subject: { uri: 'file:///a.fettle', shortlist: 'Which' },
    edition: 3,
    sections: shown,
  });
  await page.locator('.choices').first().waitFor();
}

const targetsOf = (id: string) => answer.choice?.sections.find((one) => one.id === id)?.targets ?? [];

describe.each(Object.keys(THEMES) as (keyof typeof THEMES)[])('in a theme that is %s', (theme) => {
  it('has no barrier that axe finds, nor while a search goes on', async () => {
    for (const width of [380, 640, 1000]) {
      const page = await open(theme, width);
      await show(page);
      await post(page, { type: 'busy', words: 'Judging candidates: 64 of 10,001' });
      await page.locator('#busy').waitFor();
      // The page around it names its main part.
      const { violations } = await new AxeBuilder({ page }).disableRules(['page-has-heading-one']).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    }
  });
});

it('a row is taken by a button, and its line shown by another; the view sends numbers, never addresses', async () => {
  const page = await open();
  await show(page);
  await page.locator('button.take').first().click();
  await page.getByText('Show in text').first().click();
  const [taken, shown] = (await sent(page)).slice(-2) as { section: string; target: number }[];
  expect(taken).toEqual({ type: 'go', edition: 3, section: 'candidates', target: expect.any(Number) });
  expect(targetsOf('candidates')[taken?.target ?? -1]).toHaveProperty('row');
  expect(targetsOf('candidates')[shown?.target ?? -1]).toHaveProperty('uri');
});

it('by keyboard: the table is one stop, arrows reach every button of it, enter presses one', async () => {
  const page = await open();
  await show(page);
  const buttons = page.locator('.choices button');
  const stops = await buttons.evaluateAll((all) => all.filter((one) => (one as HTMLElement).tabIndex === 0).length);
  expect(stops).toBe(1);
  await page.locator('tr:has(button.take) button').first().focus();
  const focused = () => page.evaluate(() => document.activeElement?.textContent);
  const seen = [await focused()];
  for (const key of ['ArrowRight', 'ArrowRight']) {
    await page.keyboard.press(key);
    seen.push(await focused());
  }
  expect(seen).toEqual(['Slim900_3S', 'Take this one', 'Show in text']);
  const before = await page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
  await page.keyboard.press('ArrowDown');
  const below = await page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
  expect(below).toMatch(/^Show in text: /);
  expect(below).not.toBe(before);
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Enter');
  const last = (await sent(page)).at(-1) as { target: number };
  expect(targetsOf('candidates')[last.target]).toHaveProperty('row');
});

it('a point of the picture leads to its row, which then has the focus', async () => {
  const page = await open();
  await show(page);
  const count = (await sent(page)).length;
  await page.locator('.chart:visible a').last().focus();
  await page.keyboard.press('Enter');
  const rows = await page.locator('tr[id^=row-]').count();
  expect(await page.evaluate(() => document.activeElement?.id)).toBe(`row-${rows}`);
  expect(await sent(page)).toHaveLength(count);
});

it('a search ends with a button, which then begins it again', async () => {
  const page = await open();
  await post(page, { type: 'busy', words: 'Judging candidates: 64 of 10,001' });
  await page.getByRole('button', { name: 'Stop' }).click();
  await post(page, { type: 'busy', words: 'Stopped.', isStopped: true });
  await page.getByRole('button', { name: 'Judge them' }).click();
  await post(page, { type: 'busy' });
  await expect.poll(() => page.locator('#busy').isVisible()).toBe(false);
  expect((await sent(page)).map((message) => (message as { type: string }).type)).toEqual(['ready', 'stop', 'again']);
});

it('begins at its beginning, also where the best so far came first; what one reads stays in its place', async () => {
  const page = await open();
  const [candidates] = (answer.choice?.sections ?? []).filter(({ id }) => id === 'candidates');
  await show(page, candidates ? [candidates] : []);
  await show(page);
  await page.locator('h1').waitFor();
  expect(await page.evaluate(() => scrollY)).toBe(0);
  await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
  const place = () => page.locator('[data-section=candidates] h2').evaluate((one) => one.getBoundingClientRect().top);
  const before = await place();
  const longer = (answer.choice?.sections ?? []).map((one) =>
    one.id === 'head' ? { ...one, html: `${one.html}<p>more</p><p>and more</p>` } : one,
  );
  await show(page, longer);
  await page.getByText('and more').waitFor({ state: 'attached' });
  expect(Math.abs((await place()) - before)).toBeLessThan(1.5);
});
