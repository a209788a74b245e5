import * as vscode from 'vscode';
import { firstStepTests } from './first-step-tests.ts';
import { CAN_LOOK } from './look-at-page.ts';
import { newBuildTests } from './new-build-tests.ts';
import { refactoringTests } from './refactoring-tests.ts';
import { sheetTests } from './sheet-tests.ts';
import { shortlistTests } from './shortlist-tests.ts';
import { expectDefined, expectEqual, expectMatch, runAll, type Test } from './suite-runner.ts';
import { requirementTests } from './test-explorer-tests.ts';
import { typingTests } from './typing-tests.ts';
import { codeOf, findings, open, positionOf, quickFixes, replace, until } from './workbench-steps.ts';

/** Loaded by the extension host of a workbench whose folder is a copy of the examples. */
export function run(): Promise<void> {
  const seen = [
    ...typingTests,
    ...sheetTests,
    ...shortlistTests,
    ...requirementTests,
    ...newBuildTests,
    ...firstStepTests,
  ];
  return runAll([...tests, ...refactoringTests, ...(CAN_LOOK ? seen : [])]);
}

const tests: readonly Test[] = [
  {
    name: 'the extension sleeps until a file of the language is opened',
    async run() {
      const extension = expectDefined(vscode.extensions.getExtension('fettle.fettle'), 'the extension');
      await vscode.workspace.openTextDocument({ language: 'plaintext', content: 'no source' });
      expectEqual(extension.isActive, false);
      await open('parts/motors.fettle');
      await until('the extension is awake', async () => extension.isActive || undefined);
    },
  },
  {
    name: 'a build on one cell too many has its finding at the pack, and nothing else but the note on estimates',
    async run() {
      const broken = await open('broken/one-cell-more.fettle');
      await untilFindings(broken, ONE_CELL_MORE);
    },
  },
  {
    name: 'a healthy build shows nothing but that note, and a wrong name as soon as it is typed',
    async run() {
      const gable = await open('builds/gable.fettle');
      await replace(gable, 'pack: Eaves1150_3S', 'pack: Eaves1150_3s');
      await untilIncludes(gable, 'error unknown-name at «Eaves1150_3s»');
      await replace(gable, 'pack: Eaves1150_3s', 'pack: Eaves1150_3S');
      await untilFindings(gable, GABLE);
    },
  },
  {
    name: 'a hover on a build shows all-up weight and effective kV',
    async run() {
      const gable = await open('builds/gable.fettle');
      const text = await hover(gable, positionOf(gable, 'Gable "'));
      // 36 + 4 × (14.7 + 1.9) + 11.8 + 26.5 + 1.3 + 2 × 1.1 + 4 = 148.2 g, and 97 or 143 g of pack
      expectMatch(text, /all-up weight[^\n]* 245\.3 ± [\d.]+ g [^\n]* 291\.3 ± [\d.]+ g/i);
      // 3150 rpm/V, and 95 % of it
      expectMatch(text, /effective kV[^\n]* 3150 ± \d+ rpm\/V [^\n]* 2990 ± \d+ rpm\/V/i);
    },
  },
  {
    name: "a finding's link leads to its page, packed into the extension",
    async run() {
      const broken = await open('broken/one-cell-more.fettle');
      await untilFindings(broken, ONE_CELL_MORE);
      const { code } = overvoltage(broken);
      const link = typeof code === 'object' ? code.target : undefined;
      const page = await vscode.workspace.openTextDocument(expectDefined(link, 'a link'));
      expectMatch(page.getText(), /^#.*motor-overvoltage/m);
    },
  },
  {
    name: 'the quick fix limits the duty, and the finding is gone',
    async run() {
      const broken = await open('broken/one-cell-more.fettle');
      await untilFindings(broken, ONE_CELL_MORE);
      // The workbench answers with what it has of its own until the server has answered too.
      const fix = await until('a fix about the duty', async () => {
        const actions = await quickFixes(broken, overvoltage(broken).range);
        return actions.find((action) => /duty/i.test(action.title));
      });
      await vscode.workspace.applyEdit(expectDefined(fix.edit, 'an edit'));
      expectMatch(broken.getText(), /pack: Mast950_5S duty 77 %/);
      await untilFindings(broken, ONE_CELL_MORE_LIMITED);
    },
  },
  {
    name: 'a file that was never saved is checked, and a double click selects a whole name',
    async run() {
      const content = 'motor M1 { kv: 11000 }\nrules R { raise pack-oversag to error }\n';
      const untitled = await vscode.workspace.openTextDocument({ language: 'fettle', content });
      await until(
        'the unit is missed',
        async () => findings(untitled).some((f) => f.includes('missing-unit')) || undefined,
      );
      const word = untitled.getWordRangeAtPosition(positionOf(untitled, 'oversag'));
      expectEqual(untitled.getText(word), 'pack-oversag');
    },
  },
  {
    name: 'comparing with the committed version opens a page, here one that states why it cannot',
    async run() {
      await open('builds/gable.fettle');
      await vscode.commands.executeCommand('fettle.compareCommitted');
      const tabs = () => vscode.window.tabGroups.all.flatMap((group) => group.tabs);
      const tab = await until('the page', async () =>
        tabs().find(({ label }) => label.includes('Since the last commit')),
      );
      const page = vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'fettle-review');
      expectMatch(
        expectDefined(page, 'its text').getText(),
        /Nothing to compare\s+(this is not a git repository|.* needs git)/,
      );
      await vscode.window.tabGroups.close(tab);
    },
  },
  {
    name: 'the packs of the build at the cursor are put side by side on a page, which follows what is typed',
    async run() {
      const gable = await open('builds/gable.fettle');
      const editor = expectDefined(vscode.window.activeTextEditor, 'the editor');
      const position = positionOf(gable, 'pack: Eaves1150_3S');
      editor.selection = new vscode.Selection(position, position);
      await vscode.commands.executeCommand('fettle.comparePacks');
      const page = await until('the page', async () =>
        vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'fettle-packs'),
      );
      expectMatch(page.getText(), /^# Gable on each of its packs[\s\S]*\| `Eaves1150_3S` \| `Round2600_3S` \|/);
      const tab = vscode.window.tabGroups.all
        .flatMap((group) => group.tabs)
        .find(({ label }) => label.includes('Gable on each of its packs'));
      await replace(gable, 'pack: Eaves1150_3S', 'pack: Eaves1150_3S as Short');
      await until('the second name', async () => page.getText().includes('`Short`') || undefined);
      await replace(gable, 'pack: Eaves1150_3S as Short', 'pack: Eaves1150_3S');
      await vscode.window.tabGroups.close(expectDefined(tab, 'its tab'));
    },
  },
  {
    name: 'the command to restart starts a new server, and the findings come back',
    async run() {
      const gable = await open('builds/gable.fettle');
      await replace(gable, 'esc: Board35', 'esc: Board34');
      await untilIncludes(gable, 'error unknown-name at «Board34»');
      await vscode.commands.executeCommand('fettle.restart');
      await untilIncludes(gable, 'error unknown-name at «Board34»');
      await replace(gable, 'esc: Board34', 'esc: Board35');
      await untilFindings(gable, GABLE);
    },
  },
  {
    name: 'renaming a motor in a parts file renames it in the builds',
    async run() {
      const parts = await open('parts/motors.fettle');
      await rename(parts, 'M1606_3150', 'Roofwinder');
      expectMatch(parts.getText(), /^motor Roofwinder "/m);
      expectMatch(parts.getText(), /^motor M1606_2650 .* like Roofwinder /m);
      const gable = await open('builds/gable.fettle');
      expectMatch(gable.getText(), /motors: 4 x Roofwinder with P4022x2/);
      await untilFindings(gable, GABLE);
      const kilovolts = await open('broken/kilovolts.fettle');
      expectMatch(kilovolts.getText(), /motor Kilovolts like Roofwinder/);
      await untilFindings(kilovolts, ['error wrong-dimension at «kV»']);
      await rename(parts, 'Roofwinder', 'M1606_3150');
      expectMatch(gable.getText(), /motors: 4 x M1606_3150 with P4022x2/);
      await untilFindings(gable, GABLE);
    },
  },
];

/** Renames a motor where it is defined. */
async function rename(parts: vscode.TextDocument, motor: string, newName: string): Promise<void> {
  const at = positionOf(parts, `motor ${motor} "`).translate(0, 'motor '.length);
  const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
    'vscode.executeDocumentRenameProvider',
    parts.uri,
    at,
    newName,
  );
  await vscode.workspace.applyEdit(edit);
}

