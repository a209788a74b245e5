/** `use` lines that open nothing, and those that nothing needs. */
import { type AstNode, AstUtils, GrammarUtils, type LangiumDocument, URI, UriUtils } from 'langium';
import { isAlias, isCondition, isFigure, isNamed, isProperty, isUnknown, isUse } from '../../grammar/generated/ast.ts';
import { isClosed } from '../../grammar/value-texts.ts';
import type { Entry } from '../../resolve/folder-names.ts';
import { keyOf, LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import type { Opening } from '../../resolve/openings.ts';
import { isObservedBuild } from '../../resolve/part-signature.ts';
import { FettleReference } from '../../resolve/reference.ts';
import { pathTo, removeUse } from '../../resolve/use-lines.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf, placeOfFeature } from '../../syntax/source.ts';
import { nearest } from '../../units/nearest.ts';
import { UNUSED_USE } from './unused-use.ts';
import { USE_MISSING } from './use-missing.ts';

export function useProblems(document: LangiumDocument, lookup: Lookup): Problem[] {
  const openings = lookup.openings.of(document);
  const failed = openings
    .filter((opening) => opening.failed && isWritten(opening))
    .map((opening) => opensNothing(document, lookup, opening));
  return [...failed, ...unused(document, lookup, openings)];
}

/** A path whose quotes are open is still being typed. */
function isWritten({ use }: Opening): boolean {
  return isClosed(GrammarUtils.findNodeForProperty(use.$cstNode, 'path')?.text ?? '');
}

function opensNothing(document: LangiumDocument, lookup: Lookup, opening: Opening): Problem {
  const { path, use, failed } = opening;
  const place = placeOfFeature(use, 'path');
  if (failed === 'unseen') {
    const description = 'save this file first: a path begins where the file is';
    return { id: USE_MISSING.id, severity: 'hint', message: description, place };
  }
  if (failed === 'outside') {
    const message = `${path} opens nothing: a link leads out of the workspace, and what is there is not read: put a copy of it inside`;
    return { id: USE_MISSING.id, message, place };
  }
  if (failed === 'empty') return { id: USE_MISSING.id, message: `there is no .fettle file in ${path}`, place };
  if (failed === 'unreadable') {
    const reason = path.endsWith('.fettle') ? 'it cannot be read' : 'it is not a .fettle file';
    return { id: USE_MISSING.id, message: `${path} opens nothing: ${reason}`, place };
  }
  const near = pathsNear(document, lookup, path);
  const withEnding = `${path}.fettle`;
  const meant = near.has(withEnding) ? [withEnding] : nearest(path, near, 2);
  return {
    id: USE_MISSING.id,
    message: `there is no folder or file ${path}${meant.length > 0 ? `; did you mean ${meant.join(' or ')}?` : ''}`,
    place,
    fixes: meant.map((other) => ({ title: `change to ${other}`, edits: [{ place, newText: `"${other}"` }] })),
  };
}

/** Folders and files that could have been meant: what lies next to the missing one, and every folder and file that is known. */
function pathsNear(document: LangiumDocument, lookup: Lookup, path: string): Set<string> {
  const paths = new Set<string>();
  const from = UriUtils.dirname(document.uri);
  const slash = path.replace(/\/$/, '').lastIndexOf('/');
  const before = path.slice(0, slash + 1);
  for (const name of lookup.openings.namesIn(UriUtils.resolvePath(from, before || '.'))) {
    if (keyOf(UriUtils.resolvePath(from, `${before}${name}`)) !== document.uri.toString())
      paths.add(`${before}${name}`);
  }
  for (const key of [...lookup.index.knownFolders(), ...lookup.index.knownFiles()]) {
    if (key.startsWith(`${LIBRARY_SCHEME}:`) || key === keyOf(from) || key === document.uri.toString()) continue;
    const known = pathTo(document.uri, URI.parse(key));
    paths.add(known);
    // Written the way this line is written: with or without the dot in front.
    if (!path.startsWith('.') && known.startsWith('./')) paths.add(known.slice(2));
  }
  return paths;
}

function* unused(document: LangiumDocument, lookup: Lookup, openings: readonly Opening[]): Iterable<Problem> {
  // While something is half typed or unknown, it is open which openings are unused.
  const { parserErrors, lexerErrors, value: file } = document.parseResult;
  const references = (document.references as unknown[]).filter((entry) => entry instanceof FettleReference);
  if (parserErrors.length + lexerErrors.length > 0 || references.some((reference) => reference.error)) return;
  if (AstUtils.streamAst(file).some(isHalfTyped)) return;

  const needed = new Set<unknown>();
  for (const reference of references) {
    const target = reference.$nodeDescription;
    needed.add(reference.ref);
    if (target && reference === reference.container.head) needed.add(target.documentUri.toString());
  }
  const opened = new Set<string>();
  for (const opening of openings) {
    if (opening.failed) continue;
    const { use, path } = opening;
    const key = opening.file ?? opening.folder ?? '';
    const files = opening.file ? [opening.file] : [...lookup.index.filesOf(key)];
    const isOwn = key === keyOf(UriUtils.dirname(document.uri));
    // Rows of a test stand count without being named, and so does what was seen on other builds.
    const isMeasured = ({ kind, part }: Entry) => kind === 'bench' || isObservedBuild(part);
    const teaches = !isOwn && [...lookup.openings.allEntries(opening, ['bench', 'build'])].some(isMeasured);
    const isNeeded =
      teaches || (use.name ? needed.has(use) : !isOwn && !opened.has(key) && files.some((file) => needed.has(file)));
    if (!use.name) opened.add(key);
    if (isNeeded) continue;
    const message =
      isOwn && !use.name
        ? 'files of one folder see each other without `use`'
        : `nothing here needs ${use.name ?? path}`;
    yield { id: UNUSED_USE.id, message, place: placeOf(use), fixes: [removeUse(document, use)] };
  }
}

/** A value, a name or a condition is still to come, or a line has nothing known yet. */
function isHalfTyped(node: AstNode): boolean {
  if (isUnknown(node)) return true;
  if (isProperty(node) || isCondition(node)) return node.value === undefined;
  if (isAlias(node)) return node.name === undefined;
  if (isUse(node))
    return !node.path || (!node.name && GrammarUtils.findNodeForKeyword(node.$cstNode, 'as') !== undefined);
  if (isFigure(node)) return node.times.length > node.sides.length + node.of.length;
  return isNamed(node) && node.dots.length > node.tail.length;
}
