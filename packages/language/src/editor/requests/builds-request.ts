import type { LangiumDocument } from 'langium';
import type { Part } from '../../grammar/generated/ast.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { entriesOfBuild } from '../../syntax/entries.ts';
import { fileOf, namePlace } from '../../syntax/nodes.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { rangeOf } from '../places.ts';
import type { BuildSummary } from './protocol.ts';

export function buildsOf({ workspace }: EngineServices): BuildSummary[] {
  const documents = workspace.LangiumDocuments.all
    .filter(({ uri }) => uri.scheme !== LIBRARY_SCHEME)
    .toArray()
    .sort((left, right) => (left.uri.toString() < right.uri.toString() ? -1 : 1));
  return documents.flatMap((document) =>
    fileOf(document)
      .parts.filter((part) => part.kind === 'build' && part.name !== undefined)
      .map((part) => summaryOf(document, part)),
  );
}

function summaryOf(document: LangiumDocument, build: Part): BuildSummary {
  const { start, end } = namePlace(build);
  const packs = entriesOfBuild(build).filter(({ word, name }) => word === 'pack' && name !== '');
  return {
    uri: document.uri.toString(),
    name: build.name ?? '',
    ...(build.title !== undefined && { title: terminalSafe(build.title) }),
    range: rangeOf(document, start, end),
    packs: packs.map(({ name }) => name),
  };
}
