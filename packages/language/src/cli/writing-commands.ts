/** The commands that write files, and the tools for an editor and a shell. */
import type { Command } from 'commander';
import { command, hereIfNone, PATHS, TOOLS, WRITE } from './command-options.ts';
import type { FormatOptions } from './format-command.ts';
import type { NewOptions } from './new-command.ts';

export function addNew(program: Command): void {
  command(program, 'new', {
    group: WRITE,
    summary: 'a first build from nine numbers',
    description:
      'Writes a first build into its own file and shows its results. On a terminal it prompts for each of the nine numbers that is not given as an option; name and number of motors have defaults. Parts that the folder has with the same figures are used again. It overwrites a file only with --force.',
    examples: [
      'fettle new',
      'fettle new Fledgling --stator 1204 --kv 6000 --propeller "2.5 in" --blades 3 --cells 3S \\',
      '  --capacity 450 --esc 15 --video 4 --dry-mass 92',
    ],
  })
    .argument('[name]', 'name of the build; default First')
    .option('--motors <count>', 'how many motors; default 4')
    .option('--stator <size>', 'of a motor: 1204, or "12 x 4 mm"')
    .option('--kv <speed>', 'of a motor: 6000 rpm per volt')
    .option('--propeller <diameter>', '"63.5 mm" or "2.5 in"')
    .option('--blades <count>', 'of a propeller: 3')
    .option('--cells <count>', 'of the pack, in series: 3S')
    .option('--capacity <charge>', 'of the pack: 450 mAh')
    .option('--esc <current>', 'continuous rating of one channel of the speed controller: 15 A')
    .option('--video <power>', 'of camera and video transmitter together: 4 W; 0 for none')
    .option('--dry-mass <mass>', 'weight of the whole craft without the pack: 92 g')
    .option('--out <file>', 'where to write it; default: name.fettle in this folder')
    .option('--force', 'overwrite an existing file')
    .action(async (name: string | undefined, options: NewOptions) => {
      const { newBuild } = await import('./new-command.ts');
      await newBuild(name, options);
    });
}

export function addFormat(program: Command): void {
  command(program, 'format', {
    group: WRITE,
    summary: 'format files',
    description:
      'Formats files: one statement per line, two spaces per block; comments stay. Writes only files that change, and does not touch a file that does not parse.',
    examples: ['fettle format', 'fettle format --check               for a build server'],
  })
    .argument('[paths...]', PATHS)
    .option('--check', 'write nothing; exit with 1 when something would change')
    .action(async (paths: string[], options: FormatOptions) => {
      const { formatPaths } = await import('./format-command.ts');
      process.exitCode = await formatPaths(hereIfNone(paths), options);
    });
}

export function addServe(program: Command): void {
  command(program, 'serve', {
    group: TOOLS,
    summary: 'the language server, for an editor',
    description: 'Runs the language server on standard input and output.',
    examples: [],
  })
    .option('--stdio', 'over standard input and output: the only way, and the usual one')
    .action(async () => {
      const { serve } = await import('./serve-command.ts');
      await serve();
    });
}

export function addCompletion(program: Command): void {
  command(program, 'completion', {
    group: TOOLS,
    summary: 'a script that lets your shell complete what you type',
    description:
      'Prints a script that lets a shell complete commands, options, and the names of builds, packs, parts and results.',
    examples: [
      "echo 'source <(fettle completion bash)' >> ~/.bashrc",
      'fettle completion zsh > ~/.zfunc/_fettle             where fpath has ~/.zfunc',
      'fettle completion fish > ~/.config/fish/completions/fettle.fish',
    ],
  })
    .argument('<shell>', 'bash, zsh or fish')
    .action(async (shell: string) => {
      const { completionScript } = await import('./shell-scripts.ts');
      process.stdout.write(completionScript(shell));
    });
  program
    .command('complete', { hidden: true })
    .description('completions of the last of these words: for the scripts of fettle completion')
    .argument('[words...]')
    .allowUnknownOption()
    .helpOption(false)
    .action(async (words: string[]) => {
      const { candidates } = await import('./shell-candidates.ts');
      process.stdout.write(await candidates(program, words));
    });
}