const ONE_CELL_MORE_LIMITED = ['hint estimates at «OneCellMore»'];
const ONE_CELL_MORE = [...ONE_CELL_MORE_LIMITED, 'information motor-overvoltage at «pack: Mast950_5S»'];
const GABLE = ['hint estimates at «Gable»'];

async function untilIncludes(document: vscode.TextDocument, expected: string): Promise<void> {
  await until(expected, async () => findings(document).includes(expected) || undefined);
}

async function untilFindings(document: vscode.TextDocument, expected: readonly string[]): Promise<void> {
  const wanted = JSON.stringify(expected);
  try {
    await until(
      'the findings are those expected',
      async () => JSON.stringify(findings(document)) === wanted || undefined,
    );
  } catch {
    expectEqual(findings(document), expected);
  }
}

function overvoltage(document: vscode.TextDocument): vscode.Diagnostic {
  const all = vscode.languages.getDiagnostics(document.uri);
  return expectDefined(
    all.find((diagnostic) => codeOf(diagnostic) === 'motor-overvoltage'),
    'motor-overvoltage',
  );
}

async function hover(document: vscode.TextDocument, position: vscode.Position): Promise<string> {
  const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
    'vscode.executeHoverProvider',
    document.uri,
    position,
  );
  const contents = hovers.flatMap((one) => one.contents);
  return contents.map((content) => (typeof content === 'string' ? content : content.value)).join('\n');
}
