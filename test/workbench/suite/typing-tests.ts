/** A person who types: what is underlined on the way, and the verdict in the status bar. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectEqual, expectMatch, type Test } from './suite-runner.ts';
import { codeOf, fileUri, open, replace, until } from './workbench-steps.ts';

const STATUS = '[id="fettle.fettle.fettle.verdict"]';
/** ms between two keys. */
const PACE = 120;

/** As typed, but for its name, and without what makes an editor write of its own accord. */
const TEXT = `use "../parts"
use "../rules"

build Typed "gutters, typed" {
  rules: SurveyRules
  airframe: Open184
  motors: 4 x M1606_3150 with P4022x2
  esc: Board35
  load: LinkCam from pack
  pack: Round2600_3S duty 95 %
  require hover_time >= 6 min
}
`;

const AS_IT_COMES = {
  'editor.autoClosingBrackets': 'never',
  'editor.autoClosingQuotes': 'never',
  'editor.autoIndent': 'none',
  'editor.formatOnType': false,
  'editor.quickSuggestions': false,
  'editor.suggestOnTriggerCharacters': false,
};

export const typingTests: readonly Test[] = [
  {
    name: 'a build typed at an even pace is never underlined for what the next keys cure',
    async run() {
      const settings = vscode.workspace.getConfiguration();
      for (const [name, value] of Object.entries(AS_IT_COMES))
        await settings.update(name, value, vscode.ConfigurationTarget.Workspace);
      const uri = fileUri('builds/typed.fettle');
      await vscode.workspace.fs.writeFile(uri, new Uint8Array());
      const document = await open('builds/typed.fettle');
      const seen = new Map<string, string>();
      const shown = () =>
        vscode.languages
          .getDiagnostics(uri)
          .filter(({ severity }) => severity <= vscode.DiagnosticSeverity.Warning)
          .map((one) => `${codeOf(one)}: ${one.message}`);
      const listening = vscode.languages.onDidChangeDiagnostics(() => {
        for (const one of shown()) if (!seen.has(one)) seen.set(one, document.getText().split('\n').at(-1) ?? '');
      });
      for (const key of TEXT) {
        const next = new Promise((resolve) => setTimeout(resolve, PACE));
        await vscode.commands.executeCommand('type', { text: key });
        await next;
      }
      await until('it is checked', async () => vscode.languages.getDiagnostics(uri).length > 0 || undefined);
      // Whatever waits for a pause has had one.
      await new Promise((resolve) => setTimeout(resolve, 4000));
      const last = new Set(shown());
      listening.dispose();
      expectEqual(document.getText(), TEXT);
      expectEqual(
        [...seen].filter(([one]) => !last.has(one)),
        [],
      );
      // What is wrong is reported: the counting sees something.
      await vscode.commands.executeCommand('cursorBottom');
      await replace(document, 'esc: Board35', 'esc: Board34');
      await until(
        'a wrong name is underlined',
        async () => shown().some((one) => /^unknown-name/.test(one)) || undefined,
      );
      await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
      await vscode.workspace.fs.delete(uri);
      for (const name of Object.keys(AS_IT_COMES))
        await settings.update(name, undefined, vscode.ConfigurationTarget.Workspace);
    },
  },
  {
    name: 'a new build that completion brings has no error, neither at once nor later, and what is typed over its figures is computed',
    async run() {
      const uri = fileUri('fresh/first.fettle');
      await vscode.workspace.fs.writeFile(uri, new Uint8Array());
      const document = await open('fresh/first.fettle');
      const errors = () =>
        vscode.languages
          .getDiagnostics(uri)
          .filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error)
          .map((one) => `${codeOf(one)}: ${one.message}`);
      const seen: string[] = [];
      const listening = vscode.languages.onDidChangeDiagnostics(() => seen.push(...errors()));
      const { items } = await until('it is completed', async () => {
        const start = new vscode.Position(0, 0);
        const list = await vscode.commands.executeCommand<vscode.CompletionList>(
          'vscode.executeCompletionItemProvider',
          uri,
          start,
        );
        return list.items.length > 0 ? list : undefined;
      });
      expectEqual(
        items.slice(0, 2).map(({ label }) => (typeof label === 'string' ? label : label.label)),
        ['build', 'motor'],
      );
      const snippet = items[0]?.insertText;
      if (!(snippet instanceof vscode.SnippetString)) throw new Error('the build is no snippet');
      await vscode.window.activeTextEditor?.insertSnippet(snippet);
      await until('it is checked', async () => vscode.languages.getDiagnostics(uri).length > 0 || undefined);
      await vscode.commands.executeCommand('type', { text: 'Wing' });
      await new Promise((resolve) => setTimeout(resolve, 4000));
      listening.dispose();
      expectMatch(document.getText(), /^build Wing \{\n {2}motors: 4 x Motor with Propeller\n/m);
      expectEqual(seen, []);
      expectEqual(errors(), []);
      await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor');
      await vscode.workspace.fs.delete(fileUri('fresh'), { recursive: true });
    },
  },
  {
    name: 'the status bar has the verdict on the build in front, and opens its sheet',
    async run() {
      const gable = await open('builds/gable.fettle');
      const text = () => until('the status is shown', async () => (await look({ selector: STATUS }))[0]);
      expectMatch(await text(), /Gable: fit to fly on 2 packs · [\d.]+ to [\d.]+ min/);
      await replace(gable, 'esc: Board35', 'esc: Board34');
      await until(
        'it counts',
        async () => /Gable: \d errors?/.test((await look({ selector: STATUS }))[0] ?? '') || undefined,
      );
      await replace(gable, 'esc: Board34', 'esc: Board35');
      await until(
        'it is fit again',
        async () => /fit to fly/.test((await look({ selector: STATUS }))[0] ?? '') || undefined,
      );
      const tab = await until('the sheet', async () => {
        await look({ selector: `${STATUS} a`, act: 'click' });
        return (
          vscode.window.tabGroups.all
            .flatMap(({ tabs }) => tabs)
            // Once the build is read, the tab has its title.
            .find(({ label, input }) => /^Gable\b/.test(label) && input instanceof vscode.TabInputWebview)
        );
      });
      await vscode.window.tabGroups.close(tab);
      await open('parts/motors.fettle');
      await until('nothing beside parts', async () => (await look({ selector: STATUS })).length === 0 || undefined);
      await vscode.commands.executeCommand('workbench.action.closeActiveEditor');
    },
  },
];
