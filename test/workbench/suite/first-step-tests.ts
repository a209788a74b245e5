/** The first five minutes: the walkthrough, and the examples to open. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectEqual, type Test } from './suite-runner.ts';
import { fileUri, open, positionOf, until } from './workbench-steps.ts';

export const firstStepTests: readonly Test[] = [
  {
    name: 'the walkthrough ticks off what was really done',
    async run() {
      const openWalkthrough = () =>
        vscode.commands.executeCommand('workbench.action.openWalkthrough', 'fettle.fettle#start');
      await openWalkthrough();
      await until('its seven steps are there', async () => (await steps()).length === 7 || undefined);
      const broken = await open('broken/too-heavy.fettle');
      await until('it is unsafe', async () => vscode.languages.getDiagnostics(broken.uri).length > 0 || undefined);
      const position = positionOf(broken, 'TooHeavy');
      await until('it has a hover', async () => {
        const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
          'vscode.executeHoverProvider',
          broken.uri,
          position,
        );
        return hovers.length > 0 || undefined;
      });
      await openWalkthrough();
      await until('two steps are ticked off, and the first build is not', async () => {
        const ticked = await steps(':has(.codicon-getting-started-step-checked)');
        const isTicked = (title: RegExp) => ticked.some((step) => title.test(step));
        return (
          (isTicked(/See what is unsafe/) &&
            isTicked(/See what a build weighs/) &&
            !isTicked(/Write your first build/)) ||
          undefined
        );
      });
    },
  },
  {
    name: 'the examples are copied to where one wants them, never over what is there',
    async run() {
      for (const name of ['roof-survey', 'roof-survey-2']) {
        const before = new TextEncoder().encode('rules Kept {}\n');
        if (name.endsWith('2')) await vscode.workspace.fs.writeFile(fileUri('roof-survey/builds/spire.fettle'), before);
        void vscode.commands.executeCommand('fettle.openExamples');
        await until('the folder is asked for', async () => {
          const [button] = await look({ selector: '.quick-input-widget .quick-input-action .monaco-button' });
          return button?.includes('Copy the Examples Here') || undefined;
        });
        await look({ selector: '.quick-input-widget .quick-input-action .monaco-button', act: 'click' });
        await until('a build is copied', async () => textOf(`${name}/builds/spire.fettle`));
        const copy = await until('a rule is copied', async () => textOf(`${name}/rules/survey.fettle`));
        expectEqual(copy, await textOf('rules/survey.fettle'));
      }
      expectEqual(await textOf('roof-survey/builds/spire.fettle'), 'rules Kept {}\n');
      for (const name of ['roof-survey', 'roof-survey-2']) {
        await vscode.workspace.fs.delete(fileUri(name), { recursive: true });
      }
    },
  },
];

const steps = (sign = ''): Promise<string[]> => look({ selector: `.getting-started-step${sign}` });

async function textOf(path: string): Promise<string | undefined> {
  try {
    return new TextDecoder().decode(await vscode.workspace.fs.readFile(fileUri(path)));
  } catch {
    return undefined;
  }
}
