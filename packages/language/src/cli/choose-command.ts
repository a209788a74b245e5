/** `fettle choose`: every candidate of a shortlist judged, and the one that is taken written. */
import { URI } from 'langium';
import type { PartNode } from '../grammar/generated/ast.ts';
import { Cancelled, type Chosen, choose, type Row } from '../report/decide/choice.ts';
import { chosenHtml } from '../report/decide/choice-page.ts';
import { chosenJson, chosenMarkdown, chosenText } from '../report/decide/choice-text.ts';
import { frontPicture } from '../report/decide/front-chart.ts';
import { documentOf } from '../syntax/nodes.ts';
import { CannotChoose, spaceOf } from '../trial/candidates.ts';
import { edited, editsFor } from '../trial/take.ts';
import { partOfKindNamed } from '../trial/trial.ts';
import type { Services } from '../workspace/services.ts';
import { pathOf, worstOf } from './checked-files.ts';
import { type ChooseRequest, openAsked } from './choose-asked.ts';
import { lotsInThreads, threadsForCandidates } from './choose-threads.ts';
import type { ChoiceFormat } from './formats.ts';
import { complain, Refusal } from './refuse.ts';
import { tableSoFarOn } from './table-so-far.ts';
import { progressOn } from './terminal-progress.ts';
import { writeUnlessChanged } from './write-unless-changed.ts';

export interface ChooseOptions {
  readonly in: readonly string[];
  readonly vary?: readonly string[];
  readonly prefer?: readonly string[];
  readonly require?: readonly string[];
  readonly apply?: string;
  readonly format: ChoiceFormat;
}

function picture(chosen: Chosen): string {
  const svg = frontPicture(chosen);
  if (svg === undefined) throw new Refusal('a picture takes two preferences, and candidates that pass');
  return `${svg}\n`;
}

/** Exit code of a command that was interrupted. */
const INTERRUPTED = 130;

/** Prints the table; returns the exit code: 1 where no candidate passes, 2 where a file could not be read. */
export async function chooseFrom(name: string, options: ChooseOptions): Promise<number> {
  if (options.apply !== undefined && !/^[1-9]\d*$/.test(options.apply))
    throw new Refusal(
      `there is no row ${options.apply}: rows are counted from 1, such as --apply 1; nothing is written`,
    );
  const asked: ChooseRequest = { name, ...options };
  const progress = progressOn(process.stderr);
  const isForPeople = options.format === 'text' && process.stdout.isTTY === true;
  const sofar = isForPeople ? tableSoFarOn(process.stderr) : undefined;
  let isCancelled = false;
  const cancel = () => {
    isCancelled = true;
  };
  process.once('SIGINT', cancel);
  try {
    progress.step('reading files');
    const { failures, files, services, document, node } = await openAsked(asked, (path, message) =>
      complain(`${path}: ${message}`),
    );
    const space = await spaceOf(services, document, node);
    const threads = threadsForCandidates(space.count);
    const chosen = await choose(space, {
      isCancelled: () => isCancelled,
      ...(threads > 1 && { lots: lotsInThreads(space, asked, { threads, isCancelled: () => isCancelled }) }),
      ...(sofar
        ? { interim: (table) => sofar.show(table) }
        : { step: (done, of) => progress.step('judging candidates', done, of) }),
    });
    sofar?.end();
    progress.end();
    const print = { text: chosenText, markdown: chosenMarkdown, json: chosenJson, html: chosenHtml, svg: picture }[
      options.format
    ];
    process.stdout.write(print(chosen));
    if (options.apply !== undefined) {
      const row = chosen.rows.find(({ rank }) => String(rank) === options.apply);
      if (!row) {
        const known = chosen.rows.length > 0 ? `there are 1 to ${chosen.rows.length}` : 'no candidate passes';
        throw new Refusal(`there is no row ${options.apply}: ${known}; nothing is written`);
      }
      const base = space.shortlist.build;
      if (base) take(originalOf(files, base), row);
    }
    return worstOf(failures, chosen.passing === 0 ? 1 : 0);
  } catch (error) {
    if (error instanceof CannotChoose) throw new Refusal(error.message);
    if (!(error instanceof Cancelled)) throw error;
    sofar?.end();
    progress.end();
    complain('cancelled: nothing is written');
    return INTERRUPTED;
  } finally {
    sofar?.end();
    progress.end();
    process.off('SIGINT', cancel);
  }
}

/** The build as the command read it, before anything was appended. */
function originalOf(services: Services, node: PartNode): PartNode {
  const uri = documentOf(node)?.uri;
  const document = uri && services.shared.workspace.LangiumDocuments.getDocument(uri);
  return (document && partOfKindNamed(document, 'build', node.name ?? '')) ?? node;
}

/** All of it or nothing; not where the file is another one than that which was read. */
function take(node: PartNode, row: Row): void {
  const document = documentOf(node);
  if (!document) throw new Error(`${node.name} is in no file`);
  const file = URI.parse(document.uri.toString()).fsPath;
  const before = document.textDocument.getText();
  const path = pathOf(document.uri.toString());
  const after = edited(before, editsFor(node, row.choices));
  if (after === before) {
    complain(`${path} states that already: nothing is written`);
    return;
  }
  writeUnlessChanged(file, path, before, after);
  complain(`${path}: ${node.name} now has ${row.label}`);
}
