import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, extname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { fileNameOf, firstBuild, type Problems, problemsWith } from '../starter/first-build.ts';
import { type Answers, QUESTIONS, type Question, type QuestionId } from '../starter/questions.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import { check } from './check-command.ts';
import { notWritten, Refusal } from './refuse.ts';

export interface NewOptions extends Omit<Answers, 'name'> {
  readonly out?: string;
  readonly force?: boolean;
}

/** Writes a first build into a file of its own and shows its results; prompts on a terminal for missing answers. */
export async function newBuild(name: string | undefined, options: NewOptions): Promise<void> {
  if (options.out !== undefined) refuseFile(options.out);
  const given: Answers = { ...options, ...(name !== undefined && { name }) };
  const problems = await problemsIn(options);
  refuse(given, problems(given), ({ id }) => given[id] !== undefined);
  const answers = isAtTerminal() ? await requestedFor(given, (so) => problems(so).found) : given;
  const { found, taken } = problems(answers);
  refuse(answers, { found }, () => true);

  const build = firstBuild(answers, taken);
  if (!build) throw new Refusal('nothing was written');
  const file = options.out ?? build.fileName;
  write(file, build.text, options.force === true);
  process.stdout.write(`wrote ${terminalSafe(file)}\n\n`);
  await check([file], { format: 'text', failOn: 'error' });
}

interface Judged {
  readonly found: Problems;
}

/** Judges answers by what the folder has already; a file that is written anew has nothing. */
async function problemsIn({
  out,
  force = false,
}: NewOptions): Promise<(answers: Answers) => Judged & { readonly taken: ReadonlySet<string> }> {
  const folder = out === undefined ? '.' : dirname(out);
  const names = await namesIn(folder);
  return (answers) => {
    const file = out ?? fileNameOf(answers.name ?? '');
    const others = names.filter(({ path }) => !force || path !== resolve(file));
    const taken = new Set(others.map(({ name }) => name));
    const found = problemsWith(answers, taken);
    if (force || !existsSync(file)) return { found, taken };
    return { found: { ...found, name: `${file} exists already; --force overwrites it` }, taken };
  };
}

const isAtTerminal = (): boolean => process.stdin.isTTY === true && process.stderr.isTTY === true;

/** `--dry-mass` */
const optionOf = (id: QuestionId): string =>
  id === 'name' ? 'NAME' : `--${id.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

function refuse(answers: Answers, { found }: Judged, isMeant: (question: Question) => boolean): void {
  const printed = QUESTIONS.filter(isMeant).flatMap(({ id, asks, example }) => {
    const problem = found[id];
    if (problem === undefined) return [];
    return answers[id] === undefined
      ? [`${optionOf(id)} is missing: ${asks}, such as ${example}`]
      : [`${optionOf(id)}: ${problem}`];
  });
  if (printed.length > 0) throw new Refusal(...printed);
}

interface Named {
  readonly name: string;
  readonly path: string;
}

/** What the files of a folder declare. */
async function namesIn(folder: string): Promise<Named[]> {
  if (!existsSync(folder)) throw new Refusal(`there is no folder ${folder}`);
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.fettle'))
    .map((file) => join(folder, file));
  const { documents } = await loadPaths(createFettleServices(NodeFileSystem), files);
  return documents.flatMap(({ parseResult, uri }) =>
    parseResult.value.parts.flatMap(({ name }) => (name === undefined ? [] : [{ name, path: uri.fsPath }])),
  );
}

/** On standard error, so that what is written out stays clean. Lines that were pasted together are answers one by one. */
async function requestedFor(given: Answers, problems: (answers: Answers) => Problems): Promise<Answers> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  terminal.on('SIGINT', () => terminal.close());
  const lines = terminal[Symbol.asyncIterator]();
  const answers: Partial<Record<QuestionId, string>> = { ...given };
  try {
    for (const { id, asks, description, example, usual } of QUESTIONS) {
      if (given[id] !== undefined) continue;
      process.stderr.write(`${description}\n`);
      terminal.setPrompt(`  ${asks} (${usual === undefined ? example : `${usual} when left empty`}): `);
      for (;;) {
        terminal.prompt();
        const { done, value } = await lines.next();
        if (done) throw new Refusal('cancelled; nothing was written');
        answers[id] = value;
        const problem = problems(answers)[id];
        if (problem === undefined) break;
        process.stderr.write(`  ${terminalSafe(problem)}\n`);
      }
    }
    return answers;
  } finally {
    terminal.close();
  }
}

function refuseFile(file: string): void {
  if (existsSync(file) && statSync(file).isDirectory())
    throw new Refusal(`${file} is a folder; state a file in it: ${join(file, 'fledgling.fettle')}`);
  if (extname(file) !== '.fettle') throw new Refusal(`${file} must end in .fettle`);
}

function write(file: string, text: string, force: boolean): void {
  try {
    writeFileSync(file, text, { flag: force ? 'w' : 'wx' });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw code === 'EEXIST' ? new Refusal(`${file} exists already; --force overwrites it`) : notWritten(file, error);
  }
}
