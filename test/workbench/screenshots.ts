// What a person sees: installs the packed extension into the server edition and takes the pictures of the README.
// Look at each of them before you commit it.
//   screenshots.ts              all of them
//   screenshots.ts sheet charts those of these names
//   screenshots.ts hover-dark   in one theme
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FrameLocator, Page } from 'playwright-core';
import { type Server, startBrowser, startServer } from './server-edition.ts';
import { shrink } from './small-pictures.ts';
import { EXAMPLES, EXTENSION, SERVER_MAIN, VSIX } from './workbench-places.ts';

const THEMES = {
  light: 'Default Light Modern',
  dark: 'Default Dark Modern',
} as const;
/** A machine that does much else is slow to draw. */
const PATIENCE_MS = 120_000;
const VIEW = { width: 1180, height: 660 };
/** The text alone, to be read in half a page's width. */
const SMALL = { width: 820, height: 460 };

/** One picture: which file, and what to do before it is taken. */
interface Scene {
  readonly name: string;
  readonly file: string;
  /** Light and dark unless stated. */
  readonly themes?: readonly (keyof typeof THEMES)[];
  readonly view?: { readonly width: number; readonly height: number };
  prepare(page: Page): Promise<void>;
}

const scenes: readonly Scene[] = [
  {
    name: 'finding',
    file: 'broken/camera-off-the-pack.fettle',
    async prepare(page) {
      await page.locator('.squiggly-warning').first().waitFor();
      await pointAt(page, 'pack');
    },
  },
  {
    name: 'hover',
    file: 'builds/spire.fettle',
    async prepare(page) {
      await pointAt(page, 'Spire');
      // Past the note on estimates, to the table.
      await page
        .locator('.monaco-hover table')
        .first()
        .evaluate((table) => (table.closest('.hover-contents') ?? table).scrollIntoView({ block: 'start' }));
    },
  },
  {
    name: 'hints',
    file: 'builds/spire.fettle',
    view: { width: 820, height: 900 },
    async prepare(page) {
      await closeSideBar(page);
      await page.locator('.view-lines').getByText('x weight').first().waitFor();
      await page.getByText('open build sheet').first().waitFor();
      await page.locator('.monaco-editor .codicon-testing-passed-icon').first().waitFor();
    },
  },
  {
    name: 'completion',
    file: 'builds/spire.fettle',
    themes: ['dark'],
    view: SMALL,
    async prepare(page) {
      await closeSideBar(page);
      await page.getByText('open build sheet').first().waitFor();
      // The flight above the build fills the window.
      await page.keyboard.press('Control+G');
      await page.keyboard.type('28');
      await page.keyboard.press('Enter');
      await page.locator('.view-lines').getByText('x weight').first().waitFor();
      await page.locator('.view-line', { hasText: 'lead: Main18' }).click();
      await page.keyboard.press('End');
      await page.keyboard.type('\nrequire weight');
      await page.keyboard.press('Control+Space');
      await page.locator('.suggest-widget .monaco-list-row').first().waitFor();
      await page.waitForTimeout(1500);
    },
  },
  {
    name: 'fix',
    file: 'broken/camera-off-the-pack.fettle',
    themes: ['light'],
    view: SMALL,
    async prepare(page) {
      await closeSideBar(page);
      await page.locator('.squiggly-warning').first().waitFor();
      await page.locator('.view-line', { hasText: 'load: TwinCam' }).click();
      // The server's own come a little after the workbench's.
      const fix = page.locator('.action-widget').getByText('Feed TwinCam');
      for (let attempt = 0; attempt < 10 && !(await fix.isVisible()); attempt++) {
        await page.keyboard.press('Escape');
        await page.keyboard.press('Control+.');
        await page.waitForTimeout(2000);
      }
      await fix.waitFor();
      await page.waitForTimeout(500);
    },
  },
  {
    name: 'tests',
    file: 'broken/too-heavy.fettle',
    view: { width: 1420, height: 660 },
    async prepare(page) {
      await page.locator('.test-error-content-widget').first().waitFor();
      await page.locator('.activitybar .codicon-test-view-icon').click();
      for (const label of ['TooHeavy', 'on Eaves1150_3S']) {
        const row = page.locator(`.test-explorer .monaco-list-row:has(.label:text-is("${label}"))`);
        await row.locator('.monaco-tl-twistie').click();
      }
      await page.getByText('all_up_weight <= 280 g').waitFor();
      const edge = await page.locator('.part.sidebar').boundingBox();
      if (edge) await drag(page, { x: edge.x + edge.width, y: edge.y + 300 }, { x: 540, y: edge.y + 300 });
      await page.mouse.move(5, 5);
      await page.waitForTimeout(1000);
    },
  },
  {
    name: 'new-build',
    file: 'builds/first.fettle',
    view: SMALL,
    async prepare(page) {
      await closeSideBar(page);
      await page.locator('.view-lines').getByText('x weight').first().waitFor();
      await runCommand(page, 'Fettle: New Build');
      const box = page.locator('.quick-input-widget input').first();
      await page.mouse.move(5, 5);
      await page.getByText(/\(1 of \d+\)/).waitFor();
      await box.fill('12 mm');
      await page.waitForTimeout(1500);
    },
  },
  {
    name: 'walkthrough',
    themes: ['light'],
    file: 'broken/camera-off-the-pack.fettle',
    view: { width: 1180, height: 760 },
    async prepare(page) {
      await closeSideBar(page);
      await page.locator('.squiggly-warning').first().waitFor();
      await runCommand(page, 'Welcome: Open Walkthrough...');
      await page.locator('.quick-input-widget input').first().fill('Fettle');
      await page.keyboard.press('Enter');
      await page.locator('.getting-started-step').first().waitFor();
      // Two steps are done, and ticked off.
      await page.locator('.tab', { hasText: 'camera-off-the-pack.fettle' }).click();
      await pointAt(page, 'pack');
      await page.locator('.tab', { hasText: 'Welcome' }).click();
      await page.locator('.codicon-getting-started-step-checked').nth(1).waitFor();
      await page.locator('.getting-started-footer, .gettingStartedContainer .footer').evaluateAll((all) => {
        for (const one of all) one.remove();
      });
      await page.waitForTimeout(2000);
    },
  },
  {
    name: 'sheet',
    file: 'builds/spire.fettle',
    themes: ['light'],
    view: { width: 1300, height: 820 },
    async prepare(page) {
      await openSheet(page);
    },
  },
  {
    name: 'charts',
    file: 'builds/belfry.fettle',
    view: { width: 1000, height: 980 },
    async prepare(page) {
      const sheet = await openSheet(page);
      // The sheet has the window to itself when its text is closed.
      await page.locator('.tab', { hasText: 'belfry.fettle' }).click({ button: 'middle' });
      await sheet.locator('[data-section=land]').evaluate((section) => section.scrollIntoView());
      await page.mouse.move(5, 5);
      await page.waitForTimeout(500);
    },
  },
  {
    name: 'choice',
    file: 'builds/tower-pack.fettle',
    view: { width: 1420, height: 960 },
    async prepare(page) {
      await page.keyboard.press('Control+B');
      await page.getByText('show candidates').first().click();
      await viewIn(page).locator('.choices').first().waitFor();
      await page.getByText('candidates pass').first().waitFor();
      await page.mouse.move(5, 5);
      await page.waitForTimeout(500);
    },
  },
  {
    name: 'flight',
    themes: ['light'],
    file: 'builds/spire.fettle',
    view: { width: 1420, height: 860 },
    async prepare(page) {
      const sheet = await openSheet(page);
      await sheet.locator('[data-section=legs]').evaluate((section) => section.scrollIntoView());
      await page.mouse.move(5, 5);
      await page.waitForTimeout(500);
    },
  },
];

