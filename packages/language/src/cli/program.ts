/** The commands, their options and their help. What answers a command is loaded only then. */
import { type Argument, Command, InvalidArgumentError, Option } from 'commander';
import { fullVersion } from '../report/present/version.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { MEASURING_TOOLS } from '../vocabulary/measuring.ts';
import type { CardOptions } from './card-command.ts';
import type { CheckOptions } from './check-command.ts';
import type { ChooseOptions } from './choose-command.ts';
import type { CompareOptions } from './compare-command.ts';
import type { Shell } from './completion.ts';
import type { ExplainOptions } from './explain-command.ts';
import type { FormatOptions } from './format-command.ts';
import {
  CARD_FORMATS,
  CHECK_FORMATS,
  CHOICE_FORMATS,
  LIST_FORMATS,
  type ListFormat,
  REVIEW_FORMATS,
  SHEET_FORMATS,
  TABLE_FORMATS,
} from './formats.ts';
import type { MeasureOptions } from './measure-command.ts';
import type { NewOptions } from './new-command.ts';
import type { ObserveOptions } from './observe-command.ts';
import { COULD_NOT_RUN, Refusal } from './refuse.ts';
import type { ReviewFailure, ReviewOptions } from './review-command.ts';
import type { SensitivityOptions } from './sensitivity-command.ts';
import type { SheetOptions } from './sheet-command.ts';
import type { SiteCommandOptions } from './site-command.ts';
import type { SolveOptions } from './solve-command.ts';
import type { TryOptions } from './try-command.ts';

const WRITE = 'Write:';
const LOOK = 'Look at a build:';
const JUDGE = 'Check:';
const DECIDE = 'Decide:';
const TOOLS = 'Tools:';

export function makeProgram(): Command {
  const program = new Command('fettle')
    .description('Checks electric multirotor builds: what they weigh, how they fly, and what would break.')
    .version(fullVersion, '-V, --version', 'print the version, and the commit it was built from')
    .helpOption('-h, --help', 'print this help')
    .addHelpCommand(
      new Command('help')
        .helpGroup(TOOLS)
        .summary('the same as COMMAND --help')
        .argument('[command]')
        .helpOption(false),
    )
    .showHelpAfterError('(fettle --help lists the commands)')
    .exitOverride((error) => process.exit(error.exitCode === 0 ? 0 : COULD_NOT_RUN))
    .configureHelp({ optionDescription, subcommandTerm })
    .configureOutput({ writeErr: (text) => process.stderr.write(text.split('\n').map(terminalSafe).join('\n')) })
    .addHelpText(
      'after',
      `
fettle COMMAND --help shows its options, with examples.

Exit code  0 nothing found, 1 findings as severe as --fail-on states, 2 could not run.
Fettle never uses the network. NO_COLOR turns colours off.`,
    );
  addCheck(program);
  addReview(program);
  addSheet(program);
  addCard(program);
  addSite(program);
  addCompare(program);
  addExplain(program);
  addChoose(program);
  addTry(program);
  addSolve(program);
  addSensitivity(program);
  addObserve(program);
  addMeasure(program);
  addList(program);
  addNew(program);
  addFormat(program);
  addServe(program);
  addCompletion(program);
  return program;
}

/** "how to print: text, json; default text" */
function optionDescription({ description, argChoices, defaultValue, defaultValueDescription }: Option): string {
  const choices = argChoices ? `: ${argChoices.join(', ')}` : '';
  const printed = defaultValueDescription ?? defaultValue;
  const usual = typeof printed === 'string' ? `; default ${printed}` : '';
  return `${description}${choices}${usual}`;
}

const subcommandTerm = (command: Command): string =>
  [command.name(), ...command.registeredArguments.map(argumentTerm)].join(' ');

function argumentTerm(argument: Argument): string {
  const shown = `${argument.name()}${argument.variadic ? '...' : ''}`;
  return argument.required ? `<${shown}>` : `[${shown}]`;
}

interface Reported {
  readonly group: string;
  /** A line in the list of commands. */
  readonly summary: string;
  /** In its own help; sentences. */
  readonly description: string;
  readonly examples: readonly string[];
}

function command(program: Command, name: string, { group, summary, description, examples }: Reported): Command {
  const lines = examples.map((example) => `  ${example}`).join('\n');
  return program
    .command(name)
    .helpGroup(group)
    .summary(summary)
    .description(description)
    .helpCommand(false)
    .addHelpText('after', examples.length === 0 ? '' : `\nExamples:\n${lines}`);
}

const format = (choices: readonly string[], description = 'how to print') =>
  new Option('--format <format>', description).choices(choices).default(choices[0]);

