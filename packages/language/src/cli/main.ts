import { Command, Option } from 'commander';
import type { CardOptions } from './card.ts';
import type { CheckOptions } from './check.ts';
import type { CompareOptions } from './compare.ts';
import type { ExplainOptions } from './explain.ts';
import type { FormatOptions } from './format.ts';
import { CARD_FORMATS, SHEET_FORMATS } from './formats.ts';
import type { ListFormat } from './list.ts';
import type { NewOptions } from './new.ts';
import { COULD_NOT_RUN, complain, Refusal } from './refuse.ts';
import type { ReviewOptions } from './review.ts';
import type { SheetOptions } from './sheet.ts';
import { version } from './version.ts';

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
  .command('new')
  .description('a first build from nine numbers, in a file of its own; asks on a terminal for what is not said')
  .argument('[name]', 'what you call it')
  .option('--motors <count>', 'how many motors (4 when not said)')
  .option('--stator <size>', 'of a motor: 1204, or "12 x 4 mm"')
  .option('--kv <speed>', 'of a motor: 6000 rpm for each volt')
  .option('--propeller <diameter>', '"63.5 mm" or "2.5 in"')
  .option('--blades <count>', 'of a propeller: 3')
  .option('--cells <count>', 'of the pack, in series: 3S')
  .option('--capacity <charge>', 'of the pack: "450 mAh"')
  .option('--esc <current>', 'what one channel of the speed controller stands for long: "15 A"')
  .option('--video <power>', 'of camera and transmitter together: "4 W", 0 for none')
  .option('--dry-mass <mass>', 'all of it on the scale without the pack: "92 g"')
  .option('--out <file>', 'where to write it (name.fettle in this folder when not said)')
  .option('--force', 'write over a file that is there')
  .action(async (name: string | undefined, options: NewOptions) => {
    const { newBuild } = await import('./new.ts');
    await newBuild(name, options);
  });

program
  .command('format')
  .description('lay files out: one thing a line, two spaces a block; writes only what changes')
  .argument('[paths...]', 'files and folders', ['.'])
  .option('--check', 'write nothing; exit with 1 when something would change')
  .action(async (paths: string[], options: FormatOptions) => {
    const { formatPaths } = await import('./format.ts');
    process.exitCode = await formatPaths(paths, options);
  });

const list = program.command('list').description('what there is, and who uses what');
const listFormat = () =>
  new Option('--format <format>', 'how to print').choices(['text', 'json'] satisfies ListFormat[]).default('text');
list
  .command('builds', { isDefault: true })
  .description('builds, with the packs they fly on')
  .argument('[paths...]', 'files and folders', ['.'])
  .addOption(listFormat())
  .action(async (paths: string[], { format }: { format: ListFormat }) => {
    const { listBuilds } = await import('./list.ts');
    process.exitCode = await listBuilds(paths, format);
  });
list
  .command('parts')
  .description('parts and rules, with how many builds use each')
  .argument('[paths...]', 'files and folders', ['.'])
  .addOption(listFormat())
  .action(async (paths: string[], { format }: { format: ListFormat }) => {
    const { listParts } = await import('./list.ts');
    process.exitCode = await listParts(paths, format);
  });
list
  .command('uses')
  .description('the builds that rest on a part, directly or through others')
  .argument('<name>', 'the name of a part')
  .argument('[paths...]', 'files and folders to look in', ['.'])
  .addOption(listFormat())
  .action(async (name: string, paths: string[], { format }: { format: ListFormat }) => {
    const { listUses } = await import('./list.ts');
    process.exitCode = await listUses(name, paths, format);
  });

program
  .command('explain')
  .description('how a result came about: the formula, the numbers put in, their origins, the source')
  .argument('<result>', 'its name, such as hover_time')
  .argument('<build>', 'the name of a build')
  .argument('[paths...]', 'files and folders to look in', ['.'])
  .option('--with <pack>', 'on this pack only')
  .action(async (result: string, build: string, paths: string[], options: ExplainOptions) => {
    const { explain } = await import('./explain.ts');
    await explain(result, build, paths, options);
  });

program
  .command('compare')
  .description('the packs of a build, or several builds, side by side, with the ± of what they differ by')
  .argument('<builds...>', 'names of builds')
  .option('--in <paths...>', 'files and folders to look in', ['.'])
  .option('--with <packs...>', 'on these packs only')
  .addOption(new Option('--format <format>', 'how to print').choices(['text', 'markdown', 'json']).default('text'))
  .action(async (builds: string[], options: CompareOptions) => {
    const { compare } = await import('./compare.ts');
    await compare(builds, options);
  });

program
  .command('sheet')
  .description('everything about a build on one page: packs, voltage through a flight, limits, masses, sizes of pack')
  .argument('<build>', 'the name of a build')
  .argument('[paths...]', 'files and folders to look in', ['.'])
  .addOption(new Option('--format <format>', 'how to print (html, or as the file is named)').choices(SHEET_FORMATS))
  .option('--out <file>', 'write it into a file')
  .action(async (build: string, paths: string[], options: SheetOptions) => {
    const { sheet } = await import('./sheet.ts');
    await sheet(build, paths, options);
  });

program
  .command('card')
  .description('a page for the field: duty limits, where to turn back and to land, what to look at before')
  .argument('<builds...>', 'names of builds, a page each')
  .option('--in <paths...>', 'files and folders to look in', ['.'])
  .addOption(new Option('--format <format>', 'how to print (text, or as the file is named)').choices(CARD_FORMATS))
  .option('--out <file>', 'write it into a file; html prints well on A5 and A4')
  .action(async (builds: string[], options: CardOptions) => {
    const { card } = await import('./card.ts');
    await card(builds, options);
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

// Whoever reads our output may stop reading (`| head`): that ends the run, and is no error of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

try {
  await program.parseAsync();
} catch (error) {
  // Of a defect of ours: never "clean", never a stack trace in the user's face.
  const messages = error instanceof Refusal ? error.messages : [`internal error: ${reasonOf(error)}`];
  for (const message of messages) complain(message);
  if (process.env.FETTLE_DEBUG && error instanceof Error) process.stderr.write(`${error.stack}\n`);
  process.exitCode = COULD_NOT_RUN;
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
