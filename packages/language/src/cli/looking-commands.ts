/** The commands that show a build, or what was measured of it. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import { MEASURING_TOOLS } from '../vocabulary/measuring.ts';
import type { CardOptions } from './card-command.ts';
import { command, formatOption, hereIfNone, LOOK, LOOK_IN, PATHS } from './command-options.ts';
import type { CompareOptions } from './compare-command.ts';
import type { ExplainOptions } from './explain-command.ts';
import { CARD_FORMATS, LIST_FORMATS, type ListFormat, SHEET_FORMATS, TABLE_FORMATS } from './formats.ts';
import type { MeasureOptions } from './measure-command.ts';
import type { ObserveOptions } from './observe-command.ts';
import type { SheetOptions } from './sheet-command.ts';
import type { SiteCommandOptions } from './site-command.ts';

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

export function addSheet(program: Command): void {
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
      process.exitCode = await sheet(build, hereIfNone(paths), options);
    });
}

export function addCard(program: Command): void {
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
      process.exitCode = await card(builds, { ...options, in: hereIfNone(options.in) });
    });
}

export function addSite(program: Command): void {
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

export function addCompare(program: Command): void {
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
    .addOption(formatOption(TABLE_FORMATS))
    .action(async (builds: string[], options: CompareOptions) => {
      const { compare } = await import('./compare-command.ts');
      process.exitCode = await compare(builds, { ...options, in: hereIfNone(options.in) });
    });
}

export function addExplain(program: Command): void {
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
      process.exitCode = await explain(result, build, hereIfNone(paths), options);
    });
}

export function addObserve(program: Command): void {
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
    .addOption(formatOption(LIST_FORMATS))
    .action(async (log: string, build: string, options: ObserveOptions) => {
      const { observe } = await import('./observe-command.ts');
      process.exitCode = await observe(log, build, { ...options, in: hereIfNone(options.in) });
    });
}

export function addMeasure(program: Command): void {
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
    .addOption(formatOption(LIST_FORMATS))
    .action(async (build: string, paths: string[], options: MeasureOptions) => {
      const { measure } = await import('./measure-command.ts');
      process.exitCode = await measure(build, hereIfNone(paths), options);
    });
}

export function addList(program: Command): void {
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
    .addOption(formatOption(LIST_FORMATS))
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
    .addOption(formatOption(LIST_FORMATS))
    .action(async (paths: string[], options: { format: ListFormat }) => {
      const { listParts } = await import('./list-command.ts');
      process.exitCode = await listParts(hereIfNone(paths), options.format);
    });
  list
    .command('uses')
    .description('the builds that use a part, directly or through other parts')
    .argument('<part>', 'name of a part')
    .argument('[paths...]', LOOK_IN)
    .addOption(formatOption(LIST_FORMATS))
    .action(async (part: string, paths: string[], options: { format: ListFormat }) => {
      const { listUses } = await import('./list-command.ts');
      process.exitCode = await listUses(part, hereIfNone(paths), options.format);
    });
}
