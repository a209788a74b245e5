/** `fettle observe LOG BUILD --with PACK`: what is in a log, compared with the prediction; on request written into the build's file. */
import { closeSync, existsSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { basename, dirname, extname, relative, resolve, sep } from 'node:path';
import { createInterface } from 'node:readline';
import { URI } from 'langium';
import { type CheckedBuild, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { lineBreakOf, quote } from '../grammar/value-texts.ts';
import { guessedColumns, headingsIn } from '../model/log/guess-columns.ts';
import { decoderOf } from '../model/log/log-files.ts';
import { readLogLine } from '../model/log/log-line.ts';
import { declarationsOf } from '../model/statements.ts';
import { type ObserveData, observeData } from '../report/observe/observe-data.ts';
import { observeJson, observeText } from '../report/observe/observe-report.ts';
import type { FileDocument } from '../syntax/nodes.ts';
import { terminalSafe } from '../syntax/terminal-safe.ts';
import { withTexts } from '../trial/with-texts.ts';
import { loadPaths } from '../workspace/load-paths.ts';
import { NodeFiles } from '../workspace/node-files.ts';
import { createFettleServices } from '../workspace/services.ts';
import { pathOf, worstOf } from './checked-files.ts';
import type { ListFormat } from './formats.ts';
import { buildNamed, checkedAt } from './named-builds.ts';
import { notThere, Refusal } from './refuse.ts';
import { writeUnlessChanged } from './write-unless-changed.ts';

export interface ObserveOptions {
  readonly in: readonly string[];
  readonly with?: string;
  readonly title?: string;
  /** As written in a `log` line. */
  readonly columns?: string;
  readonly format: ListFormat;
  readonly write?: boolean;
}

/** Prints what is in a log; returns the exit code: 1 where it cannot be right and is not written, 2 where a file could not be read. */
export async function observe(log: string, name: string, options: ObserveOptions): Promise<number> {
  if (!existsSync(log) || !statSync(log).isFile()) throw new Refusal(`there is no file ${log}`);
  const checked = await checkedAt(options.in, [name]);
  const { build } = buildNamed(name, checked);
  const file = URI.parse(build.uri).fsPath;
  const pack = packOf(build, options.with);
  const path = relative(dirname(file), resolve(log)).split(sep).join('/');
  const known = build.observations.find((one) => one.log?.file === path);
  const title = known?.title ?? onOneLine(options.title ?? basename(log, extname(log)));
  if (!known && build.observations.some((one) => one.title === title))
    throw new Refusal(`${name} has an observation “${title}” already; give this one another with --title`);
  const before = readFileSync(file, 'utf8');
  const block = known ? '' : blockOf(title, pack, log, path, options.columns);
  const after = known ? before : await inserted(file, before, name, block);

  const observed = await builtWith(file, after, name);
  const data = observeData(observed.build, title);
  if ('none' in data) throw new Refusal(`${log}: ${data.none}`);
  const print = { text: IN_STEPS, json: AT_THE_END }[options.format];
  process.stdout.write(print.found(data));
  // What cannot be is not written by itself.
  const mayBe = data.setAside.length === 0;
  const written = !known && options.write === true && mayBe && (await mayWrite(file)) ? file : undefined;
  if (written !== undefined) writeUnlessChanged(written, pathOf(build.uri), before, after);
  process.stdout.write(print.ending({ data, block, file, isKnown: known !== undefined, written, mayBe }));
  return worstOf(checked.failures, options.write === true && !known && !mayBe ? 1 : 0);
}

interface ObserveEnding {
  readonly data: ObserveData;
  readonly block: string;
  readonly file: string;
  /** The file has this log already. */
  readonly isKnown: boolean;
  /** Where the block was written. */
  readonly written: string | undefined;
  readonly mayBe: boolean;
}

interface ObservePrinter {
  /** What is in the log, before a person decides whether it is written. */
  readonly found: (data: ObserveData) => string;
  readonly ending: (ending: ObserveEnding) => string;
}

const IN_STEPS: ObservePrinter = { found: observeText, ending: (ending) => `\n${closing(ending)}\n` };

const AT_THE_END: ObservePrinter = {
  found: () => '',
  ending: ({ data, block, written }) => observeJson(data, block, written),
};

function closing({ block, file, isKnown, written, mayBe }: ObserveEnding): string {
  const where = terminalSafe(pathOf(URI.file(file).toString()));
  if (isKnown) return `${where} has this log already.`;
  const shown = block.split('\n').map(terminalSafe).join('\n');
  if (!mayBe) return `Nothing is written. If the log is right all the same, put this into ${where}:\n\n${shown}`;
  return `${written === undefined ? '--write puts this' : 'written'} into ${where}:\n\n${shown}`;
}

function packOf({ name, packs }: CheckedBuild['build'], asked: string | undefined): string {
  const names = packs.map((option) => option.name);
  if (asked !== undefined && !names.includes(asked)) throw notThere('pack', asked, names);
  const [only] = names;
  const pack = asked ?? (names.length === 1 ? only : undefined);
  if (pack === undefined)
    throw new Refusal(`on which pack of ${name} was it flown? --with ${names.join(' or --with ')}`);
  return pack;
}

const DAY = /\d{4}-\d\d-\d\d/;

const onOneLine = (title: string): string => title.replace(/\s+/g, ' ').trim();

/** The `observed` block, as it is written. */
function blockOf(title: string, pack: string, log: string, path: string, stated: string | undefined): string {
  const [day] = DAY.exec(basename(log)) ?? [];
  return [
    `  observed ${quote(title)} with ${pack} {`,
    ...(day === undefined ? [] : [`    on: ${day}`]),
    `    log ${stated ?? columnsOf(log)} from ${quote(path)}`,
    '  }',
  ].join('\n');
}

/** Bytes in which the headings are looked for. */
const BEGINNING = 64 * 1024;
/** More headings than this are no help in a message. */
const MOST_SHOWN = 40;

function beginningOf(file: string): Uint8Array {
  const buffer = new Uint8Array(BEGINNING);
  const opened = openSync(file, 'r');
  try {
    return buffer.subarray(0, readSync(opened, buffer, 0, BEGINNING, 0));
  } finally {
    closeSync(opened);
  }
}

function columnsOf(log: string): string {
  const beginning = beginningOf(log);
  const headings = headingsIn(decoderOf(beginning).decode(beginning));
  if (!headings)
    throw new Refusal(
      `${log}: no headings are found; state the columns in their order: --columns 'time in s, voltage in V, current in A'`,
    );
  const { columns, open } = guessedColumns(headings);
  if (open.length === 0) return columns;
  const rest = headings.length - MOST_SHOWN;
  const some = headings.slice(0, MOST_SHOWN).map((heading) => `“${heading}”`);
  const shown = [...some, ...(rest > 0 ? [`${rest} more`] : [])].join(', ');
  const example = columns === '' ? 'time in s "…", voltage in V "…", current in A "…"' : columns;
  throw new Refusal(`${log}: ${open.join('; ')}. Its columns are ${shown}. State them: --columns '${example}'`);
}

async function inserted(file: string, text: string, name: string, block: string): Promise<string> {
  const document = await documentAt(file, text);
  const build = declarationsOf(document).find((one) => one.kind === 'build' && one.name === name);
  if (!build?.hasBlock) throw new Refusal(`${name} has no block to write into`);
  const mark = text.startsWith('\uFEFF') && !document.textDocument.getText().startsWith('\uFEFF') ? 1 : 0;
  const at = build.insertAt + mark;
  const lineBreak = lineBreakOf(text);
  const before = text.slice(0, at);
  const gap = /\n[ \t]*$/.test(before) ? '' : lineBreak;
  return `${before}${gap}${block.split('\n').join(lineBreak)}${lineBreak}${text.slice(at)}`;
}

/** Of the disk, with one file as it would be. */
async function documentAt(file: string, text: string): Promise<FileDocument> {
  const services = createFettleServices({
    fileSystemProvider: () => withTexts(new NodeFiles(), (uri) => (uri.fsPath === file ? text : undefined)),
  });
  const { documents } = await loadPaths(services, [file]);
  const document = documents.find(({ uri }) => uri.fsPath === file);
  if (!document) throw new Refusal(`${file} cannot be read`);
  return document;
}

async function builtWith(file: string, text: string, name: string): Promise<CheckedBuild> {
  const document = await documentAt(file, text);
  const model = readDocument(document);
  const problem = model.problems.find(({ place }) => isInLog(document, place.start));
  if (problem && problem.severity !== 'warning') throw new Refusal(problem.message);
  const found = checkDocument(model).builds.find(({ build }) => build.name === name);
  if (!found) throw new Refusal(`nothing can be computed for ${name} yet: fettle check reports why`);
  return found;
}

function isInLog(document: FileDocument, offset: number): boolean {
  return document.parseResult.value.parts.some(({ lines }) =>
    lines.some(
      (line) =>
        line.$type === 'ObservedNode' &&
        line.lines.some(
          (one) =>
            one.$type === 'Log' &&
            one.$cstNode !== undefined &&
            offset >= one.$cstNode.offset &&
            offset <= one.$cstNode.end &&
            readLogLine(one).log === undefined,
        ),
    ),
  );
}

/** Prompts on the terminal. */
async function mayWrite(file: string): Promise<boolean> {
  if (process.stdin.isTTY !== true || process.stderr.isTTY !== true) return true;
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  const where = terminalSafe(pathOf(URI.file(file).toString()));
  try {
    const answer = await new Promise<string>((done) => {
      terminal.on('close', () => done(''));
      terminal.question(`\nWrite it into ${where}? (y/n) `, done);
    });
    return /^\s*y(es)?\s*$/i.test(answer);
  } finally {
    terminal.close();
  }
}
