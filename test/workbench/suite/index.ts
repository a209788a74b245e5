import * as vscode from 'vscode';
import { expectDefined, expectEqual, expectMatch, runAll, type Test } from './runner.ts';
import { codeOf, fileUri, findings, open, positionOf, replace, until } from './workspace.ts';

/** Loaded by the extension host of a workbench whose folder is a copy of `../fixture`. */
export function run(): Promise<void> {
  return runAll(tests);
}

const tests: readonly Test[] = [
  {
    name: 'the extension sleeps until a file of the language is opened',
    async run() {
      const extension = expectDefined(vscode.extensions.getExtension('fettle.fettle'), 'the extension');
      await vscode.workspace.openTextDocument({ language: 'plaintext', content: 'no source' });
      expectEqual(extension.isActive, false);
      await open('parts/parts.fettle');
      await until('the extension is awake', async () => extension.isActive || undefined);
    },
  },
  {
    name: 'a build on one cell too many shows its error at the pack, and nothing else',
    async run() {
      const hasty = await open('builds/hasty.fettle');
      await untilFindings(hasty, HASTY);
    },
  },
  {
    name: 'a healthy build shows nothing, and a wrong name as soon as it is typed',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      await replace(rafter, 'pack: Slim480_2S', 'pack: Slim480_2s');
      await untilFindings(rafter, ['error unknown-name at «Slim480_2s»']);
      await replace(rafter, 'pack: Slim480_2s', 'pack: Slim480_2S');
      await untilFindings(rafter, []);
    },
  },
  {
    name: 'a hover on a build shows all-up weight and effective kV',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      const text = await hover(rafter, positionOf(rafter, 'Rafter "'));
      // 31.5 + 4 × (3.40 + 0.52) + 6.10 + 6.8 + 28.1 g
      expectMatch(text, /all-up weight.*\b88\.2\b.*\bg\b/is);
      expectMatch(text, /effective kV.*\brpm\/V/is);
    },
  },
  {
    name: "a finding's link leads to its page, packed into the extension",
    async run() {
      const hasty = await open('builds/hasty.fettle');
      await untilFindings(hasty, HASTY);
      const { code } = overvoltage(hasty);
      const link = typeof code === 'object' ? code.target : undefined;
      const page = await vscode.workspace.openTextDocument(expectDefined(link, 'a link'));
      expectMatch(page.getText(), /^#.*motor-overvoltage/m);
    },
  },
  {
    name: 'the quick fix limits the duty, and the error is gone',
    async run() {
      const hasty = await open('builds/hasty.fettle');
      await untilFindings(hasty, HASTY);
      const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
        'vscode.executeCodeActionProvider',
        hasty.uri,
        overvoltage(hasty).range,
        vscode.CodeActionKind.QuickFix.value,
        100,
      );
      const fix = expectDefined(
        actions.find((action) => /duty/i.test(action.title)),
        `a fix about the duty among ${JSON.stringify(actions.map((action) => action.title))}`,
      );
      await vscode.workspace.applyEdit(expectDefined(fix.edit, 'an edit'));
      expectMatch(hasty.getText(), /pack: Slim480_3S duty \d+(\.\d+)? %/);
      await untilFindings(hasty, HASTY_LIMITED);
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
    name: 'the command to restart starts a new server, and the findings come back',
    async run() {
      const rafter = await open('builds/rafter.fettle');
      await replace(rafter, 'esc: Board18', 'esc: Board19');
      await untilFindings(rafter, ['error unknown-name at «Board19»']);
      await vscode.commands.executeCommand('fettle.restart');
      await untilFindings(rafter, ['error unknown-name at «Board19»']);
      await replace(rafter, 'esc: Board19', 'esc: Board18');
      await untilFindings(rafter, []);
    },
  },
  {
    name: 'renaming a motor in a parts file renames it in the builds',
    async run() {
      const parts = await open('parts/parts.fettle');
      const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
        'vscode.executeDocumentRenameProvider',
        parts.uri,
        positionOf(parts, 'M1104_10500 "'),
        'Roofwinder',
      );
      await vscode.workspace.applyEdit(edit);
      expectMatch(parts.getText(), /^motor Roofwinder "/m);
      for (const path of ['builds/hasty.fettle', 'builds/rafter.fettle']) {
        const build = await vscode.workspace.openTextDocument(fileUri(path));
        expectMatch(build.getText(), /motors: 4 x Roofwinder with P2020x3/);
      }
      const rafter = await open('builds/rafter.fettle');
      await untilFindings(rafter, []);
    },
  },
];

const HASTY = ['error motor-overvoltage at «Slim480_3S»'];
const HASTY_LIMITED: string[] = [];

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