const failOn = (what: string) =>
  new Option('--fail-on <severity>', `exit with 1 when ${what} is at least this severe`)
    .choices(['error', 'warning', 'information'])
    .default('error');

const REVIEW_FAILURES = ['error', 'warning', 'information', 'forgiven'] as const;

const reviewFailOn = new Option(
  '--fail-on <severity>',
  'exit with 1 when a new finding is at least this severe; forgiven: at new errors, and when more is permitted than before (a limit raised, a requirement loosened, a finding accepted); several with commas',
)
  .choices(REVIEW_FAILURES)
  .argParser((value): readonly ReviewFailure[] => {
    const words = value.split(',').map((word) => word.trim());
    const known = words.flatMap((word) => REVIEW_FAILURES.find((one) => one === word) ?? []);
    if (known.length < words.length)
      throw new InvalidArgumentError(`Allowed choices are ${REVIEW_FAILURES.join(', ')}.`);
    return known;
  })
  .default(['error'], 'error');

const PATHS = 'files and folders; default: this folder';
const LOOK_IN = 'files and folders to look in; default: this folder';

function addCheck(program: Command): void {
  command(program, 'check', {
    group: JUDGE,
    summary: 'find what would break, and compute each build',
    description:
      'Checks .fettle files and folders: findings with file, line and fix, and the results of each build on each pack.',
    examples: [
      'fettle check                        this folder and all below it',
      'fettle check builds --watch         again at every change',
      'fettle check --fail-on warning      for a strict build server',
      'fettle check --format sarif > a.sarif',
    ],
  })
    .argument('[paths...]', PATHS)
    .addOption(format(CHECK_FORMATS, 'how to print'))
    .addOption(failOn('a finding'))
    .option('--explain', 'with --format json: the derivation of each result, and results that need a search')
    .option('--watch', 'keep running, and check again what a change affects; Ctrl-C stops it')
    .action(async (paths: string[], options: CheckOptions) => {
      const { check } = await import('./check-command.ts');
      process.exitCode = await check(hereIfNone(paths), options);
    });
}

function addReview(program: Command): void {
  command(program, 'review', {
    group: JUDGE,
    summary: 'what a change does to every build, and which line did it',
    description:
      'Compares two versions of a git repository: results and findings of every build that the change touches, before and after, and which line did it. Nothing is checked out.',
    examples: [
      'fettle review --base main           this work compared with the commit at which it left main',
      'fettle review --base HEAD           what is not committed yet',
      'fettle review --base HEAD --staged  what the next commit does',
      'fettle review --base v1 --head v2 --format markdown',
    ],
  })
    .argument('[paths...]', 'files and folders whose builds count; default: this folder')
    .requiredOption('--base <revision>', 'what to compare with; of a branch, the commit at which this work left it')
    .option('--head <revision>', 'what to review; by default the working tree')
    .option('--staged', 'review what is staged, in place of the working tree')
    .option('--direct', 'compare with the tip of a branch itself')
    .addOption(format(REVIEW_FORMATS))
    .addOption(reviewFailOn)
    .action(async (paths: string[], options: ReviewOptions) => {
      const { reviewChange } = await import('./review-command.ts');
      process.exitCode = await reviewChange(hereIfNone(paths), options);
    });
}

function addSheet(program: Command): void {
  command(program, 'sheet', {
    group: LOOK,
    summary: 'everything about a build on one page',
    description:
      'Everything about a build on one page: packs, voltage through a flight, limits, masses, sizes of pack.',
    examples: ['fettle sheet Spire --out spire.html', 'fettle sheet Spire builds --format markdown'],
  })
    .argument('<build>', 'name of a build')
    .argument('[paths...]', LOOK_IN)
    .addOption(
      new Option('--format <format>', 'how to print (default: by the file’s ending, else html)').choices(SHEET_FORMATS),
    )
    .option('--out <file>', 'write it into a file')
    .action(async (build: string, paths: string[], options: SheetOptions) => {
      const { sheet } = await import('./sheet-command.ts');
      await sheet(build, hereIfNone(paths), options);
    });
}

function addCard(program: Command): void {
  command(program, 'card', {
    group: LOOK,
    summary: 'a page for the field: when to turn back, when to land',
    description:
      'One page per build for the field: for each pack the duty limit, the expected weight, where to turn back and to land; cautions, and what to check before flight.',
    examples: ['fettle card Spire', 'fettle card Spire Belfry --out cards.html    one page per build, for A5 or A4'],
  })
    .argument('<builds...>', 'names of builds')
    .option('--in <paths...>', LOOK_IN)
    .addOption(
      new Option('--format <format>', 'how to print (default: by the file’s ending, else text)').choices(CARD_FORMATS),
    )
    .option('--out <file>', 'write it into a file')
    .action(async (builds: string[], options: Partial<CardOptions>) => {
      const { card } = await import('./card-command.ts');
      await card(builds, { ...options, in: hereIfNone(options.in) });
    });
}

