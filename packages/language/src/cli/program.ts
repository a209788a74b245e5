/** The command line as a whole: help, version, exit codes. What answers a command is loaded only when it is called. */
import { type Argument, Command, type Option } from 'commander';
import { fullVersion } from '../report/present/version.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { TOOLS } from './command-options.ts';
import { addChoose, addSensitivity, addSolve, addTry } from './deciding-commands.ts';
import { addCheck, addReview } from './judging-commands.ts';
import {
  addCard,
  addCompare,
  addExplain,
  addList,
  addMeasure,
  addObserve,
  addSheet,
  addSite,
} from './looking-commands.ts';
import { COULD_NOT_RUN } from './refuse.ts';
import { addCompletion, addFormat, addNew, addServe } from './writing-commands.ts';

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
