/** Everything a document says, as plain objects. */
import type { LangiumDocument } from 'langium';
import type { File, Part as PartNode } from '../grammar/generated/ast.ts';
import { readBench } from './bench.ts';
import type { Bench, Build, Part } from './build.ts';
import { type Assembled, assemble } from './builds.ts';
import { remember } from './memory.ts';
import { partOf } from './parts.ts';
import type { Problem } from './problem.ts';
import { lookupOf } from './references/linker.ts';
import { referenceProblems } from './references/problems.ts';
import { isSlipOf } from './resting.ts';
import { textProblems } from './text/check.ts';

export interface DocumentModel {
  readonly uri: string;
  /** Parts that stand on their own; `rules`, `build` and `bench` are elsewhere. */
  readonly parts: readonly Part[];
  readonly builds: readonly Build[];
  readonly benches: readonly Bench[];
  readonly problems: readonly Problem[];
  /** Problems in other files, in the blocks that its builds are made of. */
  readonly elsewhere: readonly Problem[];
}

/** Never throws on a half-typed file; needs the document to be linked. Kept until the document is linked again. */
export function readDocument(document: LangiumDocument<File>): DocumentModel {
  return remember(document, readDocument, () => read(document));
}

const assembledIn = (document: LangiumDocument<File>): ReadonlyMap<PartNode, Assembled> =>
  remember(document, assembledIn, () => {
    const builds = document.parseResult.value.parts.filter((node) => node.kind === 'build');
    return new Map(builds.map((node) => [node, assemble(node)]));
  });

const problemsIn = (document: LangiumDocument<File>): readonly Problem[] =>
  remember(document, problemsIn, () => problemsOf(document));

/** A file for a newer program gets one problem and nothing else. */
function problemsOf(document: LangiumDocument<File>): Problem[] {
  const text = textProblems(document, assembledIn(document));
  if (text.some(({ id }) => id === 'newer-version')) return text;
  return [...text, ...referenceProblems(document)].sort((one, other) => one.place.start - other.place.start);
}

/** In order of the files. */
function problemsElsewhere(document: LangiumDocument<File>, builds: readonly Build[]): Problem[] {
  const own = document.uri.toString();
  const index = lookupOf(document)?.index;
  const files = new Set(builds.flatMap(({ blocks }) => blocks.map(({ uri }) => uri)));
  return [...files]
    .filter((uri) => uri !== own)
    .sort()
    .flatMap((uri) => {
      const other = index?.documentOf(uri) as LangiumDocument<File> | undefined;
      return other ? problemsIn(other).filter((problem) => builds.some((build) => isSlipOf(build, problem))) : [];
    });
}

function read(document: LangiumDocument<File>): DocumentModel {
  const nodes = document.parseResult.value.parts;
  const builds = [...assembledIn(document).values()].map(({ build }) => build);
  return {
    uri: document.uri.toString(),
    parts: nodes.filter((node) => !['rules', 'build', 'bench'].includes(node.kind)).map(partOf),
    builds,
    benches: nodes.filter((node) => node.kind === 'bench').map(readBench),
    problems: problemsIn(document),
    elsewhere: problemsElsewhere(document, builds),
  };
}
