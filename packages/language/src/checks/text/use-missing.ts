/** `use` lines that open nothing. Rows and logs that are not there are found by the readers of their lines. */
import { GrammarUtils, type LangiumDocument, URI, UriUtils } from 'langium';
import { isClosed } from '../../grammar/value-texts.ts';
import { keyOf, LIBRARY_SCHEME, placeOfPath } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import type { Opening } from '../../resolve/openings.ts';
import { pathTo } from '../../resolve/use-lines.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOfFeature } from '../../syntax/source.ts';
import { nearest } from '../../units/nearest.ts';
import { didYouMean } from '../../vocabulary/phrasing.ts';
import { problem, replace } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const USE_MISSING: TextCheck = {
  id: 'use-missing',
  severity: 'error',
  findInNames: missingUses,
  page: {
    title: 'The file or folder to use is not there',
    cause:
      '`use` opens a folder or a file, relative to the file that contains it. Names that depend on it are not reported until it is found.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Correct the path.',
    fixes: ['choice'],
    fails: `use "../nowhere"`,
    passes: `use "craft.fettle" as Craft
build Found like Craft.Healthy {
  pack: Mast900_4S as Found
}`,
  },
};

function missingUses(document: LangiumDocument, lookup: Lookup): Problem[] {
  const failed = lookup.openings.of(document).filter((opening) => opening.failed && isWritten(opening));
  return failed.map((opening) => opensNothing(document, lookup, opening));
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
    return { ...problem('use-missing', description, place), severity: 'hint' };
  }
  if (failed === 'outside') {
    const message = `${path} opens nothing: a link leads out of the workspace, and what is there is not read: put a copy of it inside`;
    return problem('use-missing', message, place);
  }
  if (failed === 'empty') return problem('use-missing', `there is no .fettle file in ${path}`, place);
  if (failed === 'unreadable') {
    const reason = path.endsWith('.fettle') ? 'it cannot be read' : 'it is not a .fettle file';
    return problem('use-missing', `${path} opens nothing: ${reason}`, place);
  }
  const near = pathsNear(document, lookup, path);
  const withEnding = `${path}.fettle`;
  const meant = near.has(withEnding) ? [withEnding] : nearest(path, near, 2);
  return problem(
    'use-missing',
    `there is no folder or file ${path}${didYouMean(meant)}`,
    place,
    meant.map((other) => replace(place, `"${other}"`, `change to ${other}`)),
  );
}

/** Folders and files that could have been meant: what lies next to the missing one, and every folder and file that is known. */
function pathsNear(document: LangiumDocument, lookup: Lookup, path: string): Set<string> {
  const paths = new Set<string>();
  const folder = keyOf(UriUtils.dirname(document.uri));
  const slash = path.replace(/\/$/, '').lastIndexOf('/');
  const before = path.slice(0, slash + 1);
  for (const name of lookup.openings.namesIn(placeOfPath(document.uri, before || '.'))) {
    if (placeOfPath(document.uri, `${before}${name}`).toString() !== document.uri.toString())
      paths.add(`${before}${name}`);
  }
  for (const key of [...lookup.index.knownFolders(), ...lookup.index.knownFiles()]) {
    if (key.startsWith(`${LIBRARY_SCHEME}:`) || key === folder || key === document.uri.toString()) continue;
    const known = pathTo(document.uri, URI.parse(key));
    paths.add(known);
    // Written the way this line is written: with or without the dot in front.
    if (!path.startsWith('.') && known.startsWith('./')) paths.add(known.slice(2));
  }
  return paths;
}
