/** What several commands have in common. */
import { type Command, Option } from 'commander';
import { ABOVE_HINTS } from '../vocabulary/severities.ts';
import { Refusal } from './refuse.ts';

export const WRITE = 'Write:';
export const LOOK = 'Look at a build:';
export const JUDGE = 'Check:';
export const DECIDE = 'Decide:';
export const TOOLS = 'Tools:';

interface Reported {
  readonly group: string;
  /** A line in the list of commands. */
  readonly summary: string;
  /** In its own help; sentences. */
  readonly description: string;
  readonly examples: readonly string[];
}

export function command(program: Command, name: string, { group, summary, description, examples }: Reported): Command {
  const lines = examples.map((example) => `  ${example}`).join('\n');
  return program
    .command(name)
    .helpGroup(group)
    .summary(summary)
    .description(description)
    .helpCommand(false)
    .addHelpText('after', examples.length === 0 ? '' : `\nExamples:\n${lines}`);
}

export const formatOption = (choices: readonly string[], description = 'how to print') =>
  new Option('--format <format>', description).choices(choices).default(choices[0]);

export const failOnOption = (what: string) =>
  new Option('--fail-on <severity>', `exit with 1 when ${what} is at least this severe`)
    .choices(ABOVE_HINTS)
    .default('error');

export const PATHS = 'files and folders; default: this folder';
export const LOOK_IN = 'files and folders to look in; default: this folder';

export function hereIfNone(paths: readonly string[] | undefined): readonly string[] {
  // An empty variable of a script would otherwise mean this folder.
  if (paths?.includes('')) throw new Refusal('a path is empty: state a file or folder');
  return paths === undefined || paths.length === 0 ? ['.'] : paths;
}
