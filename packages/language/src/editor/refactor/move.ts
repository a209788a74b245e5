/** Moves a part to another file, and changes `use` lines so that every name that refers to it, and every name in it, still resolves. */
import { AstUtils, type LangiumDocument, URI, UriUtils } from 'langium';
import { CodeActionKind } from 'vscode-languageserver-types';
import { type File, isLog, isNamed, isPart, isRows, type Part } from '../../grammar/generated/ast.ts';
import { keyOf, LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { lookupOf } from '../../resolve/linker.ts';
import type { FettleIndex } from '../../resolve/name-index.ts';
import { addUse, pathTo } from '../../resolve/use-lines.ts';
import { blockRemoval, blockTextOf } from './block-text.ts';
import {
  type Asked,
  type Change,
  changed,
  homeOf,
  isInHeader,
  newlineOf,
  partAround,
  type Refactoring,
  type Rewriting,
} from './rewriting.ts';

/** A longer menu is hard to read; ours. */
const MOST_TARGETS = 5;

/** @param creates whether the client can make a new file */
export function moves(asked: Asked, creates: boolean): Refactoring[] {
  const part = partAround(asked);
  const block = part && blockTextOf(asked.document, part);
  if (!part?.name || !block || !isInHeader(asked, block.open) || namesFiles(part)) return [];
  const targets = targetsFor(asked, part);
  const own = newFileFor(asked, part);
  const offered = targets.map((uri) => ({ uri, words: pathTo(asked.document.uri, uri) }));
  const created = creates && own ? [{ uri: own, words: `the new file ${UriUtils.basename(own)}` }] : [];
  return [...offered, ...created].map(({ uri, words }) => ({
    title: `Move ${part.name} to ${words.replace(/^\.\//, '')}`,
    kind: CodeActionKind.RefactorMove,
    make: () => moved(asked, part, uri),
    isJudgedWhenTaken: true,
  }));
}

/** Paths of tables and logs are read from where they are written. */
const namesFiles = (part: Part): boolean =>
  AstUtils.streamAllContents(part).some((node) => (isRows(node) || isLog(node)) && node.file !== undefined);

/** Files with parts of the kind, then its neighbours; none with builds where it is among parts alone, none whose folder has another of the name. */
function targetsFor({ document, index }: Asked, part: Part): URI[] {
  const own = document.uri.toString();
  const folder = keyOf(UriUtils.dirname(document.uri));
  const hasBuilds = (file: string): boolean => [...index.partsOfFile(file, ['build'])].length > 0;
  const rank = (file: string): number => {
    const hasKind = [...index.partsOfFile(file, [part.kind])].length > 0;
    const isNear = keyOf(UriUtils.dirname(URI.parse(file))) === folder;
    return (hasKind ? 0 : 2) + (isNear ? 0 : 1);
  };
  return [...index.knownFiles()]
    .filter((file) => file !== own && !file.startsWith(`${LIBRARY_SCHEME}:`) && rank(file) < UNRELATED)
    .filter((file) => isFree(index, file, part) && (hasBuilds(own) || !hasBuilds(file)))
    .sort((one, other) => rank(one) - rank(other) || (one < other ? -1 : 1))
    .slice(0, MOST_TARGETS)
    .map((file) => URI.parse(file));
}

/** The rank of a file elsewhere without a part of the kind. */
const UNRELATED = 3;

function isFree(index: FettleIndex, file: string, part: Part): boolean {
  const folder = keyOf(UriUtils.dirname(URI.parse(file)));
  return index.inFolder(folder, part.name ?? '').every((entry) => entry.part === part);
}

/** `m1606_3150.fettle` next to the file that it leaves. */
function newFileFor({ document, index }: Asked, part: Part): URI | undefined {
  const name = `${(part.name ?? '').toLowerCase()}.fettle`;
  const uri = UriUtils.joinPath(UriUtils.dirname(document.uri), name);
  const isTaken =
    index.hasFile(uri.toString()) || (lookupOf(document)?.openings.namesIn(UriUtils.dirname(uri)) ?? []).includes(name);
  return isTaken || document.uri.scheme === 'untitled' ? undefined : uri;
}

function moved({ document, index }: Asked, part: Part, target: URI): Rewriting | undefined {
  const block = blockTextOf(document, part);
  if (!block) return undefined;
  const text = document.textDocument.getText();
  const there = index.documentOf(target.toString()) as LangiumDocument<File> | undefined;
  const changes = new Map<LangiumDocument, Change[]>();
  const add = (home: LangiumDocument, ...own: Change[]) => changes.set(home, [...(changes.get(home) ?? []), ...own]);
  const piece = text.slice(block.from, block.to).trimEnd();

  // Files that name the part get a `use` of its new folder; `use` lines that only it was needed for are removed.
  for (const user of documentsNaming(part, index)) {
    if (user === there || (user !== document && sees(user, target))) continue;
    if (user === document && keyOf(UriUtils.dirname(target)) === keyOf(UriUtils.dirname(document.uri))) continue;
    if (user === document && !isNamedBeside(document, part)) continue;
    add(user, ...opening(user, target));
  }
  for (const user of new Set([document, ...documentsNaming(part, index)]))
    for (const use of unneededUses(user, part, target)) add(user, use);

  add(document, blockRemoval(text, block));
  const needed = foldersNeededBy(part, target, there);
  const texts = new Map<string, string>();
  if (there) {
    const end = there.textDocument.getText();
    const newline = newlineOf(there);
    const gap = end.trim() === '' ? '' : end.endsWith('\n') ? newline : newline + newline;
    add(there, { from: end.length, to: end.length, text: `${gap}${piece.replace(/\r?\n/g, newline)}${newline}` });
    for (const folder of needed) add(there, ...opening(there, folder));
  } else {
    const newline = newlineOf(document);
    const version = document.parseResult.value.version;
    const head = [
      ...(version === undefined ? [] : [`fettle ${version}`]),
      ...needed.map((folder) => `use "${pathTo(target, folder)}"`),
    ];
    const first = head.length === 0 ? '' : `${head.join(newline)}${newline}${newline}`;
    texts.set(target.toString(), `${first}${piece}${newline}`);
  }
  const own = changed(merged(changes));
  for (const [file, after] of own.texts) texts.set(file, after);
  return { ...own, texts, names: [], ...(!there && { created: target.toString() }) };
}

/** Several insertions at one place become one change, in order; an insertion inside a row that is removed replaces that row. */
function merged(changes: ReadonlyMap<LangiumDocument, readonly Change[]>): Map<LangiumDocument, Change[]> {
  const result = new Map<LangiumDocument, Change[]>();
  for (const [document, own] of changes) {
    const byPlace = new Map<string, Change>();
    for (const change of own) {
      const row = own.find(({ from, to }) => from < change.from && change.from < to) ?? change;
      const key = `${row.from} ${row.to}`;
      const known = byPlace.get(key);
      const added = row === change ? change.text : `${change.text.trim()}${newlineOf(document)}`;
      const text = known === undefined || known.text.includes(added) ? (known?.text ?? added) : known.text + added;
      byPlace.set(key, { from: row.from, to: row.to, text });
    }
    result.set(document, [...byPlace.values()]);
  }
  return result;
}

function documentsNaming(part: Part, index: FettleIndex): Set<LangiumDocument<File>> {
  const references = index.referencesTo(part, homeOf(part).uri.toString());
  return new Set(references.map(({ container }) => AstUtils.getDocument(container) as LangiumDocument<File>));
}

function isNamedBeside(document: LangiumDocument<File>, part: Part): boolean {
  return document.references.some((reference) => {
    const holder = reference.$refNode?.astNode;
    return 'ref' in reference && reference.ref === part && holder !== undefined && !isInside(holder, part);
  });
}

function isInside(node: { $container?: unknown }, part: Part): boolean {
  for (let at: unknown = node; at; at = (at as { $container?: unknown }).$container) if (at === part) return true;
  return false;
}

function sees(document: LangiumDocument, file: URI): boolean {
  const folder = keyOf(UriUtils.dirname(file));
  if (keyOf(UriUtils.dirname(document.uri)) === folder) return true;
  const openings = lookupOf(document)?.openings.of(document) ?? [];
  return openings.some((opening) => opening.folder === folder || opening.file === file.toString());
}

/** A `use` of the folder. */
function opening(document: LangiumDocument<File>, place: URI): Change[] {
  const target = place.path.endsWith('.fettle') ? UriUtils.dirname(place) : place;
  return addUse(document, target).edits.map(({ place: { start, end }, newText }) => ({
    from: start,
    to: end,
    text: newText,
  }));
}

/** Removes the `use` lines that only this part was needed for. */
function unneededUses(document: LangiumDocument<File>, part: Part, target: URI): Change[] {
  const lookup = lookupOf(document);
  const left = homeOf(part).uri.toString();
  const needed = new Set<string>();
  for (const reference of document.references) {
    const to = 'ref' in reference ? reference.ref : undefined;
    const holder = reference.$refNode?.astNode;
    if (!isPart(to) || (document === homeOf(part) && holder && isInside(holder, part))) continue;
    needed.add(to === part ? target.toString() : AstUtils.getDocument(to).uri.toString());
  }
  const text = document.textDocument.getText();
  return (lookup?.openings.unqualified(document) ?? []).flatMap((opening) => {
    if (
      opening.failed !== undefined ||
      (document !== homeOf(part) && opening.file !== left && opening.folder !== left.slice(0, left.lastIndexOf('/')))
    )
      return [];
    const files = opening.file ? [opening.file] : [...(lookup?.index.filesOf(opening.folder ?? '') ?? [])];
    const hasBench = [...(lookup?.openings.allEntries(opening, ['bench']) ?? [])].length > 0;
    const inFolder =
      opening.folder !== undefined &&
      opening.folder === keyOf(UriUtils.dirname(target)) &&
      needed.has(target.toString());
    const wasNeeded = files.some((file) =>
      document.references.some(
        (reference) =>
          'ref' in reference && isPart(reference.ref) && AstUtils.getDocument(reference.ref).uri.toString() === file,
      ),
    );
    if (hasBench || inFolder || !wasNeeded || files.some((file) => needed.has(file))) return [];
    const use = opening.use.$cstNode;
    if (use === undefined) return [];
    const [rest = '', comment = ''] = /^[^\S\r\n]*(\/\/[^\r\n]*)?(?:\r?\n)?/.exec(text.slice(use.end)) ?? [];
    return [{ from: use.offset, to: use.end + rest.length, text: comment && comment + newlineOf(document) }];
  });
}

/** Folders of what the part names, as far as its new file does not see them. */
function foldersNeededBy(part: Part, target: URI, there: LangiumDocument | undefined): URI[] {
  const here = keyOf(UriUtils.dirname(target));
  const folders = new Map<string, URI>();
  for (const node of AstUtils.streamAst(part)) {
    if (!isNamed(node)) continue;
    const to = node.head.ref;
    const uri = isPart(to) && to !== part ? AstUtils.getDocument(to).uri : undefined;
    if (!uri || uri.scheme === LIBRARY_SCHEME) continue;
    const folder = UriUtils.dirname(uri);
    if (keyOf(folder) !== here && !(there && sees(there, uri))) folders.set(keyOf(folder), folder);
  }
  return [...folders.values()];
}
