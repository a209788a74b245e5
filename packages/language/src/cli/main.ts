import { Command, Option } from 'commander';
import type { CheckOptions } from './check.ts';
import type { ReviewOptions } from './review.ts';
import { version } from './version.ts';

/** Exit codes: 0 clean, 1 findings at or above the asked severity, 2 could not run. */
const COULD_NOT_RUN = 2;

const program = new Command('fettle')
  .description('Checks electric multirotor builds: what they weigh, how they fly, and what would break.')
  .version(version)
  .showHelpAfterError('(fettle --help shows what it can do)')
  .exitOverride((error) => process.exit(error.exitCode === 0 ? 0 : COULD_NOT_RUN));

program
  .command('check', { isDefault: false })
  .description('check .fettle files and folders (this folder when none is named)')
  .argument('[paths...]', 'files and folders', ['.'])
  .addOption(
    new Option('--format <format>', 'how to print; github: annotations of a workflow run')
      .choices(['text', 'json', 'sarif', 'github', 'markdown', 'junit'])
      .default('text'),
  )
  .addOption(
    new Option('--fail-on <severity>', 'exit with 1 when a finding is at least this severe')
      .choices(['error', 'warning', 'information'])
      .default('error'),
  )
  .option('--explain', 'with JSON: how each result came about')
  .action(async (paths: string[], options: CheckOptions) => {
    const { check } = await import('./check.ts');
    process.exitCode = await check(paths, options);
  });

program
  .command('explain')
  .description('how a result came about: the formula, the numbers put in, their origins, the source')
  .argument('<result>', 'its name, such as hover_time')
  .argument('<build>', 'the name of a build')
  .argument('[paths...]', 'files and folders to look in', ['.'])
  .option('--with <pack>', 'on this pack only')
  .action(async (result: string, build: string, paths: string[], options: { with?: string }) => {
    const { explain } = await import('./explain.ts');
    process.exitCode = await explain(result, build, paths, options);
  });

program
  .command('review')
  .description('what a change does to every build: results and findings before and after, and which line did it')
  .argument('[paths...]', 'files and folders whose builds count', ['.'])
  .requiredOption('--base <revision>', 'what to compare with; of a branch, where this work parted from it')
  .option('--head <revision>', 'what to review (the working tree when none is named)')
  .option('--direct', 'compare with the tip of a branch itself')
  .addOption(new Option('--format <format>', 'how to print').choices(['text', 'markdown', 'json']).default('text'))
  .addOption(
    new Option('--fail-on <severity>', 'exit with 1 when a new finding is at least this severe')
      .choices(['error', 'warning', 'information'])
      .default('error'),
  )
  .action(async (paths: string[], options: ReviewOptions) => {
    const { reviewChange } = await import('./review.ts');
    process.exitCode = await reviewChange(paths, options);
  });

program
  .command('serve')
  .description('run the language server')
  .option('--stdio', 'talk over standard input and output (the only way, and the default)')
  .action(async () => {
    const { serve } = await import('./serve.ts');
    await serve();
  });

try {
  await program.parseAsync();
} catch (error) {
  // A defect of ours: never "clean", never a stack trace in the user's face.
  process.stderr.write(`fettle: internal error: ${error instanceof Error ? error.message : String(error)}\n`);
  if (process.env.FETTLE_DEBUG && error instanceof Error) process.stderr.write(`${error.stack}\n`);
  process.exitCode = COULD_NOT_RUN;
}
