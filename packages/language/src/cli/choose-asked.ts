/** What `fettle choose` is to judge: a shortlist of the files, or a build with what is varied in it. */
import { readDocument } from '../checks/text/read-document.ts';
import type { PartNode } from '../grammar/generated/ast.ts';
import { isPlainLine } from '../grammar/scan.ts';
import { type FileDocument, fileDocument } from '../syntax/nodes.ts';
import { partOfKindNamed, TRIED, withAppended, withoutTrialMarks } from '../trial/trial.ts';
import { type LoadFailure, loadPaths } from '../workspace/load-paths.ts';
import { NodeFileSystem } from '../workspace/node-files.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { pathOf } from './checked-files.ts';
import { notThere, Refusal } from './refuse.ts';

/** All that decides which candidates there are. */
export interface ChooseRequest {
  readonly name: string;
  readonly in: readonly string[];
  readonly vary?: readonly string[];
  readonly prefer?: readonly string[];
  readonly require?: readonly string[];
}

export interface OpenedShortlist {
  /** What could not be read; the rest is used. */
  readonly failures: readonly LoadFailure[];
  /** That read the files as they are. */
  readonly files: Services;
  /** That read the shortlist. */
  readonly services: Services;
  readonly document: FileDocument;
  readonly node: PartNode;
}

/** @param fail reports what could not be read */
export async function openAsked(
  asked: ChooseRequest,
  fail?: (path: string, message: string) => void,
): Promise<OpenedShortlist> {
  const files = createFettleServices(NodeFileSystem);
  const { failures } = await loadPaths(files, asked.in);
  // First of all: what is looked for may be in such a file.
  for (const { path, message } of failures) fail?.(path, message);
  return { failures, files, ...(await shortlistOf(files, asked)) };
}

/** A build is named with what is varied in it; a shortlist states them itself. */
export async function shortlistOf(
  services: Services,
  { name, vary = [], prefer = [], require = [] }: ChooseRequest,
): Promise<Pick<OpenedShortlist, 'services' | 'document' | 'node'>> {
  const documents = [...services.shared.workspace.LangiumDocuments.all]
    .filter(({ uri }) => uri.scheme === 'file')
    .map(fileDocument);
  const declared = (kind: string) =>
    documents.flatMap((document) => {
      const node = partOfKindNamed(document, kind, name);
      return node ? [{ document, node }] : [];
    });
  const [shortlist, another] = declared('shortlist');
  if (shortlist && another) throw new Refusal(`there are two shortlists ${name}: state the file with --in`);
  if (shortlist) {
    if (vary.length + prefer.length + require.length > 0)
      throw new Refusal(
        `${name} is a shortlist and states itself what it varies: name a build, or leave the options out`,
      );
    refuseProblems(shortlist.document, shortlist.node, 0);
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
    ...vary.map((line) => `vary: ${line.replace(/^\s*vary\s*:/, '').trim()}`),
    ...require.map((line) => `require ${line.replace(/^\s*require\b/, '').trim()}`),
    ...prefer.map((line) => `prefer: ${line.replace(/^\s*prefer\s*:/, '').trim()}`),
  ];
  if (!lines.every(isPlainLine)) throw new Refusal('state each option as one line, without braces or comments');
  const trial = await withAppended(services, build.document, `shortlist ${name}${TRIED} {\n${lines.join('\n')}\n}\n`);
  const node = partOfKindNamed(trial.document, 'shortlist', `${name}${TRIED}`);
  if (!node) throw new Refusal('the options cannot be read');
  refuseProblems(trial.document, node, trial.from);
  return { services: trial.services, document: trial.document, node };
}

/** What is wrong with other shortlists of the file is no reason. */
function refuseProblems(document: FileDocument, { $cstNode }: PartNode, from: number): void {
  const { offset = 0, end = 0 } = $cstNode ?? {};
  const [wrong] = readDocument(document).problems.filter(
    ({ place, severity }) => severity === undefined && offset <= place.start && place.start < end,
  );
  if (!wrong) return;
  const { line } = document.textDocument.positionAt(wrong.place.start);
  const where = from > 0 ? '' : `${pathOf(document.uri.toString())}:${line + 1}: `;
  throw new Refusal(`${where}${withoutTrialMarks(wrong.message)}`);
}