function addSite(program: Command): void {
  command(program, 'site', {
    group: LOOK,
    summary: 'pages about all craft, to publish',
    description:
      'Writes static pages about every build: an index, sheets, cards, texts with links, parts and their users, requirements. They need no server and no script to be read.',
    examples: [
      'fettle site public                  of this folder and all below it',
      'fettle site public builds --title "Tower group"',
    ],
  })
    .argument('<out>', 'a new or empty folder, or one that this command wrote')
    .argument('[paths...]', PATHS)
    .option('--title <words>', 'of the whole site; default: Our craft')
    .option('--try <address>', 'of the page to try a build on: each sheet links to it with its texts')
    .action(async (out: string, paths: string[], options: SiteCommandOptions) => {
      const { site } = await import('./site-command.ts');
      process.exitCode = await site(out, hereIfNone(paths), options);
    });
}

function addCompare(program: Command): void {
  command(program, 'compare', {
    group: LOOK,
    summary: 'packs or builds side by side, with the ± of their difference',
    description:
      'The packs of a build, or several builds, side by side. Uncertainty that both share cancels, so differences are known better than the values themselves.',
    examples: ['fettle compare Spire', 'fettle compare Spire Gable --with Mast1050_4S Eaves1150_3S'],
  })
    .argument('<builds...>', 'names of builds')
    .option('--in <paths...>', LOOK_IN)
    .option('--with <packs...>', 'on these packs only')
    .addOption(format(TABLE_FORMATS))
    .action(async (builds: string[], options: CompareOptions) => {
      const { compare } = await import('./compare-command.ts');
      await compare(builds, { ...options, in: hereIfNone(options.in) });
    });
}

function addExplain(program: Command): void {
  command(program, 'explain', {
    group: LOOK,
    summary: 'the derivation of a number, down to the lines of the files',
    description:
      'The derivation of a result: the formula, its inputs with their lines and origins, the source, what it leaves out, and what its ± comes from.',
    examples: ['fettle explain hover_time Spire', 'fettle explain rail.Hold15.voltage Belfry --with Mast1350_4S'],
  })
    .argument('<result>', 'its name, such as hover_time')
    .argument('<build>', 'name of a build')
    .argument('[paths...]', LOOK_IN)
    .option('--with <pack>', 'on this pack only')
    .action(async (result: string, build: string, paths: string[], options: ExplainOptions) => {
      const { explain } = await import('./explain-command.ts');
      await explain(result, build, hereIfNone(paths), options);
    });
}

function addChoose(program: Command): void {
  command(program, 'choose', {
    group: DECIDE,
    summary: 'which of many: candidates of a shortlist, judged and ordered',
    description:
      'Judges every candidate of a `shortlist`, or of a build with --vary and --prefer, by all checks. Counts why candidates are rejected; shows those that pass with their difference to today’s build, the chance that it is better, and which of them the figures cannot distinguish.',
    examples: [
      'fettle choose TowerPack',
      'fettle choose TowerPack --apply 1     writes the first row into the build',
      'fettle choose TowerPack --format html > tower-pack.html',
      'fettle choose TowerPack --format svg > front.svg',
      'fettle choose Spire --vary Mast720_4S Mast1350_4S "duty 70 % .. 100 % step 10 %" \\',
      '  --prefer hover_time --require "thrust_to_weight >= 3"',
    ],
  })
    .argument('<shortlist>', 'name of a shortlist, or of a build')
    .option('--vary <lines...>', 'of a build: what is tried, as behind `vary:`')
    .option('--prefer <results...>', 'of a build: what is preferred')
    .option('--require <requirements...>', 'of a build: further requirements')
    .option('--in <paths...>', LOOK_IN)
    .option(
      '--apply <row>',
      'write the row of this number into the file of the build; refused where that was changed meanwhile',
    )
    .addOption(format(CHOICE_FORMATS))
    .action(async (name: string, options: ChooseOptions) => {
      const { chooseFrom } = await import('./choose-command.ts');
      process.exitCode = await chooseFrom(name, { ...options, in: hereIfNone(options.in) });
    });
}

