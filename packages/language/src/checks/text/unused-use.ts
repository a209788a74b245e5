/** `use` lines that nothing needs. */
import { type AstNode, GrammarUtils, type LangiumDocument, UriUtils } from 'langium';
import {
  isAlias,
  isCondition,
  isFigureNode,
  isNamedNode,
  isPropertyNode,
  isUnknownNode,
  isUseNode,
} from '../../grammar/generated/ast.ts';
import type { PartEntry } from '../../resolve/folder-names.ts';
import { keyOf } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { isObservedBuild } from '../../resolve/part-signature.ts';
import { FettleReference } from '../../resolve/reference.ts';
import { removeUse } from '../../resolve/use-lines.ts';
import { nodesIn } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOf } from '../../syntax/source.ts';
import { problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const UNUSED_USE: TextCheck = {
  id: 'unused-use',
  severity: 'hint',
  findInNames: unusedUses,
  page: {
    title: 'Nothing from here is used',
    cause: 'The line opens a folder that nothing in this file needs.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the line out.',
    fixes: ['choice'],
    fails: `use "craft.fettle" as Craft
item Tape {
  mass: 1 g
}`,
    passes: `use "craft.fettle" as Craft
build Named like Craft.Healthy {
  pack: Mast900_4S as Named
}`,
  },
};

function* unusedUses(document: LangiumDocument, lookup: Lookup): Iterable<Problem> {
  const openings = lookup.openings.of(document);
  if (openings.length === 0) return;
  // While something is half typed or unknown, it is open which openings are unused.
  const { parserErrors, lexerErrors, value: file } = document.parseResult;
  const references = document.references.filter((entry) => entry instanceof FettleReference);
  if (parserErrors.length + lexerErrors.length > 0 || references.some((reference) => reference.error)) return;
  if (nodesIn(file).some(isHalfTyped)) return;

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
    const isMeasured = ({ kind, part }: PartEntry) => kind === 'bench' || isObservedBuild(part);
    const teaches = !isOwn && [...lookup.openings.allEntries(opening, ['bench', 'build'])].some(isMeasured);
    const isNeeded =
      teaches || (use.name ? needed.has(use) : !isOwn && !opened.has(key) && files.some((file) => needed.has(file)));
    if (!use.name) opened.add(key);
    if (isNeeded) continue;
    const message =
      isOwn && !use.name
        ? 'files of one folder see each other without `use`'
        : `nothing here needs ${use.name ?? path}`;
    yield problem('unused-use', message, placeOf(use), [removeUse(document, use)]);
  }
}

/** A value, a name or a condition is still to come, or a line has nothing known yet. */
function isHalfTyped(node: AstNode): boolean {
  if (isUnknownNode(node)) return true;
  if (isPropertyNode(node) || isCondition(node)) return node.value === undefined;
  if (isAlias(node)) return node.name === undefined;
  if (isUseNode(node))
    return !node.path || (!node.name && GrammarUtils.findNodeForKeyword(node.$cstNode, 'as') !== undefined);
  if (isFigureNode(node)) return node.times.length > node.sides.length + node.of.length;
  return isNamedNode(node) && node.dots.length > node.tail.length;
}
