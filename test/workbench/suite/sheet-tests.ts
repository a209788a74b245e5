/** The build sheet, as a person sees and uses it. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectEqual, expectMatch, type Test } from './suite-runner.ts';
import { fileUri, open, openAtLeft, positionOf, replace, until } from './workbench-steps.ts';

const BUILD = 'builds/gable.fettle';

export const sheetTests: readonly Test[] = [
  {
    name: 'the sheet of a build opens next to its text, by the questions of the job, with charts that have words',
    async run() {
      const gable = await openAtLeft(BUILD);
      await openSheet(gable, 'Gable');
      await untilStates('Gable', '#sheet', /all-up weight\s+245\.3 ± [\d.]+ g\s+291\.3 ± [\d.]+ g/);
      const questions = await look({ sheet: 'Gable', selector: 'h2' });
      for (const question of [
        'What was found?',
        'When must it land?',
        'How near are the limits?',
        'What does it weigh?',
      ])
        expectEqual(questions.includes(question), true);
      const charts = await look({ sheet: 'Gable', selector: 'svg[role=img]' });
      const described = await look({ sheet: 'Gable', selector: 'svg[role=img] > title + desc' });
      expectEqual(charts.length >= 7 && described.length === charts.length, true);
    },
  },
  {
    name: 'the sheet follows what is typed, before it is saved',
    async run() {
      const gable = await openAtLeft(BUILD);
      await replace(gable, 'item: 4 g', 'item: 14 g');
      await untilStates('Gable', '#sheet', /all-up weight\s+255\.3 ± /);
      expectMatch((await look({ sheet: 'Gable', selector: '#told' })).join(), /^Page updated\. /);
      await replace(gable, 'item: 14 g', 'item: 4 g');
      await untilStates('Gable', '#sheet', /all-up weight\s+245\.3 ± /);
    },
  },
  {
    name: 'a row of the sheet leads to its line, by pointer and by keyboard, also into the files of parts',
    async run() {
      await openSheet(await openAtLeft(BUILD), 'Gable');
      await untilSettled('Gable');
      await look({ sheet: 'Gable', selector: '[data-section=fly] thead th:last-child button', act: 'click' });
      await untilSelected(BUILD, /^pack: Round2600_3S duty 95 %/);
      await look({ sheet: 'Gable', selector: '[data-section=weight] summary', act: 'click' });
      const motor = '[data-section=weight] th button:text-is("M1606_3150")';
      await look({ sheet: 'Gable', selector: motor, act: 'enter' });
      await untilSelected('parts/motors.fettle', /^mass: 14\.7 g|^14\.7 g/);
    },
  },
  {
    name: 'a value of the sheet leads to how it came about',
    async run() {
      await openSheet(await openAtLeft(BUILD), 'Gable');
      await untilSettled('Gable');
      const weight = '[data-section=fly] tr:has(th:text-is("all-up weight")) td button';
      await look({ sheet: 'Gable', selector: weight, act: 'click' });
      const page = await until('the page of the derivation is there', async () =>
        vscode.workspace.textDocuments.find(({ uri }) => uri.path === '/all_up_weight of Gable on Eaves1150_3S.md'),
      );
      expectMatch(page.getText(), /# all-up weight: 245\.3 ± /);
      await closeTabs(/^all_up_weight|Preview/);
    },
  },
  {
    name: 'what a file states stays text in the sheet',
    async run() {
      const gable = await openAtLeft(BUILD);
      const hostile = '<img src=x onerror=alert(1)><script>alert(2)</script>';
      await replace(gable, '"Gable, gutters and outer walls"', `"${hostile}"`);
      await untilStates('Gable', 'h1', /^<img src=x onerror=alert\(1\)><script>/);
      expectEqual((await look({ sheet: 'Gable', selector: '#sheet img, #sheet script' })).length, 0);
      await replace(gable, `"${hostile}"`, '"Gable, gutters and outer walls"');
      await untilStates('Gable', 'h1', /^Gable, gutters and outer walls$/);
    },
  },
  {
    name: 'while a line is half typed the sheet keeps the last figures and reports that',
    async run() {
      const gable = await openAtLeft(BUILD);
      await replace(gable, 'esc: Board35', 'esc: Boa');
      await untilStates('Gable', '#note', /cannot be read yet.*last complete text/);
      await untilStates('Gable', '#sheet', /unknown-name[\s\S]*all-up weight\s+245\.3 ± /);
      await replace(gable, 'esc: Boa', 'esc: Board35');
      await until('the note is gone', async () => (await isNoted('Gable')) === false || undefined);
    },
  },
  {
    name: 'the sheet goes with a build that gets another name',
    async run() {
      const gable = await openAtLeft(BUILD);
      await replace(gable, 'build Gable "', 'build Purlin "');
      await untilStates('Purlin', '#sheet', /all-up weight\s+245\.3 ± /);
      await replace(gable, 'build Purlin "', 'build Gable "');
      await untilStates('Gable', '#sheet', /all-up weight\s+245\.3 ± /);
    },
  },
  {
    name: 'of a file that is deleted the sheet keeps the figures; two sheets stand side by side',
    async run() {
      const text = 'build Lent "Lent to the swift group" like Gable { }\n';
      const uri = fileUri('builds/lent.fettle');
      await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
      await openSheet({ uri }, 'Lent');
      await untilStates('Lent', '#sheet', /all-up weight\s+245\.3 ± /);
      expectEqual(tabs().filter((label) => /gutters and outer walls|swift group/.test(label)).length, 2);
      await vscode.workspace.fs.delete(uri);
      await untilStates('Lent', '#note', /no such Fettle file.*last complete text/);
      await untilStates('Lent', '#sheet', /all-up weight\s+245\.3 ± /);
      await closeTabs(/swift group/);
    },
  },
  {
    name: 'without a choice, the command opens the sheet of the build at the cursor',
    async run() {
      const spire = await openAtLeft('builds/spire.fettle');
      const editor = await vscode.window.showTextDocument(spire, vscode.ViewColumn.One);
      const inside = positionOf(spire, 'pack: Mast1050_4S');
      editor.selection = new vscode.Selection(inside, inside);
      await vscode.commands.executeCommand('fettle.openSheet');
      await untilStates('Spire', '#sheet', /all-up weight\s+26\d\.\d ± /);
      await closeTabs(/tower work/);
    },
  },
  {
    name: 'a hover may call what shows an explanation, and nothing that is not ours',
    async run() {
      const gable = await openAtLeft(BUILD);
      const at = positionOf(gable, 'hover_time');
      const hovers = await vscode.commands.executeCommand<vscode.Hover[]>('vscode.executeHoverProvider', gable.uri, at);
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
      const { line, character } = positionOf(parts, 'pack Eaves1150_3S').translate(0, 5);
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

function openSheet({ uri }: { readonly uri: vscode.Uri }, build: string): Thenable<unknown> {
  return vscode.commands.executeCommand('fettle.openSheet', { uri: uri.toString(), build });
}

async function untilStates(sheet: string, selector: string, pattern: RegExp): Promise<void> {
  let printed = '';
  try {
    await until('it is there', async () => {
      printed = (await look({ sheet, selector })).join('\n');
      return pattern.test(printed) || undefined;
    });
  } catch {
    const notes = await look({ sheet, selector: '#note' });
    expectMatch([printed, ...notes].join('\n'), pattern);
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

async function untilSelected(path: string, pattern: RegExp): Promise<void> {
  let selected = '';
  try {
    await until('it is selected', async () => {
      const { document, selection } = vscode.window.activeTextEditor ?? {};
      selected = `${document?.getText(selection)} (in ${document?.uri.path})`;
      return (document?.uri.path === fileUri(path).path && pattern.test(selected)) || undefined;
    });
  } catch {
    expectMatch(selected, pattern);
    expectEqual(vscode.window.activeTextEditor?.document.uri.path, fileUri(path).path);
  }
}

const tabs = (): string[] => vscode.window.tabGroups.all.flatMap((group) => group.tabs.map(({ label }) => label));

async function closeTabs(label: RegExp): Promise<void> {
  const all = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  await vscode.window.tabGroups.close(all.filter((tab) => label.test(tab.label)));
}