function addTry(program: Command): void {
  command(program, 'try', {
    group: DECIDE,
    summary: 'what if: a build with other lines, before anybody edits it',
    description:
      'Computes a build with lines added or exchanged, without editing it: results before and after with the ± of their difference, and findings that are new or gone. A pack is flown in place of those it has; `kind.property: …` changes a figure of its parts.',
    examples: [
      'fettle try Spire "item: 30 g"',
      'fettle try Spire "pack: Mast1350_4S duty 80 %" --with Mast1050_4S',
      'fettle try Spire "motor.kv: 2650 rpm/V" "cycles: 100"',
    ],
  })
    .argument('<build>', 'name of a build')
    .argument('<lines...>', 'lines as in a build, each in quotes')
    .option('--in <paths...>', LOOK_IN)
    .option('--with <pack>', 'on this pack only; where a pack is tried, compared with this one')
    .addOption(format(TABLE_FORMATS))
    .addOption(failOn('a new finding'))
    .action(async (build: string, lines: string[], options: TryOptions) => {
      const { tryLines } = await import('./try-command.ts');
      process.exitCode = await tryLines(build, lines, { ...options, in: hereIfNone(options.in) });
    });
}

function addSolve(program: Command): void {
  command(program, 'solve', {
    group: DECIDE,
    summary: 'the largest payload, the smallest pack: how far a figure goes',
    description:
      'Looks for the largest or smallest value of a figure with which requirements hold, and reports which of them limits it. A figure is `item mass` (mass that is added), `duty`, `pack capacity` (a pack of the same make), `motor kv` (the motor wound for another kv), or the property of any part, such as `propeller pitch`.',
    examples: [
      'fettle solve Spire --most "item mass" --keep "thrust_to_weight >= 3"',
      'fettle solve Spire --least "pack capacity" --keep "hover_time >= 8 min"',
      'fettle solve Spire --most duty --keep "full_motor_current <= 9 A" --with Mast1050_4S',
    ],
  })
    .argument('<build>', 'name of a build')
    .option('--most <figure>', 'the largest value of this figure')
    .option('--least <figure>', 'the smallest value of this figure')
    .option('--keep <requirement...>', 'what has to hold, as behind `require`; without it, what the build requires')
    .option('--in <paths...>', LOOK_IN)
    .option('--with <pack>', 'on this pack only')
    .addOption(format(TABLE_FORMATS))
    .action(async (build: string, options: SolveOptions) => {
      const { solveFor } = await import('./solve-command.ts');
      process.exitCode = await solveFor(build, { ...options, keep: options.keep ?? [], in: hereIfNone(options.in) });
    });
}

function addSensitivity(program: Command): void {
  command(program, 'sensitivity', {
    group: DECIDE,
    summary: 'what a step of each figure does to a result',
    description:
      'One line per figure that can be changed, in steps of its own unit, the strongest first: ten grams more, 200 rpm/V, ten degrees colder.',
    examples: ['fettle sensitivity hover_time Spire', 'fettle sensitivity thrust_to_weight Spire --with Mast1050_4S'],
  })
    .argument('<result>', 'its name, such as hover_time')
    .argument('<build>', 'name of a build')
    .argument('[paths...]', LOOK_IN)
    .option('--with <pack>', 'on this pack only')
    .addOption(format(TABLE_FORMATS))
    .action(async (result: string, build: string, paths: string[], options: SensitivityOptions) => {
      const { sensitivity } = await import('./sensitivity-command.ts');
      await sensitivity(result, build, hereIfNone(paths), options);
    });
}

function addObserve(program: Command): void {
  command(program, 'observe', {
    group: LOOK,
    summary: 'what the log of a flight shows, compared with what was predicted',
    description:
      'Reads the log of a flight (CSV): take-off and landing, steady stretches, bursts, charge and rest, each compared with what the build predicts, and what the results become with it. Columns are found by their headings and units, or stated. With --write the log becomes an observed block of the build; on a terminal it prompts first.',
    examples: [
      'fettle observe logs/2026-10-04.csv Spire --with Long850_4S',
      'fettle observe flight.csv Spire --with Long850_4S --columns \'time in ms "t", voltage "pack (V)", current "amps"\'',
      'fettle observe logs/2026-10-04.csv Spire --with Long850_4S --title "evening, tower" --write',
    ],
  })
    .argument('<log>', 'a CSV file in the folder of the builds or below')
    .argument('<build>', 'name of a build')
    .option('--with <pack>', 'the pack it was flown on')
    .option('--columns <columns>', 'which column is what, as in a log line')
    .option('--title <title>', 'of the observation; default: the name of the file')
    .option('--write', 'write the observed block into the build’s file')
    .option('--in <paths...>', LOOK_IN)
    .addOption(format(LIST_FORMATS))
    .action(async (log: string, build: string, options: ObserveOptions) => {
      const { observe } = await import('./observe-command.ts');
      await observe(log, build, { ...options, in: hereIfNone(options.in) });
    });
}

