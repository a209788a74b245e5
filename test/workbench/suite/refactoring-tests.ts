/** Refactorings, and the ways along `like`, as the workbench requests them. */
import * as vscode from 'vscode';
import { expectDefined, expectEqual, expectMatch, type Test } from './suite-runner.ts';
import { open, positionOf, until } from './workbench-steps.ts';

export const refactoringTests: readonly Test[] = [
  {
    name: 'lines become a base, whose name is asked for, and come back',
    async run() {
      const motors = await open('parts/motors.fettle');
      const before = motors.getText();
      const motor = motorIn(motors);
      const first = positionOf(motors, 'kv: 3150 rpm/V');
      const extract = await refactoring(
        motors,
        new vscode.Range(first, first.translate(1, 4)),
        'extract',
        /^Extract 2 lines/,
      );
      expectEqual(extract.command?.command, 'fettle.renameAt');
      await vscode.workspace.applyEdit(expectDefined(extract.edit, 'an edit'));
      expectMatch(
        motors.getText(),
        new RegExp(`motor ${motor}_Base \\{\\n {2}kv: 3150 rpm/V[^\\n]*\\n {2}resistance[^\\n]*\\n\\}\\n`),
      );
      const base = positionOf(motors, `${motor}_Base {\n  kv`);
      const inline = await refactoring(
        motors,
        new vscode.Range(base, base),
        'inline',
        new RegExp(`^Inline ${motor}_Base`),
      );
      await vscode.workspace.applyEdit(expectDefined(inline.edit, 'an edit'));
      expectMatch(motors.getText(), new RegExp(`motor ${motor} "1606[^\\n]*\\{\\n {2}kv: 3150`));
      const all = new vscode.Range(new vscode.Position(0, 0), motors.positionAt(motors.getText().length));
      const back = new vscode.WorkspaceEdit();
      back.replace(motors.uri, all, before);
      await vscode.workspace.applyEdit(back);
    },
  },
  {
    name: 'what is like a motor is its implementation, and parts are found by their title',
    async run() {
      const motors = await open('parts/motors.fettle');
      const at = positionOf(motors, `${motorIn(motors)} "`);
      const heirs = await until('the heir', async () => {
        const found = await vscode.commands.executeCommand<(vscode.Location | vscode.LocationLink)[]>(
          'vscode.executeImplementationProvider',
          motors.uri,
          at,
        );
        return found.length > 0 ? found : undefined;
      });
      const heir = heirs
        .map((one) => ('targetUri' in one ? { uri: one.targetUri, range: one.targetRange } : one))
        .find(({ uri }) => uri.toString() === motors.uri.toString());
      expectMatch(motors.getText(expectDefined(heir, 'one in the same file').range), /^motor M1606_2650/);
      const symbols = await vscode.commands.executeCommand<vscode.SymbolInformation[]>(
        'vscode.executeWorkspaceSymbolProvider',
        'roof voids',
      );
      expectEqual(symbols[0]?.name, 'Wren');
    },
  },
];

/** The name of the motor with the winding for 3150 rpm/V, which an earlier test has renamed. */
function motorIn(motors: vscode.TextDocument): string {
  const [, name] = /motor (\w+) "1606 stator, 3 150/.exec(motors.getText()) ?? [];
  return expectDefined(name, 'the motor');
}

/** Its edit and what comes after it, resolved. */
function refactoring(
  document: vscode.TextDocument,
  range: vscode.Range,
  sort: 'extract' | 'inline',
  title: RegExp,
): Promise<vscode.CodeAction> {
  return until(`a refactoring ${title}`, async () => {
    try {
      const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
        'vscode.executeCodeActionProvider',
        document.uri,
        range,
        `refactor.${sort}`,
        100,
      );
      return actions.find((action) => title.test(action.title));
    } catch {
      // The workbench cancels the request when any other extension registers a provider meanwhile.
      return undefined;
    }
  });
}
