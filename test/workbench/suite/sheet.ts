/** The build sheet, as a person sees and uses it. */
import * as vscode from 'vscode';
import { look } from './page.ts';
import { expectEqual, expectMatch, type Test } from './runner.ts';
import { fileUri, open, positionOf, replace, until } from './workspace.ts';

const BUILD = 'builds/rafter.fettle';

export const sheetTests: readonly Test[] = [
  {
    name: 'the sheet of a build opens beside its text, by the questions of the job, with charts that have words',
    async run() {
      const rafter = await openText(BUILD);
      await openSheet(rafter, 'Rafter');
      await untilSays('Rafter', '#sheet', /all-up weight\s+96\.0 ± [\d.]+ g\s+104\.4 ± [\d.]+ g/);
      const questions = await look({ sheet: 'Rafter', selector: 'h2' });
      for (const question of [
        'What was found?',
        'When must it land?',
        'How near are the limits?',
        'What does it weigh?',
      ])
        expectEqual(questions.includes(question), true);
      const charts = await look({ sheet: 'Rafter', selector: 'svg[role=img]' });
      const described = await look({ sheet: 'Rafter', selector: 'svg[role=img] > title + desc' });
      expectEqual(charts.length >= 7 && described.length === charts.length, true);
    },
  },
  {
    name: 'the sheet follows what is typed, before it is saved',
    async run() {
      const rafter = await openText(BUILD);
      await replace(rafter, 'item: 2.4 g', 'item: 6.4 g');
      await untilSays('Rafter', '#sheet', /all-up weight\s+100\.0 ± /);
      expectMatch((await look({ sheet: 'Rafter', selector: '#told' })).join(), /^Sheet updated\. /);
      await replace(rafter, 'item: 6.4 g', 'item: 2.4 g');
      await untilSays('Rafter', '#sheet', /all-up weight\s+96\.0 ± /);
    },
  },
  {
    name: 'a row of the sheet leads to its line, by pointer and by keyboard, also into the files of parts',
    async run() {
      await openText(BUILD);
      await untilSettled('Rafter');
      await look({ sheet: 'Rafter', selector: '[data-section=fly] thead th:last-child button', act: 'click' });
      await untilSelected(BUILD, /^pack: Slim420_3S duty 66 %/);
      await look({ sheet: 'Rafter', selector: '[data-section=weight] summary', act: 'click' });
      const motor = '[data-section=weight] th button:text-is("Roofwinder")';
      await look({ sheet: 'Rafter', selector: motor, act: 'enter' });
      await untilSelected('parts/motors.fettle', /^mass: 3\.40 g|^3\.40 g/);
    },
  },
  {
    name: 'a value of the sheet leads to how it came about',
    async run() {
      await openText(BUILD);
      await untilSettled('Rafter');
      const weight = '[data-section=fly] tbody tr:first-child td button';
      await look({ sheet: 'Rafter', selector: weight, act: 'click' });
      const page = await until('the page of the derivation is there', async () =>
        vscode.workspace.textDocuments.find(({ uri }) => uri.path === '/all_up_weight of Rafter on Slim480_2S.md'),
      );
      expectMatch(page.getText(), /# all-up weight: 96\.0 ± /);
      await closeTabs(/^all_up_weight|Preview/);
    },
  },
  {
    name: 'what a file says stays text in the sheet',
    async run() {
      const rafter = await openText(BUILD);
      const hostile = '<img src=x onerror=alert(1)><script>alert(2)</script>';
      await replace(rafter, '"Rafter, roof-void survey"', `"${hostile}"`);
      await untilSays('Rafter', 'h1', /^<img src=x onerror=alert\(1\)><script>/);
      expectEqual((await look({ sheet: 'Rafter', selector: '#sheet img, #sheet script' })).length, 0);
      await replace(rafter, `"${hostile}"`, '"Rafter, roof-void survey"');
      await untilSays('Rafter', 'h1', /^Rafter, roof-void survey$/);
    },
  },
  {
    name: 'while a line is half typed the sheet keeps the last figures and says so',
    async run() {
      const rafter = await openText(BUILD);
      await replace(rafter, 'esc: Board20', 'esc: Boa');
      await untilSays('Rafter', '#note', /cannot be read yet.*from before/);
      await untilSays('Rafter', '#sheet', /unknown-name[\s\S]*all-up weight\s+96\.0 ± /);
      await replace(rafter, 'esc: Boa', 'esc: Board20');
      await until('the note is gone', async () => (await isNoted('Rafter')) === false || undefined);
    },
  },
  {
    name: 'the sheet goes with a build that gets another name',
    async run() {
      const rafter = await openText(BUILD);
      await replace(rafter, 'build Rafter "', 'build Purlin "');
      await untilSays('Purlin', '#sheet', /all-up weight\s+96\.0 ± /);
      await replace(rafter, 'build Purlin "', 'build Rafter "');
      await untilSays('Rafter', '#sheet', /all-up weight\s+96\.0 ± /);
    },
  },
  {
    name: 'of a file that is deleted the sheet keeps the figures; two sheets stand side by side',
    async run() {
      const text = 'build Lent "Lent to the swift group" like Rafter { }\n';
      const uri = fileUri('builds/lent.fettle');
      await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
      await openSheet({ uri }, 'Lent');
      await untilSays('Lent', '#sheet', /all-up weight\s+96\.0 ± /);
      expectEqual(tabs().filter((label) => /roof-void survey|swift group/.test(label)).length, 2);
      await vscode.workspace.fs.delete(uri);
      await untilSays('Lent', '#note', /no such Fettle file.*from before/);
      await untilSays('Lent', '#sheet', /all-up weight\s+96\.0 ± /);
      await closeTabs(/swift group/);
    },
  },
  {
    name: 'without being told which, the command opens the sheet of the build at the cursor',
    async run() {
      const rafter = await openText(BUILD);
      const editor = await vscode.window.showTextDocument(rafter, vscode.ViewColumn.One);
      const inside = positionOf(rafter, 'pack: Slim420_3S as Full3S');
      editor.selection = new vscode.Selection(inside, inside);
      await vscode.commands.executeCommand('fettle.openSheet');
      await untilSays('Rafter_Quiet', '#sheet', /all-up weight\s+104\.4 ± /);
      await closeTabs(/slower winding/);
    },
  },
  {
    name: 'a hover may call what shows an explanation, and nothing that is not ours',
    async run() {
      const rafter = await openText(BUILD);
      const at = positionOf(rafter, 'hover_time');
      const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
        'vscode.executeHoverProvider',
        rafter.uri,
        at,
      );
      const contents = hovers.flatMap((one) => one.contents) as vscode.MarkdownString[];
      const linked = contents.find(({ value }) => value.includes('(command:fettle.showExplanation?'));
      const trusted = typeof linked?.isTrusted === 'object' ? linked.isTrusted.enabledCommands : [];
      expectEqual(trusted.includes('fettle.showExplanation'), true);
      expectEqual(
        trusted.filter((command) => !command.startsWith('fettle.')),
        [],
      );
    },
  },
  {
    name: 'the lens of a part shows who uses it',
    async run() {
      const parts = await open('parts/packs.fettle');
      const { line, character } = positionOf(parts, 'pack Slim480_2S').translate(0, 5);
      await vscode.commands.executeCommand('fettle.showUses', {
        uri: parts.uri.toString(),
        position: { line, character },
      });
      await until('the uses are shown', async () => {
        const found = await look({ selector: '.zone-widget .reference, .peekview-widget .monaco-list-row' });
        return found.length > 0 || undefined;
      });
    },
  },
];

