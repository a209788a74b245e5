/** Checks and requirements in the test explorer, as a person sees them. */
import * as vscode from 'vscode';
import { look } from './look-at-page.ts';
import { expectMatch, type Test } from './suite-runner.ts';
import { codeOf, fileUri, open, replace, until } from './workbench-steps.ts';

const BUILD = 'broken/too-heavy.fettle';

export const requirementTests: readonly Test[] = [
  {
    name: 'requirements are in the test explorer by build and pack, judged without a command, with both sides in numbers',
    async run() {
      await open(BUILD);
      await vscode.commands.executeCommand('workbench.view.testing.focus');
      await untilRow('failed', /^TooHeavy\s*broken\/too-heavy\.fettle/);
      await untilRow('passed', /^Gable\s*builds\/gable\.fettle/);
      await expand('TooHeavy');
      await expand('on Eaves1150_3S');
      await untilRow('failed', /^all_up_weight <= 280 g\s*301\.1 ± [\d.]+ g, required ≤ 280 g/);
      await untilRow('passed', /^hover_time >= 3 min\s*[\d.]+ \([\d.]+ to [\d.]+\) min, required ≥ /);
    },
  },
  {
    name: 'a requirement that fails is reported at its line',
    async run() {
      await open(BUILD);
      // The editor shows one message a line, and the item of the checks, which is on the same one, has none.
      const description = /TooHeavy on Eaves1150_3S: all-up weight 301\.1 ± [\d.]+ g, required ≤ 280 g/;
      await until('the line says it', async () => {
        const reported = await look({ selector: '.test-error-content-widget .content' });
        return reported.some((text) => description.test(text)) || undefined;
      });
    },
  },
  {
    name: 'a build that a check finds unsafe has no tick, although all that is required of it holds',
    async run() {
      await open('broken/second-cell.fettle');
      await untilRow('failed', /^SecondCell\s*broken\/second-cell\.fettle/);
      await expand('SecondCell');
      await expand('on Stick380_2S');
      await untilRow('failed', /^checks\s*esc-overvoltage/);
      // What cannot be read cannot be judged.
      await untilRow('skipped', /^MisspeltPack\s*broken\/misspelt-pack\.fettle/);
    },
  },
  {
    name: 'what is typed is judged when it is saved, and while it cannot be read no item goes away',
    async run() {
      const build = await open(BUILD);
      await replace(build, 'item: 34 g', 'item: 4 g');
      await until(
        'the finding is gone',
        async () => vscode.languages.getDiagnostics(build.uri).length <= 1 || undefined,
      );
      await untilRow('failed', /^TooHeavy/);
      await build.save();
      await untilRow('passed', /^TooHeavy/);
      await untilRow('passed', /^all_up_weight <= 280 g\s*271\.1 ± /);

      await replace(build, 'build TooHeavy like Rafter {', 'build TooHeavy like Raf {');
      await build.save();
      await untilFinding(build, 'unknown-name');
      await untilRow('skipped', /^all_up_weight <= 280 g\s*not judged: a line cannot be read yet/);
      await untilRow('skipped', /^TooHeavy/);

      await replace(build, 'like Raf {', 'like Rafter {');
      await replace(build, 'item: 4 g', 'item: 34 g');
      await build.save();
      await untilRow('failed', /^TooHeavy/);
    },
  },
  {
    name: 'a part that is saved has every build judged that it reaches',
    async run() {
      const frames = await open('parts/frames.fettle');
      const [mass = ''] = /mass: 58 g/.exec(frames.getText()) ?? [];
      await replace(frames, mass, 'mass: 98 g');
      await frames.save();
      await untilRow('failed', /^Rafter\s*builds/);
      await replace(frames, 'mass: 98 g', mass);
      await frames.save();
      await untilRow('passed', /^Rafter\s*builds/);
    },
  },
  {
    name: 'where it is not wanted by itself, the button judges',
    async run() {
      const settings = vscode.workspace.getConfiguration('fettle');
      await settings.update('tests.runAutomatically', false, vscode.ConfigurationTarget.Workspace);
      const build = await open(BUILD);
      await replace(build, 'item: 34 g', 'item: 4 g');
      await build.save();
      await vscode.commands.executeCommand('testing.runAll');
      await untilRow('passed', /^TooHeavy/);
      await replace(build, 'item: 4 g', 'item: 34 g');
      await build.save();
      await settings.update('tests.runAutomatically', undefined, vscode.ConfigurationTarget.Workspace);
      await untilRow('passed', /^TooHeavy/);
      await vscode.commands.executeCommand('testing.runAll');
      await untilRow('failed', /^TooHeavy/);
    },
  },
  {
    name: 'files of the same name in two folders are two, and what is deleted is gone',
    async run() {
      const text = 'use "../builds"\nbuild Attic like Rafter {}\n';
      for (const folder of ['barn', 'church']) {
        await vscode.workspace.fs.writeFile(fileUri(`${folder}/attic.fettle`), new TextEncoder().encode(text));
      }
      await untilRow('passed', /^Attic\s*barn\/attic\.fettle/);
      await untilRow('passed', /^Attic\s*church\/attic\.fettle/);
      await vscode.workspace.fs.delete(fileUri('barn'), { recursive: true });
      await until('the item of the deleted file is gone', async () => {
        const attics = (await rows()).filter((row) => row.startsWith('Attic'));
        return (attics.length === 1 && /church/.test(attics[0] ?? '')) || undefined;
      });
      await vscode.workspace.fs.delete(fileUri('church'), { recursive: true });
      await until('so is the other', async () => !(await rows()).some((row) => row.startsWith('Attic')) || undefined);
    },
  },
];

function untilFinding({ uri }: vscode.TextDocument, id: string): Promise<true> {
  const isThere = () => vscode.languages.getDiagnostics(uri).some((diagnostic) => codeOf(diagnostic) === id);
  return until(`${id} is found`, async () => isThere() || undefined);
}

const ROW = '.test-explorer .monaco-list-row';

const rows = (sign = ''): Promise<string[]> => look({ selector: ROW + sign });

async function untilRow(verdict: 'passed' | 'failed' | 'skipped', description: RegExp): Promise<void> {
  let last: string[] = [];
  try {
    await until(`${description} ${verdict}`, async () => {
      last = await rows(`:has(.codicon-testing-${verdict}-icon)`);
      return last.some((row) => description.test(row)) || undefined;
    });
  } catch {
    expectMatch(last.join('\n'), description);
  }
}

async function expand(label: string): Promise<void> {
  const row = `${ROW}:has(.label:text-is("${label}"))`;
  await look({ selector: `${row} .monaco-tl-twistie.collapsed`, act: 'click' });
}
