/** The candidates of a shortlist, as a person sees them and takes one. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectEqual, expectMatch, type Test } from './suite-runner.ts';
import { open, openAtLeft, replace, until } from './workbench-steps.ts';

const SHORTLIST = 'builds/tower-pack.fettle';
const BUILD = 'builds/spire.fettle';

export const shortlistTests: readonly Test[] = [
  {
    name: 'without a shortlist in front, the command opens one of the workspace that is chosen',
    async run() {
      await open(BUILD);
      const command = vscode.commands.executeCommand('fettle.showChoice');
      await until('it is offered', async () => {
        const offered = await look({ selector: '.quick-input-list .monaco-list-row' });
        return offered.some((row) => /TowerPack.*two bays and back/s.test(row)) || undefined;
      });
      await look({ selector: '.quick-input-list .monaco-list-row:has-text("TowerPack")', act: 'click' });
      await command;
      await untilStates('.verdict', /^\d+ of 28 candidates/);
      await closePage();
    },
  },
  {
    name: 'the lens of a shortlist opens a page next to the text: verdict, front and candidates',
    async run() {
      await open(SHORTLIST);
      await until('the lens is there', async () => {
        const lenses = await look({ selector: LENS });
        return lenses.length > 0 || undefined;
      });
      await look({ selector: LENS, act: 'click' });
      await untilStates('.verdict', /^\d+ of 28 candidates have no error in any check or requirement$/);
      expectEqual((await look({ sheet: 'TowerPack', selector: '.chart:visible' })).length, 1);
      expectMatch((await rows()).join('\n'), /Mast1050_4S · duty 100 %/);
      expectEqual(vscode.window.tabGroups.all.length >= 2, true);
    },
  },
  {
    name: 'a row of the shortlist is taken: the build has it, its comments stay, and the page calls it today',
    async run() {
      const spire = await openAtLeft(BUILD);
      const before = spire.getText();
      await replace(spire, 'pack: Mast1050_4S', 'pack: Mast1050_4S  // the one of the north tower');
      await until('the page is of the new text', async () => ((await isTaken()) ? undefined : true));
      const row = 'tr:has-text("Mast1050_4S · duty 100 %")';
      await until('the row is taken', async () => {
        await look({ sheet: 'TowerPack', selector: `${row} button.take`, act: 'click' });
        return /pack: Mast1050_4S .*\n\s+pack: Mast720_4S\n/.test(spire.getText()) || undefined;
      });
      expectMatch(spire.getText(), /^ {2}pack: Mast1050_4S {2}\/\/ the one of the north tower\n {2}pack: Mast720_4S$/m);
      expectMatch(spire.getText(), /^ {2}\/\/ Which one for two bays and back\?$/m);
      expectEqual(spire.getText().split('\n').length, before.split('\n').length);
      await until('the row is that of today', async () => (await isTaken()) || undefined);

      // By keyboard: from a row to its line.
      await openAtLeft(SHORTLIST);
      const other = 'tr:has-text("Mast1350_4S · duty 100 %") button:text-is("Show in text")';
      await look({ sheet: 'TowerPack', selector: other, act: 'enter' });
      await until('the line is shown', async () => {
        const { document, selection } = vscode.window.activeTextEditor ?? {};
        if (document?.uri.path !== spire.uri.path || selection === undefined) return undefined;
        return /pack: Mast1050_4S/.test(document.lineAt(selection.active.line).text) || undefined;
      });
      const all = new vscode.Range(new vscode.Position(0, 0), spire.lineAt(spire.lineCount - 1).range.end);
      const back = new vscode.WorkspaceEdit();
      back.replace(spire.uri, all, before);
      await vscode.workspace.applyEdit(back);
      await until('the page is as before', async () => ((await isTaken()) ? undefined : true));
      await closePage();
    },
  },
];

const LENS = '.codelens-decoration a:text-matches("candidates")';

const rows = () => look({ sheet: 'TowerPack', selector: 'tr[id^=row-]' });

const isTaken = async (): Promise<boolean> =>
  (await rows()).some((row) => /Mast1050_4S · duty 100 %\s*today/.test(row));

async function closePage(): Promise<void> {
  const tabs = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  await vscode.window.tabGroups.close(tabs.filter(({ label }) => label === 'TowerPack'));
}

async function untilStates(selector: string, pattern: RegExp): Promise<void> {
  let printed = '';
  try {
    await until('it is there', async () => {
      printed = (await look({ sheet: 'TowerPack', selector })).join('\n');
      return pattern.test(printed) || undefined;
    });
  } catch {
    expectMatch(printed, pattern);
  }
}
