/** Everything a document states, as plain objects. */
import type { PartNode } from '../../grammar/generated/ast.ts';
import { assemble } from '../../model/assemble-build.ts';
import type { Assembled } from '../../model/assembled.ts';
import { readBench } from '../../model/bench-rows.ts';
import type { Bench, Build, Part } from '../../model/build.ts';
import { partOf } from '../../model/parts.ts';
import { isSlipOf } from '../../model/resting.ts';
import { readShortlist, type Shortlist } from '../../model/shortlists.ts';
import { lookupOf } from '../../resolve/linker.ts';
import { type Defect, guarded } from '../../syntax/defects.ts';
import { remembered } from '../../syntax/memory.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { referenceProblems } from './name-problems.ts';
import { textProblems } from './text-problems.ts';

export interface DocumentModel {
  readonly uri: string;
  /** Parts that are declared on their own; what only combines them is elsewhere. */
  readonly parts: readonly Part[];
  readonly builds: readonly Build[];
  readonly benches: readonly Bench[];
  readonly shortlists: readonly Shortlist[];
  readonly problems: readonly Problem[];
  /** Problems in other files, in the blocks that its builds are made of. */
  readonly elsewhere: readonly Problem[];
  /** What of it could not be read for a mistake of ours. */
  readonly defects: readonly Defect[];
}

/** Never throws on a half-typed file; needs the document to be linked. Kept until the document is linked again. */
export const readDocument: (document: FileDocument) => DocumentModel = remembered(read);

interface Read<T> {
  readonly found: T;
  readonly defects: readonly Defect[];
}

const assembledIn = remembered((document: FileDocument): Read<ReadonlyMap<PartNode, Assembled>> => {
  const defects: Defect[] = [];
  const found = new Map<PartNode, Assembled>();
  for (const node of document.parseResult.value.parts.filter(({ kind }) => kind === 'build')) {
    const assembled = guarded(defects, document.uri.toString(), () => assemble(node));
    if (assembled) found.set(node, assembled);
  }
  return { found, defects };
});

const problemsIn: (document: FileDocument) => Read<readonly Problem[]> = remembered(problemsOf);

/** A file for a newer program gets one problem and nothing else. */
function problemsOf(document: FileDocument): Read<readonly Problem[]> {
  const defects: Defect[] = [];
  const text = textProblems(document, assembledIn(document).found, defects);
  if (text.some(({ id }) => id === 'newer-version')) return { found: text, defects };
  const names = guarded(defects, document.uri.toString(), () => referenceProblems(document)) ?? [];
  return { found: [...text, ...names].sort((one, other) => one.place.start - other.place.start), defects };
}

/** In order of the files. */
function problemsElsewhere(document: FileDocument, builds: readonly Build[]): Problem[] {
  const own = document.uri.toString();
  const index = lookupOf(document)?.index;
  const files = new Set(builds.flatMap(({ blocks }) => blocks.map(({ uri }) => uri)));
  return [...files]
    .filter((uri) => uri !== own)
    .sort()
    .flatMap((uri) => {
      const other = index?.documentOf(uri);
      return other ? problemsIn(other).found.filter((problem) => builds.some((build) => isSlipOf(build, problem))) : [];
    });
}

function read(document: FileDocument): DocumentModel {
  const nodes = document.parseResult.value.parts;
  const uri = document.uri.toString();
  const defects: Defect[] = [];
  const each = <T>(of: readonly PartNode[], reader: (node: PartNode) => T): T[] =>
    of.flatMap((node) => guarded(defects, uri, () => [reader(node)]) ?? []);
  const assembled = assembledIn(document);
  const builds = [...assembled.found.values()].map(({ build }) => build);
  const parts = each(
    nodes.filter((node) => !['rules', 'build', 'bench', 'shortlist', 'flight'].includes(node.kind)),
    partOf,
  );
  const benches = each(
    nodes.filter((node) => node.kind === 'bench'),
    readBench,
  );
  const shortlists = each(
    nodes.filter((node) => node.kind === 'shortlist'),
    readShortlist,
  );
  const problems = problemsIn(document);
  const elsewhere = guarded(defects, uri, () => problemsElsewhere(document, builds)) ?? [];
  return {
    uri,
    parts,
    builds,
    benches,
    shortlists,
    problems: problems.found,
    elsewhere,
    defects: [...assembled.defects, ...problems.defects, ...defects],
  };
}