for (const [needed, script] of [
  [SERVER_MAIN, 'npm run install:workbench'],
  [VSIX, 'npm run package -w packages/extension'],
] as const) {
  if (!existsSync(needed)) throw new Error(`${needed} is missing: ${script}`);
}
const work = mkdtempSync(join(tmpdir(), 'fettle-screenshots-'));
try {
  await takeAll(work);
} finally {
  rmSync(work, { recursive: true, force: true });
}

async function takeAll(work: string): Promise<void> {
  const extensions = join(work, 'extensions');
  install(extensions);
  await using server = await startServer(extensions);
  const named = process.argv.slice(2);
  const isWanted = (name: string, theme: string) =>
    named.length === 0 || named.includes(name) || named.includes(`${name}-${theme}`);
  for (const [theme, themeName] of Object.entries(THEMES)) {
    for (const scene of scenes) {
      if (!isWanted(scene.name, theme) || !(scene.themes ?? ['light', 'dark']).some((one) => one === theme)) continue;
      // A folder each: what one leaves unsaved comes back when its folder is opened again.
      const folder = join(work, `${scene.name}-${theme}`, 'roof-survey');
      cpSync(EXAMPLES, folder, { recursive: true });
      writeSettings(folder, themeName);
      await take(server, folder, scene, join(EXTENSION, 'images', `${scene.name}-${theme}.png`));
    }
  }
  await shrink();
}

