/** What is possible where a shell completes: commands, options, choices, and names out of the files of this folder. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Command, Option } from 'commander';
import { PART_WORDS } from '../grammar/reserved-words.ts';
import { RESULT_NAMES, resultOf } from '../vocabulary/results.ts';
import { foldersBelow, sourcesIn } from '../workspace/file-watch.ts';
import { FILES, SHELLS } from './shell-scripts.ts';

interface Candidate {
  readonly name: string;
  readonly description?: string;
}

/** One per line, a tabulator before what it is. @param words behind the command's name; the last one is being typed */
export async function candidates(program: Command, words: readonly string[]): Promise<string> {
  const before = words.slice(words[0] === 'help' && words.length > 1 ? 1 : 0, -1);
  const typed = words.at(-1) ?? '';
  const found = whatFits(program, before, typed);
  const lines = found.flatMap(({ name, description }) => {
    if (name === FILES) return [FILES];
    return name.startsWith(typed) ? [description === undefined ? name : `${name}\t${description}`] : [];
  });
  return lines.map((line) => `${line}\n`).join('');
}

function whatFits(program: Command, before: readonly string[], typed: string): Candidate[] {
  const { command, rest } = commandOf(program, before);
  const { awaiting, given, count } = walk(command, rest);
  if (awaiting && !(awaiting.variadic && typed.startsWith('-'))) {
    return valuesOf(placeOf(awaiting.flags), awaiting.argChoices);
  }
  if (typed.startsWith('-')) return optionsOf(command, given);
  const subcommands = command.createHelp().visibleCommands(command);
  if (subcommands.length > 0 && count === 0) {
    return subcommands.map((one) => ({ name: one.name(), description: one.summary() || one.description() }));
  }
  const argument = command.registeredArguments[count] ?? lastVariadic(command);
  return argument ? valuesOf(argument.name(), argument.argChoices) : [];
}

/** Follows sub-commands as far as the words name them. */
function commandOf(program: Command, words: readonly string[]): { command: Command; rest: readonly string[] } {
  let command = program;
  let at = 0;
  for (; at < words.length; at++) {
    const next = command.commands.find((one) => one.name() === words[at]);
    if (!next) break;
    command = next;
  }
  return { command, rest: words.slice(at) };
}

interface Walked {
  /** An option that still takes a value here. */
  readonly awaiting: Option | undefined;
  readonly given: ReadonlySet<Option>;
  /** Arguments that are there. */
  readonly count: number;
}

function walk(command: Command, words: readonly string[]): Walked {
  const given = new Set<Option>();
  let awaiting: Option | undefined;
  let count = 0;
  for (const word of words) {
    if (word.startsWith('-') && word !== '-') {
      const option = command.options.find(({ long, short }) => word === long || word === short);
      if (option) given.add(option);
      awaiting = option?.required || option?.optional ? option : undefined;
    } else if (awaiting) {
      if (!awaiting.variadic) awaiting = undefined;
    } else count++;
  }
  return { awaiting, given, count };
}

const optionsOf = (command: Command, given: ReadonlySet<Option>): Candidate[] => [
  ...command.options
    .filter((option) => !given.has(option) && !option.hidden)
    .map(({ long, short, description }) => ({ name: long ?? short ?? '', description: description })),
  { name: '--help', description: 'print its help' },
];

const lastVariadic = ({ registeredArguments }: Command) => registeredArguments.findLast(({ variadic }) => variadic);

/** `--with <pack>` → `pack` */
const placeOf = (flags: string): string => /[<[]([a-z-]+)/.exec(flags)?.[1] ?? '';

/** By its name in the help. */
function valuesOf(place: string, choices: readonly string[] | undefined): Candidate[] {
  if (choices) return choices.map((name) => ({ name }));
  switch (place) {
    case 'paths':
    case 'file':
      return [{ name: FILES }];
    case 'build':
    case 'builds':
      return declared('build');
    case 'pack':
    case 'packs':
      return [...declared('pack'), ...secondNames()];
    case 'part':
      return PARTS.flatMap(declared);
    case 'result':
      return RESULT_NAMES.map((name) => ({ name, description: resultOf(name)?.label ?? '' }));
    case 'revision':
      return revisions();
    case 'shell':
      return SHELLS.map((name) => ({ name }));
    default:
      return [];
  }
}

const PARTS = [...PART_WORDS].filter((kind) => kind !== 'build' && kind !== 'bench');

/** Nobody waits long for a name. */
const MOST_FILES = 3000;

/** By sight, without reading the files as the language does: that is quick, and what a half-typed file declares counts too. */
function matches(pattern: RegExp): string[] {
  const files = foldersBelow('.').flatMap((folder) => sourcesIn(folder).map((name) => join(folder, name)));
  const names = files
    .slice(0, MOST_FILES)
    .flatMap((file) => [...textOf(file).matchAll(pattern)].map(([, name]) => name));
  return [...new Set(names)].filter((name) => name !== undefined).sort();
}

const declared = (kind: string): Candidate[] =>
  matches(new RegExp(`^[ \\t]*${kind}[ \\t]+([\\p{L}\\p{M}_][\\p{L}\\p{M}\\p{Nd}_]*)`, 'gmu')).map((name) => ({
    name,
    description: kind,
  }));

/** `pack: Mast1350_4S as Gentle` */
const secondNames = (): Candidate[] =>
  matches(/^[ \t]*pack:.*[ \t]as[ \t]+([\p{L}\p{M}_][\p{L}\p{M}\p{Nd}_]*)/gmu).map((name) => ({
    name,
    description: 'pack',
  }));

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return '';
  }
}

function revisions(): Candidate[] {
  try {
    const text = execFileSync('git', ['for-each-ref', '--format=%(refname:short)'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return [
      { name: 'HEAD' },
      ...text
        .split('\n')
        .filter(Boolean)
        .map((name) => ({ name })),
    ];
  } catch {
    return [];
  }
}
