import type { LangiumDocument } from 'langium';
import type { PartNode } from '../../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { entriesOfBuild } from '../../syntax/entries.ts';
import { fileOf, namePlace } from '../../syntax/nodes.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { rangeOf } from '../place-ranges.ts';
import type { BuildSummary, ShortlistSummary } from './protocol.ts';

export function buildSummaries({ workspace }: EngineServices): {
  builds: BuildSummary[];
  shortlists: ShortlistSummary[];
} {
  const documents = workspace.LangiumDocuments.all
    .filter(({ uri }) => uri.scheme !== LIBRARY_SCHEME)
    .toArray()
    .sort((left, right) => (left.uri.toString() < right.uri.toString() ? -1 : 1));
  const named = (kind: string) =>
    documents.flatMap((document) =>
      fileOf(document).parts.flatMap((part) =>
        part.kind === kind && part.name !== undefined ? [{ document, part }] : [],
      ),
    );
  return {
    builds: named('build').map(({ document, part }) => ({ ...summaryOf(document, part), packs: packsOf(part) })),
    shortlists: named('shortlist').map(({ document, part }) => summaryOf(document, part)),
  };
}

function summaryOf(document: LangiumDocument, part: PartNode): ShortlistSummary {
  const { start, end } = namePlace(part);
  return {
    uri: document.uri.toString(),
    name: part.name ?? '',
    ...(part.title !== undefined && { title: terminalSafe(part.title) }),
    range: rangeOf(document, start, end),
  };
}

const packsOf = (build: PartNode): string[] =>
  entriesOfBuild(build).flatMap(({ word, name }) => (word === 'pack' && name !== '' ? [name] : []));
