/** The commands that decide: what if, and which of many. */
import type { Command } from 'commander';
import type { ChooseOptions } from './choose-command.ts';
import { command, DECIDE, failOnOption, formatOption, hereIfNone, LOOK_IN } from './command-options.ts';
import { CHOICE_FORMATS, TABLE_FORMATS } from './formats.ts';
import type { SensitivityOptions } from './sensitivity-command.ts';
import type { SolveOptions } from './solve-command.ts';
import type { TryOptions } from './try-command.ts';

export function addChoose(program: Command): void {
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
    .addOption(formatOption(CHOICE_FORMATS))
    .action(async (name: string, options: ChooseOptions) => {
      const { chooseFrom } = await import('./choose-command.ts');
      process.exitCode = await chooseFrom(name, { ...options, in: hereIfNone(options.in) });
    });
}

export function addTry(program: Command): void {
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
    .addOption(formatOption(TABLE_FORMATS))
    .addOption(failOnOption('a new finding'))
    .action(async (build: string, lines: string[], options: TryOptions) => {
      const { tryLines } = await import('./try-command.ts');
      process.exitCode = await tryLines(build, lines, { ...options, in: hereIfNone(options.in) });
    });
}

export function addSolve(program: Command): void {
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
    .addOption(formatOption(TABLE_FORMATS))
    .action(async (build: string, options: SolveOptions) => {
      const { solveFor } = await import('./solve-command.ts');
      process.exitCode = await solveFor(build, { ...options, keep: options.keep ?? [], in: hereIfNone(options.in) });
    });
}

export function addSensitivity(program: Command): void {
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
    .addOption(formatOption(TABLE_FORMATS))
    .action(async (result: string, build: string, paths: string[], options: SensitivityOptions) => {
      const { sensitivity } = await import('./sensitivity-command.ts');
      process.exitCode = await sensitivity(result, build, hereIfNone(paths), options);
    });
}
