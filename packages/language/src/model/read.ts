/** Everything a document says, as plain objects. */
import type { LangiumDocument } from 'langium';
import type { File, Part as PartNode } from '../grammar/generated/ast.ts';
import { readBench } from './bench.ts';
import type { Bench, Build, Part } from './build.ts';
import { type Assembled, assemble } from './builds.ts';
import { remember } from './memory.ts';
import { partOf } from './parts.ts';
import type { Problem } from './problem.ts';
import { referenceProblems } from './references/problems.ts';
import { textProblems } from './text/check.ts';

export interface DocumentModel {
  readonly uri: string;
  /** Parts that stand on their own; `rules`, `build` and `bench` are elsewhere. */
  readonly parts: readonly Part[];
  readonly builds: readonly Build[];
  readonly benches: readonly Bench[];
  readonly problems: readonly Problem[];
}

/** Never throws on a half-typed file; needs the document to be linked. Kept until the document is linked again. */
export function readDocument(document: LangiumDocument<File>): DocumentModel {
  return remember(document, readDocument, () => read(document));
}

/** A file for a newer program gets one problem and nothing else. */
function problemsOf(document: LangiumDocument<File>, builds: ReadonlyMap<PartNode, Assembled>): Problem[] {
  const text = textProblems(document, builds);
  if (text.some(({ id }) => id === 'newer-version')) return text;
  return [...text, ...referenceProblems(document)].sort((one, other) => one.place.start - other.place.start);
}

function read(document: LangiumDocument<File>): DocumentModel {
  const nodes = document.parseResult.value.parts;
  const builds = new Map(nodes.filter((node) => node.kind === 'build').map((node) => [node, assemble(node)]));
  return {
    uri: document.uri.toString(),
    parts: nodes.filter((node) => !['rules', 'build', 'bench'].includes(node.kind)).map(partOf),
    builds: [...builds.values()].map(({ build }) => build),
    benches: nodes.filter((node) => node.kind === 'bench').map(readBench),
    problems: problemsOf(document, builds),
  };
}