function install(extensions: string): void {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [SERVER_MAIN, '--install-extension', VSIX, '--extensions-dir', extensions, '--accept-server-license-terms'],
    { encoding: 'utf8' },
  );
  if (status !== 0) throw new Error(`the extension could not be installed:\n${stdout}${stderr}`);
}

function writeSettings(folder: string, theme: string): void {
  mkdirSync(join(folder, '.vscode'));
  const settings = {
    'workbench.colorTheme': theme,
    'workbench.startupEditor': 'none',
    'workbench.tips.enabled': false,
    'chat.disableAIFeatures': true,
    'editor.minimap.enabled': false,
    // No comment ends at the edge of a picture.
    'editor.wordWrap': 'on',
    'editor.fontSize': 14,
    'editor.hover.delay': 100,
    'editor.hover.above': false,
    'editor.occurrencesHighlight': 'off',
    'breadcrumbs.enabled': false,
    'window.commandCenter': false,
    // biome-ignore lint/suspicious/noTemplateCurlyInString: the workbench fills them in
    'window.title': '${activeEditorShort}${separator}${rootName}',
    'files.autoSave': 'off',
    'files.exclude': { '.vscode': true },
  };
  writeFileSync(join(folder, '.vscode', 'settings.json'), JSON.stringify(settings, null, 2));
}

async function take(server: Server, folder: string, scene: Scene, picture: string): Promise<void> {
  await using browser = await startBrowser();
  const page = await browser.newPage({ viewport: scene.view ?? VIEW, deviceScaleFactor: 1.25 });
  page.setDefaultTimeout(PATIENCE_MS);
  await page.goto(server.address(folder, [['openFile', server.remote(join(folder, scene.file))]]));
  await closeChat(page);
  await scene.prepare(page);
  await page.screenshot({ path: picture });
  console.log(picture);
}

/** The column at the right, which opens by itself in a new profile. */
async function closeChat(page: Page): Promise<void> {
  const column = page.locator('.part.auxiliarybar');
  await page.locator('.view-lines').first().waitFor();
  if (await column.isVisible()) await page.keyboard.press('Control+Alt+B');
  await column.waitFor({ state: 'hidden' });
}

async function drag(page: Page, from: { x: number; y: number }, to: { x: number; y: number }): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x, to.y, { steps: 5 });
  await page.mouse.up();
}

async function closeSideBar(page: Page): Promise<void> {
  await page.keyboard.press('Control+B');
  await page.locator('.part.sidebar').waitFor({ state: 'hidden' });
}

async function runCommand(page: Page, title: string): Promise<void> {
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input').first().fill(`>${title}`);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().click();
}

/** The sheet of the first build, from the lens above it, without the column of files; resolves when all is drawn. */
async function openSheet(page: Page): Promise<FrameLocator> {
  await page.keyboard.press('Control+B');
  await page.getByText('open build sheet').first().click();
  const sheet = viewIn(page);
  await sheet.locator('.chart').first().waitFor();
  // What is searched for comes last.
  await sheet.getByText('…', { exact: true }).first().waitFor({ state: 'hidden' });
  return sheet;
}

/** The page next to the text. */
function viewIn(page: Page): FrameLocator {
  return page.frameLocator('iframe.webview.ready').frameLocator('iframe#active-frame');
}

/** Rests the pointer on a word until its hover is there; before the server is ready nothing appears, so again. */
async function pointAt(page: Page, word: string): Promise<void> {
  const hover = page.locator('.monaco-hover .hover-row').first();
  for (let attempt = 0; attempt < 10; attempt++) {
    await page.mouse.move(VIEW.width / 2, VIEW.height - 60);
    await page.locator('.view-lines').getByText(word, { exact: true }).first().hover();
    try {
      await hover.waitFor({ timeout: 2000 });
      // Its parts arrive one by one.
      await page.waitForTimeout(700);
      const pending = page.locator('.monaco-hover').getByText(/Loading|Checking for quick fixes/);
      await pending.first().waitFor({ state: 'hidden' });
      return;
    } catch {
      // not yet
    }
  }
  throw new Error(`no hover on ${word}`);
}
