/** `fettle choose`: every candidate of a shortlist judged, and the one that is taken written. */
import type { LangiumDocument } from 'langium';
import { URI } from 'vscode-uri';
import { readDocument } from '../checks/text/read-document.ts';
import type { File, Part as PartNode } from '../grammar/generated/ast.ts';
import { type Chosen, choose, type Row } from '../report/decide/choice.ts';
import { chosenJson, chosenMarkdown, chosenText } from '../report/decide/choice-text.ts';
import { frontPicture } from '../report/decide/front-chart.ts';
import { documentOf } from '../syntax/nodes.ts';
import { CannotChoose, spaceOf } from '../trial/candidates.ts';
import { edited, editsFor } from '../trial/take.ts';
import { asRead, partNamed, TRIED, withAppended } from '../trial/trial.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { pathOf } from './check-command.ts';
import type { ChoiceFormat } from './formats.ts';
import { checkedAt } from './named-builds.ts';
import { complain, notThere, Refusal } from './refuse.ts';
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
  if (svg === undefined) throw new Refusal('a picture takes two preferences, and something that stands');
  return `${svg}\n`;
}

interface Asked {
  readonly services: Services;
  readonly document: LangiumDocument<File>;
  readonly node: PartNode;
}

/** Prints the table; returns the exit code: 1 where nothing stands. */
export async function chooseFrom(name: string, options: ChooseOptions): Promise<number> {
  const services = createFettleServices(NodeFileSystem);
  await checkedAt(options.in, services);
  const progress = progressOn(process.stderr);
  try {
    const requested = await requiredOf(services, name, options);
    const space = await spaceOf(requested.services, requested.document, requested.node);
    const chosen = await choose(space, { step: (done, of) => progress.step('judging candidates', done, of) });
    progress.end();
    const print = { text: chosenText, markdown: chosenMarkdown, json: chosenJson, svg: picture }[options.format];
    process.stdout.write(print(chosen));
    if (options.apply !== undefined) {
      const row = chosen.rows.find(({ rank }) => String(rank) === options.apply);
      if (!row)
        throw new Refusal(`there is no row ${options.apply}: there are 1 to ${chosen.rows.length}; nothing is written`);
      const base = space.shortlist.build;
      if (base) take(originalOf(services, base), row);
    }
    return chosen.standing === 0 ? 1 : Number(process.exitCode ?? 0);
  } catch (error) {
    if (error instanceof CannotChoose) throw new Refusal(error.message);
    throw error;
  } finally {
    progress.end();
  }
}

/** A build is named with what is varied in it; a shortlist says so itself. */
async function requiredOf(
  services: Services,
  name: string,
  { vary = [], prefer = [], require = [] }: ChooseOptions,
): Promise<Asked> {
  const documents = [...services.shared.workspace.LangiumDocuments.all].filter(
    ({ uri }) => uri.scheme === 'file',
  ) as LangiumDocument<File>[];
  const declared = (kind: string) =>
    documents.flatMap((document) => {
      const node = partNamed(document, kind, name);
      return node ? [{ document, node }] : [];
    });
  const [shortlist, another] = declared('shortlist');
  if (shortlist && another) throw new Refusal(`there are two shortlists ${name}: state the file with --in`);
  if (shortlist) {
    if (vary.length + prefer.length + require.length > 0)
      throw new Refusal(
        `${name} is a shortlist and states itself what it varies: name a build, or leave the options out`,
      );
    refuseProblems(shortlist.document, 0);
    return { services, ...shortlist };
  }
  const [build] = declared('build');
  if (!build) {
    const known = documents.flatMap(({ parseResult }) =>
      parseResult.value.parts.flatMap((part) =>
        part.kind === 'shortlist' || part.kind === 'build' ? (part.name ?? []) : [],
      ),
    );
    throw notThere('shortlist or build', name, known);
  }
  if (vary.length === 0 || prefer.length === 0)
    throw new Refusal(`state what is varied and preferred: --vary 'pack in "../parts"' --prefer hover_time`);
  const lines = [
    `for: ${name}`,
    ...vary.map((line) => `vary: ${line}`),
    ...require.map((line) => `require ${line}`),
    ...prefer.map((line) => `prefer: ${line}`),
  ];
  if (lines.some((line) => /[{}\r\n]/.test(line))) throw new Refusal('state each option as one line, without braces');
  const trial = await withAppended(services, build.document, `shortlist ${name}${TRIED} {\n${lines.join('\n')}\n}\n`);
  refuseProblems(trial.document, trial.from);
  const node = partNamed(trial.document, 'shortlist', `${name}${TRIED}`);
  if (!node) throw new Refusal('the options cannot be read');
  return { services: trial.services, document: trial.document, node };
}

function refuseProblems(document: LangiumDocument<File>, from: number): void {
  const shortlists = document.parseResult.value.parts.filter(({ kind }) => kind === 'shortlist');
  const isIn = (start: number) =>
    shortlists.some(({ $cstNode }) => $cstNode !== undefined && $cstNode.offset <= start && start < $cstNode.end);
  const [wrong] = readDocument(document).problems.filter(
    ({ place, severity }) => place.start >= from && severity === undefined && isIn(place.start),
  );
  if (!wrong) return;
  const { line } = document.textDocument.positionAt(wrong.place.start);
  const where = from > 0 ? '' : `${pathOf(document.uri.toString())}:${line + 1}: `;
  throw new Refusal(`${where}${asRead(wrong.message)}`);
}

/** The build as the command read it, before anything was appended. */
function originalOf(services: Services, node: PartNode): PartNode {
  const uri = documentOf(node)?.uri;
  const document = uri && services.shared.workspace.LangiumDocuments.getDocument(uri);
  return (document && partNamed(document, 'build', node.name ?? '')) ?? node;
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
