/** “New Build”: boxes that prompt, judge and end in a file. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectEqual, expectMatch, type Test } from './suite-runner.ts';
import { fileUri, findings, open, until } from './workbench-steps.ts';

const BOX = '.quick-input-widget .quick-input-box input';
const ANSWERS = ['1204', '6000 kv', '2.5 in', '3', '3', '450', '15', '4', '92 g'];

export const newBuildTests: readonly Test[] = [
  {
    name: 'a new build prompts for nine numbers, reports what it cannot take, and opens the file with its default name selected',
    async run() {
      await open('builds/gable.fettle');
      const made = vscode.commands.executeCommand('fettle.newBuild');
      for (const [i, text] of ANSWERS.entries()) {
        await untilShown('.quick-input-title', new RegExp(`\\(${i + 1} of ${ANSWERS.length}\\)`));
        if (text === '2.5 in') {
          await look({ selector: BOX, act: 'answer', text: '2.5' });
          await untilShown('.quick-input-message', /did you mean 2\.5 in\?/);
        }
        await look({ selector: BOX, act: 'answer', text });
      }
      await made;
      const editor = await until('the file is open', async () => {
        const active = vscode.window.activeTextEditor;
        return active?.document.uri.path.endsWith('/builds/first_2.fettle') ? active : undefined;
      });
      expectEqual(editor.document.getText(editor.selection), 'First_2');
      // The folder's first build has parts with these figures.
      expectMatch(editor.document.getText(), /^build First_2 \{\n {2}motors: 4 x Mine with Three\n {2}esc: Fifteen\n/m);
      expectMatch(editor.document.getText(), /^\/\/ By default: the name First_2, 4 motors\.$/m);
      await until(
        'it is checked',
        async () => findings(editor.document).some((one) => /estimates at «First_2»/.test(one)) || undefined,
      );
      expectEqual(findings(editor.document).length, 1);
      await vscode.commands.executeCommand('workbench.action.closeActiveEditor');
      await vscode.workspace.fs.delete(fileUri('builds/first_2.fettle'));
    },
  },
  {
    name: 'a new build that is broken off writes nothing',
    async run() {
      const made = vscode.commands.executeCommand('fettle.newBuild');
      await untilShown('.quick-input-title', /\(1 of 9\)/);
      await look({ selector: BOX, act: 'answer', text: '1204' });
      await untilShown('.quick-input-title', /\(2 of 9\)/);
      await vscode.commands.executeCommand('workbench.action.closeQuickOpen');
      await made;
      expectEqual((await vscode.workspace.findFiles('**/first_*.fettle')).length, 0);
    },
  },
];

async function untilShown(selector: string, pattern: RegExp): Promise<void> {
  await until(
    `${selector} says ${pattern}`,
    async () => (await look({ selector })).some((text) => pattern.test(text)) || undefined,
  );
}
