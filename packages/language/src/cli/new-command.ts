import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { dirname, extname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import type { PartNode } from '../grammar/generated/ast.ts';
import { type Folder, fileNameOf, firstBuild, type Problems, problemsWith } from '../starter/first-build.ts';
import { type Answers, exampleOf, QUESTIONS, type Question, type QuestionId } from '../starter/questions.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { errorCodeOf } from '../syntax/thrown.ts';
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
  const { found, folder } = problems(answers);
  refuse(answers, { found }, () => true);

  const build = firstBuild(answers, folder);
  if (!build) throw new Refusal('nothing was written');
  const file = options.out ?? build.fileName;
  write(file, build.text, options.force === true);
  const defaults = build.defaults.map(
    ({ id, words }) => `${words} (${id === 'name' ? 'fettle new NAME' : optionOf(id)})`,
  );
  const lines = [
    `wrote ${file}`,
    ...(defaults.length > 0 ? [`by default: ${defaults.join(', ')}`] : []),
    ...(build.reused.length > 0 ? [`in this folder already, with the same figures: ${build.reused.join(', ')}`] : []),
  ];
  process.stdout.write(`${lines.map(terminalSafe).join('\n')}\n\n`);
  await check([file], { format: 'text', failOn: 'error' });
}

interface Judged {
  readonly found: Problems;
}

/** Judges answers by what the folder has already; a file that is written anew has nothing. */
async function problemsIn({
  out,
  force = false,
}: NewOptions): Promise<(answers: Answers) => Judged & { readonly folder: Folder }> {
  const declared = await declaredIn(out === undefined ? '.' : dirname(out));
  return (answers) => {
    const file = out ?? (answers.name === undefined ? undefined : fileNameOf(answers.name));
    const others = declared.filter(({ path }) => !force || file === undefined || path !== resolve(file));
    const folder: Folder = {
      parts: others.map(({ part }) => part),
      hasFile: (name) => out === undefined && existsSync(fileNameOf(name)),
    };
    const found = problemsWith(answers, folder);
    if (force || file === undefined || !existsSync(file)) return { found, folder };
    return { found: { ...found, name: `${file} exists already; --force overwrites it` }, folder };
  };
}

const isAtTerminal = (): boolean => process.stdin.isTTY === true && process.stderr.isTTY === true;

/** `--dry-mass` */
const optionOf = (id: QuestionId): string =>
  id === 'name' ? 'NAME' : `--${id.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

function refuse(answers: Answers, { found }: Judged, isMeant: (question: Question) => boolean): void {
  const printed = QUESTIONS.filter(isMeant).flatMap(({ id, asks, examples }) => {
    const problem = found[id];
    if (problem === undefined) return [];
    return answers[id] === undefined
      ? [`${optionOf(id)} is missing: ${asks}, such as ${exampleOf({ examples })}`]
      : [`${optionOf(id)}: ${problem}`];
  });
  if (printed.length > 0) throw new Refusal(...printed);
}

interface Declared {
  readonly part: PartNode;
  readonly path: string;
}

/** What the files of a folder declare. */
async function declaredIn(folder: string): Promise<Declared[]> {
  if (!existsSync(folder)) throw new Refusal(`there is no folder ${folder}`);
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.fettle'))
    .map((file) => join(folder, file));
  const { documents } = await loadPaths(createFettleServices(NodeFileSystem), files);
  return documents.flatMap(({ parseResult, uri }) =>
    parseResult.value.parts.map((part) => ({ part, path: uri.fsPath })),
  );
}

/** On standard error, so that what is written out stays clean. Lines that were pasted together are answers one by one. */
async function requestedFor(given: Answers, problems: (answers: Answers) => Problems): Promise<Answers> {
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  terminal.on('SIGINT', () => terminal.close());
  const lines = terminal[Symbol.asyncIterator]();
  const answers: Partial<Record<QuestionId, string>> = { ...given };
  try {
    for (const { id, asks, description, examples, usual } of QUESTIONS) {
      if (given[id] !== undefined || usual !== undefined) continue;
      process.stderr.write(`${description}\n`);
      terminal.setPrompt(`  ${asks} (${exampleOf({ examples })}): `);
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
    throw errorCodeOf(error) === 'EEXIST'
      ? new Refusal(`${file} exists already; --force overwrites it`)
      : notWritten(file, error);
  }
}
