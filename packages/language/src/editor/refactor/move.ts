/** Moves a part to another file, and changes `use` lines so that every name that refers to it, and every name in it, still resolves. */

import { type AstNode, AstUtils, type CstNode, GrammarUtils, type LangiumDocument, URI, UriUtils } from 'langium';
import { CodeActionKind } from 'vscode-languageserver-types';
import {
  isCondition,
  isLog,
  isNamedNode,
  isPartNode,
  isRows,
  isText,
  type PartNode,
} from '../../grammar/generated/ast.ts';
import { folderOfFile, keyOf, LIBRARY_SCHEME, placeOfPath } from '../../resolve/keys.ts';
import { lookupOf } from '../../resolve/linker.ts';
import type { FettleIndex } from '../../resolve/name-index.ts';
import type { Opening } from '../../resolve/openings.ts';
import { addUse, pathTo } from '../../resolve/use-lines.ts';
import { type FileDocument, fileDocument } from '../../syntax/nodes.ts';
import { textOf, uriOf } from '../../syntax/source.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { blockRemoval, blockTextOf } from './block-text.ts';
import {
  changed,
  homeOf,
  isInHeader,
  newlineOf,
  partAroundSelection,
  type Refactoring,
  type RefactoringRequest,
  type Rewriting,
} from './rewriting.ts';
import type { TextChange } from './text-change.ts';

/** A longer menu is hard to read; ours. */
const MOST_TARGETS = 5;

