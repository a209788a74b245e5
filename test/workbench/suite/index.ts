import * as vscode from 'vscode';
import { firstStepTests } from './first-steps.ts';
import { newBuildTests } from './new-build.ts';
import { CAN_LOOK } from './page.ts';
import { requirementTests } from './requirements.ts';
import { expectDefined, expectEqual, expectMatch, runAll, type Test } from './runner.ts';
import { sheetTests } from './sheet.ts';
import { codeOf, findings, open, positionOf, quickFixes, replace, until } from './workspace.ts';

/** Loaded by the extension host of a workbench whose folder is a copy of the examples. */
export function run(): Promise<void> {
  const seen = [...sheetTests, ...requirementTests, ...newBuildTests, ...firstStepTests];
  return runAll([...tests, ...(CAN_LOOK ? seen : [])]);
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
    name: 'a build on one cell too many shows its error at the pack, and nothing else beside the note on estimates',
    async run() {
      const broken = await open('broken/one-cell-more.fettle');
      await untilFindings(broken, ONE_CELL_MORE);
    },
  },
  {
    name: 'a healthy build shows nothing but that note, and a wrong name as soon as it is typed',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      await replace(rafter, 'pack: Slim480_2S', 'pack: Slim480_2s');
      await untilIncludes(rafter, 'error unknown-name at «Slim480_2s»');
      await replace(rafter, 'pack: Slim480_2s', 'pack: Slim480_2S');
      await untilFindings(rafter, RAFTER);
    },
  },
  {
    name: 'a hover on a build shows all-up weight and effective kV',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      const text = await hover(rafter, positionOf(rafter, 'Rafter "'));
      // 30.5 + 4 × (3.40 + 0.52) + 6.10 + 8.6 + 0.9 + 2.2 + 0.4 + 12 × 0.09 + 2.4 = 67.86 g, and 28.1 or 36.5 g of pack
      expectMatch(text, /all-up weight[^\n]* 96\.0 ± [\d.]+ g [^\n]* 104\.4 ± [\d.]+ g/i);
      // 10500 rpm/V, and 66 % of it
      expectMatch(text, /effective kV[^\n]* 10500 ± \d+ rpm\/V [^\n]* 6930 ± \d+ rpm\/V/i);
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
    name: 'the quick fix limits the duty, and the error is gone',
    async run() {
      const broken = await open('broken/one-cell-more.fettle');
      await untilFindings(broken, ONE_CELL_MORE);
      // The workbench answers with what it has of its own until the server has answered too.
      const fix = await until('a fix about the duty', async () => {
        const actions = await quickFixes(broken, overvoltage(broken).range);
        return actions.find((action) => /duty/i.test(action.title));
      });
      await vscode.workspace.applyEdit(expectDefined(fix.edit, 'an edit'));
      expectMatch(broken.getText(), /pack: Slim420_3S as NoLimit duty 66 %/);
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
    name: 'comparing with the committed version opens a page, here one that says why it cannot',
    async run() {
      await open('builds/rafter.fettle');
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
      const rafter = await open('builds/rafter.fettle');
      const editor = expectDefined(vscode.window.activeTextEditor, 'the editor');
      const position = positionOf(rafter, 'pack: Slim480_2S');
      editor.selection = new vscode.Selection(position, position);
      await vscode.commands.executeCommand('fettle.comparePacks');
      const page = await until('the page', async () =>
        vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'fettle-packs'),
      );
      expectMatch(page.getText(), /^# Rafter on each of its packs[\s\S]*\| `Slim480_2S` \| `Slim420_3S` \|/);
      const tab = vscode.window.tabGroups.all
        .flatMap((group) => group.tabs)
        .find(({ label }) => label.includes('Rafter on each of its packs'));
      await replace(rafter, 'pack: Slim480_2S', 'pack: Slim480_2S as Short');
      await until('the second name', async () => page.getText().includes('`Short`') || undefined);
      await replace(rafter, 'pack: Slim480_2S as Short', 'pack: Slim480_2S');
      await vscode.window.tabGroups.close(expectDefined(tab, 'its tab'));
    },
  },
  {
    name: 'the command to restart starts a new server, and the findings come back',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      await replace(rafter, 'esc: Board20', 'esc: Board19');
      await untilIncludes(rafter, 'error unknown-name at «Board19»');
      await vscode.commands.executeCommand('fettle.restart');
      await untilIncludes(rafter, 'error unknown-name at «Board19»');
      await replace(rafter, 'esc: Board19', 'esc: Board20');
      await untilFindings(rafter, RAFTER);
    },
  },
  {
    name: 'renaming a motor in a parts file renames it in the builds',
    async run() {
      const parts = await open('parts/motors.fettle');
      const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
        'vscode.executeDocumentRenameProvider',
        parts.uri,
        positionOf(parts, 'M1104_10500 "'),
        'Roofwinder',
      );
      await vscode.workspace.applyEdit(edit);
      expectMatch(parts.getText(), /^motor Roofwinder "/m);
      expectMatch(parts.getText(), /^motor M1104_7200 .* like Roofwinder /m);
      const rafter = await open('builds/rafter.fettle');
      expectMatch(rafter.getText(), /motors: 4 x Roofwinder with P2020x3/);
      await untilFindings(rafter, RAFTER);
      const duct = await open('broken/big-propeller.fettle');
      expectMatch(duct.getText(), /motors: 4 x Roofwinder with P2520x2/);
      await untilFindings(duct, BIG_PROPELLER);
    },
  },
];

const ONE_CELL_MORE_LIMITED = ['hint estimates at «OneCellMore»'];
const ONE_CELL_MORE = [...ONE_CELL_MORE_LIMITED, 'error motor-overvoltage at «pack: Slim420_3S as NoLimit»'];
const RAFTER = ['hint estimates at «Rafter»', 'hint estimates at «Rafter_Quiet»'];
const BIG_PROPELLER = [
  // Whether the motor stands that propeller's current is open.
  'information estimates at «BigPropeller»',
  'error propeller-too-large at «motors: 4 x Roofwinder with P2520x2»',
];

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
