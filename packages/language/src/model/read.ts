/** Everything a document says, as plain objects. */
import type { LangiumDocument } from 'langium';
import type { File } from '../grammar/generated/ast.ts';
import type { Bench, Build, Part } from './build.ts';
import { assemble } from './builds.ts';
import { remember } from './memory.ts';
import { partOf } from './parts.ts';
import type { Problem } from './problem.ts';

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

function read(document: LangiumDocument<File>): DocumentModel {
  const nodes = document.parseResult.value.parts;
  const assembled = nodes.filter((node) => node.kind === 'build').map(assemble);
  return {
    uri: document.uri.toString(),
    parts: nodes.filter((node) => !['rules', 'build', 'bench'].includes(node.kind)).map(partOf),
    builds: assembled.map(({ build }) => build),
    benches: [],
    problems: [],
  };
}
