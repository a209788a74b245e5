/** Names that may be at the cursor: parts in scope, parts that a `use` would bring, and what a build has named. */
import { type LangiumDocument, URI } from 'langium';
import { CompletionItemKind } from 'vscode-languageserver-types';
import { isPartNode, type PartNode } from '../../grammar/generated/ast.ts';
import { partOf } from '../../model/parts.ts';
import { byEntryPlace } from '../../resolve/folder-names.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { addUse } from '../../resolve/use-lines.ts';
import { chainOf } from '../../syntax/chain.ts';
import { entriesOf, isBoard, namedPart } from '../../syntax/entries.ts';
import { railsOf } from '../../syntax/nodes.ts';
import type { Kind } from '../../vocabulary/schema.ts';
import { commentAbove } from '../comments.ts';
import { plain, plainLines } from '../hover/hover-markdown.ts';
import { partText } from '../hover/part-hover.ts';
import { toTextEdits } from '../place-ranges.ts';
import type { Offer } from './offer.ts';

/** More parts than this nobody scrolls through; the client repeats its request when more letters are typed. */
export const MOST_PARTS = 400;

/** Parts of these kinds: those in scope first, then those of the rest of the workspace, each with the `use` it needs. */
export function partOffers(
  document: LangiumDocument,
  lookup: Lookup,
  kinds: readonly Kind[],
  typed: string,
  except?: PartNode,
): Offer[] {
  const offers: Offer[] = [];
  const named = new Set<string>();
  for (const description of lookup.partsInScope(document, kinds)) {
    const part = isPartNode(description.node) ? description.node : undefined;
    named.add(description.name);
    if (part !== undefined && part !== except) {
      offers.push(offerOf(part, description.name, description.documentUri.scheme === LIBRARY_SCHEME ? 3 : 0));
    }
  }
  for (const opening of lookup.openings.of(document)) {
    const alias = opening.use.name;
    if (alias !== undefined) {
      offers.push({ label: alias, kind: CompletionItemKind.Module, detail: `use "${opening.path}"`, group: 1 });
    }
  }
  return [...offers, ...elsewhere(document, lookup, kinds, typed, named)].slice(0, MOST_PARTS);
}

function elsewhere(
  document: LangiumDocument,
  lookup: Lookup,
  kinds: readonly Kind[],
  typed: string,
  named: ReadonlySet<string>,
): Offer[] {
  const wanted = typed.toLowerCase();
  const offers: Offer[] = [];
  for (const entry of [...lookup.index.all()].sort(byEntryPlace)) {
    const fits = kinds.includes(entry.kind) && !named.has(entry.name) && entry.name.toLowerCase().includes(wanted);
    if (fits && URI.parse(entry.file).scheme === document.uri.scheme && offers.length < MOST_PARTS) {
      const { title, edits } = addUse(document, URI.parse(entry.folder));
      offers.push({
        ...offerOf(entry.part, entry.name, 2),
        detail: `${entry.kind}, ${title}`,
        alsoEdit: toTextEdits(edits, document),
      });
    }
  }
  return offers;
}

function offerOf(part: PartNode, name: string, group: number): Offer {
  const comment = commentAbove(part);
  const documentation = [part.title && plain(part.title), comment && plainLines(comment)].filter(Boolean).join('\n\n');
  const hasFigures = part.kind !== 'build' && part.kind !== 'rules' && part.kind !== 'flight';
  return {
    label: name,
    kind: CompletionItemKind.Struct,
    detail: part.kind,
    group,
    ...(documentation && { documentation }),
    details: () => partText(part, hasFigures ? partOf(part) : undefined),
  };
}

// ---- what a build has named ----

/** By a word of its lines: its packs, its flights. */
export function namedOffers(build: PartNode, word: 'pack' | 'flight'): Offer[] {
  const names = entriesOf(chainOf(build).parts).flatMap((entry) =>
    entry.word === word && entry.name ? entry.name : [],
  );
  return [...new Set(names)].map((label) => ({ label, kind: CompletionItemKind.Variable, detail: word, group: 0 }));
}

/** What a build takes from the one it is like. */
export function inheritedOffers(build: PartNode): Offer[] {
  return entriesOf(chainOf(build).parts.slice(1))
    .filter(({ name }) => name !== '')
    .map(({ name, word }) => ({ label: name, kind: CompletionItemKind.Variable, detail: word, group: 0 }));
}

/** What can feed something in a build: the pack, regulators, rails of boards. */
export function feedOffers(build: PartNode): Offer[] {
  const offers: Offer[] = [
    { label: 'pack', kind: CompletionItemKind.EnumMember, detail: 'directly from the pack', group: 1 },
  ];
  for (const entry of entriesOf(chainOf(build).parts)) {
    const part = isBoard(entry) ? namedPart(entry.line) : undefined;
    if (entry.word === 'regulator') {
      offers.push({ label: entry.name, kind: CompletionItemKind.Variable, detail: 'regulator', group: 0 });
    }
    for (const rail of part === undefined ? [] : railsOf(part).keys()) {
      offers.push({ label: `${entry.name}.${rail}`, kind: CompletionItemKind.Variable, detail: 'rail', group: 0 });
    }
  }
  return offers;
}

/** Rails by the names under which results know them, and the boards and regulators to follow further. */
export function railOffers(build: PartNode): Offer[] {
  const entries = entriesOf(chainOf(build).parts).filter(isBoard);
  const names = new Set<string>();
  for (const entry of entries) {
    names.add(entry.name);
    const board = entry.word === 'esc' ? namedPart(entry.line) : undefined;
    for (const rail of board === undefined ? [] : railsOf(board).keys()) {
      names.add(rail);
    }
  }
  return [...names].map((label) => ({ label, kind: CompletionItemKind.Variable, detail: 'rail', group: 0 }));
}

/** Behind `Board35.`: its rails; behind the second name of a `use`: its parts. */
export function memberOffers(
  document: LangiumDocument,
  lookup: Lookup,
  owner: string,
  build: PartNode | undefined,
  kinds: readonly Kind[] | undefined,
): Offer[] {
  const opening = lookup.openings.of(document).find((candidate) => candidate.use.name === owner);
  if (opening !== undefined) {
    return [...lookup.openings.allEntries(opening)]
      .sort(byEntryPlace)
      .filter((entry) => kinds === undefined || kinds.includes(entry.kind))
      .map((entry) => offerOf(entry.part, entry.name, 0));
  }
  const entry = build && entriesOf(chainOf(build).parts).find(({ name }) => name === owner);
  const board = entry && namedPart(entry.line);
  return [...(board === undefined ? [] : railsOf(board).keys())].map((label) => ({
    label,
    kind: CompletionItemKind.Variable,
    detail: 'rail',
    group: 0,
  }));
}