/** At the left, so that it covers no sheet. */
async function openText(path: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(fileUri(path));
  await vscode.window.showTextDocument(document, vscode.ViewColumn.One);
  return document;
}

function openSheet({ uri }: { readonly uri: vscode.Uri }, build: string): Thenable<unknown> {
  return vscode.commands.executeCommand('fettle.openSheet', { uri: uri.toString(), build });
}

async function untilSays(sheet: string, selector: string, pattern: RegExp): Promise<void> {
  let said = '';
  try {
    await until('it is there', async () => {
      said = (await look({ sheet, selector })).join('\n');
      return pattern.test(said) || undefined;
    });
  } catch {
    const notes = await look({ sheet, selector: '#note' });
    expectMatch([said, ...notes].join('\n'), pattern);
  }
}

/** What is searched for comes last; then nothing moves under the pointer. */
function untilSettled(sheet: string): Promise<true> {
  return until('the sheet is settled', async () => {
    const texts = await look({ sheet, selector: 'td' });
    return (texts.length > 0 && !texts.includes('…')) || undefined;
  });
}

const isNoted = async (sheet: string): Promise<boolean> =>
  (await look({ sheet, selector: '#note:not([hidden])' })).length > 0;

function untilSelected(path: string, pattern: RegExp): Promise<true> {
  return until(`${pattern} is selected in ${path}`, async () => {
    const { document, selection } = vscode.window.activeTextEditor ?? {};
    const isThere = document?.uri.path === fileUri(path).path && pattern.test(document.getText(selection));
    return isThere || undefined;
  });
}

const tabs = (): string[] => vscode.window.tabGroups.all.flatMap((group) => group.tabs.map(({ label }) => label));

async function closeTabs(label: RegExp): Promise<void> {
  const all = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  await vscode.window.tabGroups.close(all.filter((tab) => label.test(tab.label)));
}