/** @param creates whether the client can make a new file */
export function moves(asked: RefactoringRequest, creates: boolean): Refactoring[] {
  const part = partAroundSelection(asked);
  const block = part && blockTextOf(asked.document, part);
  if (!part?.name || !block || !isInHeader(asked, block.open)) return [];
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

/** Files with parts of the kind, then its neighbours; none with builds where it is among parts alone, none whose folder has another of the name. */
function targetsFor({ document, index }: RefactoringRequest, part: PartNode): URI[] {
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

function isFree(index: FettleIndex, file: string, part: PartNode): boolean {
  const folder = keyOf(UriUtils.dirname(URI.parse(file)));
  return index.inFolder(folder, part.name ?? '').every((entry) => entry.part === part);
}

/** `m1606_3150.fettle` next to the file that it leaves. */
function newFileFor({ document, index }: RefactoringRequest, part: PartNode): URI | undefined {
  const name = `${(part.name ?? '').toLowerCase()}.fettle`;
  const uri = UriUtils.joinPath(UriUtils.dirname(document.uri), name);
  const isTaken =
    index.hasFile(uri.toString()) || (lookupOf(document)?.openings.namesIn(UriUtils.dirname(uri)) ?? []).includes(name);
  return isTaken || document.uri.scheme === 'untitled' ? undefined : uri;
}

function moved({ document, index }: RefactoringRequest, part: PartNode, target: URI): Rewriting | undefined {
  const block = blockTextOf(document, part);
  if (!block) return undefined;
  const text = document.textDocument.getText();
  const there = index.documentOf(target.toString());
  const changes = new Map<LangiumDocument, TextChange[]>();
  const add = (home: LangiumDocument, ...own: TextChange[]) =>
    changes.set(home, [...(changes.get(home) ?? []), ...own]);
  const paths = pathsIn(part);
  const piece = withPaths(text.slice(block.from, block.to).trimEnd(), block.from, paths, document.uri, target);

  // Files that name the part get a `use` of its new folder; `use` lines that only it was needed for are removed.
  for (const user of documentsNaming(part, index)) {
    if (user === there || sees(user, target)) continue;
    if (user === document && !isNamedBeside(document, part)) continue;
    add(user, ...opening(user, target));
  }
  for (const user of new Set([document, ...documentsNaming(part, index)]))
    for (const use of unneededUses(user, part, target)) add(user, use);

  add(document, blockRemoval(text, block));
  const needed = foldersNeededBy(part, target, there, foldersAmong(paths, document));
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
  const all = merged(changes);
  const own = changed(all);
  for (const [file, after] of own.texts) texts.set(file, after);
  const judged = judgedFor(part, index, texts.keys(), all);
  return { ...own, texts, names: [], ...(judged && { judged }), ...(!there && { created: target.toString() }) };
}

/** Kinds that count for whoever sees them, without being named. */
const SEEN: ReadonlySet<PartNode['kind']> = new Set(['build', 'bench']);

/**
 * Files of one folder with the same `use` lines resolve each name alike: of those that name the part, and change alike, one is judged for all.
 * A file that declares the name itself is judged, and so is each shortlist: what it tries is what it sees.
 */
function judgedFor(
  part: PartNode,
  index: FettleIndex,
  files: Iterable<string>,
  changes: ReadonlyMap<LangiumDocument, readonly TextChange[]>,
): string[] | undefined {
  if (SEEN.has(part.kind)) return undefined;
  const name = part.name ?? '';
  const judged = new Set<string>();
  const groups = new Set<string>();
  for (const file of new Set([...files, ...index.mentioning([name])])) {
    const document = index.documentOf(file);
    const { parts, uses } = document?.parseResult.value ?? {};
    const isDeclared = parts?.some((one) => one.name === name) ?? true;
    const own = (document && changes.get(document)) ?? [];
    const removed = own.map(({ from, to }) => document?.textDocument.getText().slice(from, to));
    const alike = [folderOfFile(file), uses?.map(textOf), own.map(({ text }) => text), removed];
    const group = JSON.stringify(alike);
    const isOther = own.some(({ from }) => from >= (parts?.[0]?.$cstNode?.offset ?? 0));
    if (isDeclared || isOther || !groups.has(group)) judged.add(file);
    groups.add(group);
  }
  for (const file of index.knownFiles()) if ([...index.partsOfFile(file, ['shortlist'])].length > 0) judged.add(file);
  return [...judged];
}

/** A path that is read from where it is written: of a table or a log, or of where a shortlist looks. */
interface WrittenPath {
  readonly path: string;
  readonly from: number;
  readonly to: number;
  readonly isFolder: boolean;
}

function pathsIn(part: PartNode): WrittenPath[] {
  return AstUtils.streamAllContents(part)
    .toArray()
    .flatMap((node): WrittenPath[] => {
      const isTable = isRows(node) || isLog(node);
      const isPlace = isText(node) && isCondition(node.$container) && node.$container.word === 'in';
      const path = isTable ? node.file : isPlace ? node.text : undefined;
      const written = GrammarUtils.findNodeForProperty(node.$cstNode, isTable ? 'file' : 'text');
      if (path === undefined || written === undefined) return [];
      return [{ path, from: written.offset, to: written.end, isFolder: isPlace }];
    });
}

/** The piece, which begins at `start`, with its paths as they are written in the other file. */
function withPaths(piece: string, start: number, paths: readonly WrittenPath[], home: URI, target: URI): string {
  return paths
    .toSorted((one, other) => other.from - one.from)
    .reduce((text, { path, from, to }) => {
      const written = pathTo(target, placeOfPath(home, path));
      return `${text.slice(0, from - start)}"${path.startsWith('.') ? written : written.replace(/^\.\//, '')}"${text.slice(to - start)}`;
    }, piece);
}

const foldersAmong = (paths: readonly WrittenPath[], { uri }: LangiumDocument): URI[] =>
  paths.flatMap(({ path, isFolder }) => (isFolder ? placeOfPath(uri, path) : []));

/**
 * Several insertions at one place become one change, in order; an insertion inside a row that is removed replaces that row, and what is removed
 * from inside of it is removed from behind it.
 */
function merged(changes: ReadonlyMap<LangiumDocument, readonly TextChange[]>): Map<LangiumDocument, TextChange[]> {
  const result = new Map<LangiumDocument, TextChange[]>();
  for (const [document, own] of changes) {
    const byPlace = new Map<string, TextChange>();
    for (const change of own) {
      const around = own.find(({ from, to }) => from < change.from && change.from < to);
      if (around && change.to > change.from) {
        byPlace.set(`${around.to} ${change.to}`, { from: around.to, to: change.to, text: '' });
        continue;
      }
      const row = around ?? change;
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

function documentsNaming(part: PartNode, index: FettleIndex): Set<FileDocument> {
  const references = index.referencesTo(part, homeOf(part).uri.toString());
  return new Set(references.map(({ container }) => fileDocument(AstUtils.getDocument(container))));
}

function isNamedBeside(document: FileDocument, part: PartNode): boolean {
  return document.references.some((reference) => {
    const holder = reference.$refNode?.astNode;
    return 'ref' in reference && reference.ref === part && holder !== undefined && !isInside(holder, part);
  });
}

function isInside(node: { $container?: unknown }, part: PartNode): boolean {
  for (let at: unknown = node; at; at = membersOf(at).$container) if (at === part) return true;
  return false;
}

function sees(document: LangiumDocument, file: URI): boolean {
  const folder = keyOf(UriUtils.dirname(file));
  if (keyOf(UriUtils.dirname(document.uri)) === folder) return true;
  const openings = lookupOf(document)?.openings.of(document) ?? [];
  return openings.some((opening) => opening.folder === folder || opening.file === file.toString());
}

/** A `use` of the folder. */
function opening(document: FileDocument, place: URI): TextChange[] {
  const target = place.path.endsWith('.fettle') ? UriUtils.dirname(place) : place;
  return addUse(document, target).edits.map(({ place: { start, end }, newText }) => ({
    from: start,
    to: end,
    text: newText,
  }));
}

/** Removes the `use` lines that only this part was needed for. */
function unneededUses(document: FileDocument, part: PartNode, target: URI): TextChange[] {
  const lookup = lookupOf(document);
  if (!lookup) return [];
  const home = homeOf(part);
  const named = partsNamedIn(document);
  const before = new Set(named.map(({ to }) => uriOf(to)));
  // What the part itself names goes with it.
  const staying = named.filter(({ holder }) => document !== home || !holder || !isInside(holder, part));
  const after = new Set(staying.map(({ to }) => (to === part ? target.toString() : uriOf(to))));
  const mayEnd = ({ file, folder }: Opening): boolean =>
    document === home || file === home.uri.toString() || folder === keyOf(UriUtils.dirname(home.uri));
  const isUnneeded = (opening: Opening): boolean => {
    const { file, folder } = opening;
    const files = file ? [file] : [...lookup.index.filesOf(folder ?? '')];
    const reachesTarget = folder === keyOf(UriUtils.dirname(target)) && after.has(target.toString());
    const hasBench = [...lookup.openings.allEntries(opening, ['bench'])].length > 0;
    return !hasBench && !reachesTarget && files.some((one) => before.has(one)) && !files.some((one) => after.has(one));
  };
  return lookup.openings
    .unqualified(document)
    .filter((opening) => opening.failed === undefined && mayEnd(opening) && isUnneeded(opening))
    .flatMap(({ use }) => withoutLine(document, use.$cstNode) ?? []);
}

interface NamedPart {
  readonly to: PartNode;
  readonly holder: AstNode | undefined;
}

const partsNamedIn = (document: FileDocument): NamedPart[] =>
  document.references.flatMap((reference) => {
    const to = 'ref' in reference ? reference.ref : undefined;
    return isPartNode(to) ? [{ to, holder: reference.$refNode?.astNode }] : [];
  });

/** A comment behind it stays. */
function withoutLine(document: LangiumDocument, line: CstNode | undefined): TextChange | undefined {
  if (line === undefined) return undefined;
  const behind = document.textDocument.getText().slice(line.end);
  const [rest = '', comment = ''] = /^[^\S\r\n]*(\/\/[^\r\n]*)?(?:\r?\n)?/.exec(behind) ?? [];
  return { from: line.offset, to: line.end + rest.length, text: comment && comment + newlineOf(document) };
}

/** Folders of what the part names, as far as its new file does not see them. */
function foldersNeededBy(
  part: PartNode,
  target: URI,
  there: LangiumDocument | undefined,
  looked: readonly URI[],
): URI[] {
  const here = keyOf(UriUtils.dirname(target));
  const folders = new Map<string, URI>();
  for (const node of AstUtils.streamAst(part)) {
    if (!isNamedNode(node)) continue;
    const to = node.head.ref;
    const uri = isPartNode(to) && to !== part ? AstUtils.getDocument(to).uri : undefined;
    if (!uri || uri.scheme === LIBRARY_SCHEME) continue;
    const folder = UriUtils.dirname(uri);
    if (keyOf(folder) !== here && !(there && sees(there, uri))) folders.set(keyOf(folder), folder);
  }
  for (const folder of looked) {
    const isSeen = there && sees(there, UriUtils.joinPath(folder, 'any.fettle'));
    if (keyOf(folder) !== here && !isSeen) folders.set(keyOf(folder), folder);
  }
  return [...folders.values()];
}