const toolsAtHand = new Option(
  '--have <tools>',
  `the tools at hand, with commas between: ${MEASURING_TOOLS.join(', ')}; default all but a stand`,
).argParser((value) => {
  const words = value.split(/[\s,]+/).filter((word) => word !== '');
  const known = words.flatMap((word) => MEASURING_TOOLS.find((tool) => tool === word) ?? []);
  if (known.length < words.length || words.length === 0)
    throw new InvalidArgumentError(`Tools are ${MEASURING_TOOLS.join(', ')}.`);
  return known;
});

function addMeasure(program: Command): void {
  command(program, 'measure', {
    group: LOOK,
    summary: 'what to measure next, with the tools at hand',
    description:
      'Measurements that the tools at hand allow, ranked by how far each narrows the ± of a result, with a sentence on how to take it. What changes the ± by less than a tenth is left out.',
    examples: [
      'fettle measure Spire --have scale,charger,stopwatch',
      'fettle measure Spire --for thrust_to_weight --with Mast1050_4S',
    ],
  })
    .argument('<build>', 'name of a build')
    .argument('[paths...]', LOOK_IN)
    .addOption(toolsAtHand)
    .option('--for <result>', 'the result that matters', 'hover_time')
    .option('--with <pack>', 'on this pack; default: the first')
    .addOption(format(LIST_FORMATS))
    .action(async (build: string, paths: string[], options: MeasureOptions) => {
      const { measure } = await import('./measure-command.ts');
      await measure(build, hereIfNone(paths), options);
    });
}

function addList(program: Command): void {
  const list = command(program, 'list', {
    group: LOOK,
    summary: 'builds, parts, and which build uses which part',
    description: 'Lists builds, parts, and which build uses which part.',
    examples: ['fettle list                         builds, with their packs', 'fettle list uses M1606_2650'],
  });
  list
    .command('builds', { isDefault: true })
    .description('builds, with the packs they fly on; with --parts-list what is to be bought for some of them')
    .argument('[paths...]', PATHS)
    .option(
      '--parts-list <builds...>',
      'all parts of these builds with packs, spares and prices; what they share is bought once',
    )
    .option('--in <paths...>', 'with --parts-list: files and folders to look in; default: this folder')
    .addOption(format(LIST_FORMATS))
    .action(async (paths: string[], options: { format: ListFormat; partsList?: string[]; in?: string[] }) => {
      const { listBuilds, listPurchases } = await import('./list-command.ts');
      process.exitCode = options.partsList
        ? await listPurchases(options.partsList, hereIfNone(options.in), options.format)
        : await listBuilds(hereIfNone(paths), options.format);
    });
  list
    .command('parts')
    .description('parts and rules, with how many builds use each')
    .argument('[paths...]', PATHS)
    .addOption(format(LIST_FORMATS))
    .action(async (paths: string[], options: { format: ListFormat }) => {
      const { listParts } = await import('./list-command.ts');
      process.exitCode = await listParts(hereIfNone(paths), options.format);
    });
  list
    .command('uses')
    .description('the builds that use a part, directly or through other parts')
    .argument('<part>', 'name of a part')
    .argument('[paths...]', LOOK_IN)
    .addOption(format(LIST_FORMATS))
    .action(async (part: string, paths: string[], options: { format: ListFormat }) => {
      const { listUses } = await import('./list-command.ts');
      process.exitCode = await listUses(part, hereIfNone(paths), options.format);
    });
}

function addNew(program: Command): void {
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

function addFormat(program: Command): void {
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

function addServe(program: Command): void {
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

function addCompletion(program: Command): void {
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
      const { completionScript } = await import('./completion.ts');
      process.stdout.write(completionScript(shell as Shell));
    });
  program
    .command('complete', { hidden: true })
    .description('completions of the last of these words: for the scripts of fettle completion')
    .argument('[words...]')
    .allowUnknownOption()
    .helpOption(false)
    .action(async (words: string[]) => {
      const { candidates } = await import('./complete.ts');
      process.stdout.write(await candidates(makeProgram(), words));
    });
}

function hereIfNone(paths: readonly string[] | undefined): readonly string[] {
  // An empty variable of a script would otherwise mean this folder.
  if (paths?.includes('')) throw new Refusal('a path is empty: state a file or folder');
  return paths === undefined || paths.length === 0 ? ['.'] : paths;
}
