/** Names that refer to nothing, and results with dashes. Words that mean nothing on their line are found by its reader. */
import { URI } from 'langium';
import {
  isExpressionNode,
  isRailNode,
  isResultNode,
  isUseNode,
  isWord,
  type ResultNode,
  type Target,
} from '../../grammar/generated/ast.ts';
import type { FettleReference } from '../../resolve/reference.ts';
import { addUse, pathTo } from '../../resolve/use-lines.ts';
import { namePlace, partAround, partNamed } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, partOfTarget, placeOf, span } from '../../syntax/source.ts';
import { didYouMean, either } from '../../vocabulary/phrasing.ts';
import { isResultName } from '../../vocabulary/results.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';
import type { Unresolved } from './unresolved.ts';

export const UNKNOWN_NAME: TextCheck = {
  id: 'unknown-name',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'No such name',
    cause:
      'The line names a part, rail, property, result or finding that does not exist, or that this file does not open.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Correct the spelling, or open the folder with `use`.',
    fixes: ['certain', 'choice'],
    fails: `build Misspelt like Healthy {
  without: Mast900_4S
  pack: Mast900_4s
}`,
    passes: `build Spelt like Healthy {
  pack: Mast900_4S as Spelt
}`,
  },
};

/** `hover-time`: a result with dashes is read as a difference of words that are none. */
export function dashedResult(node: ResultNode): { readonly isFirst: boolean; readonly problem: Problem } | undefined {
  const expression = node.$container;
  if (!isExpressionNode(expression)) return undefined;
  const { operands, operators } = expression;
  const isJoined = (index: number): boolean => {
    const [left, right] = [operands[index], operands[index + 1]];
    return (
      operators[index] === '-' &&
      isResultNode(left) &&
      isResultNode(right) &&
      placeOf(left).end + 1 === placeOf(right).start
    );
  };
  const own = operands.indexOf(node);
  let first = own;
  let last = own;
  while (isJoined(first - 1)) first--;
  while (isJoined(last)) last++;
  const words = operands.slice(first, last + 1).filter(isResultNode);
  const [head] = words;
  const end = words.at(-1);
  const name = words.map(nameText).join('_');
  if (!head || !end || first === last || !isResultName(name)) return undefined;
  const place = span(placeOf(head), placeOf(end));
  const message = `no such result: ${words.map(nameText).join('-')}; did you mean ${name}?`;
  return { isFirst: node === head, problem: problem('unknown-name', message, place, [rewrite(place, name)]) };
}

/** It exists, in a folder that is not opened. */
export function nameElsewhere(unresolved: Unresolved): Problem | undefined {
  const { document, lookup, name, place, role } = unresolved;
  const kinds = unresolved.wantedKinds();
  if (role.sort !== 'part' || unresolved.before() || !kinds) return undefined;
  // Files of another file system, or of a text that is not saved yet, cannot be opened from here.
  const { scheme } = document.uri;
  const entries = lookup.index
    .everywhere(name)
    .filter((entry) => kinds.includes(entry.kind) && entry.file.startsWith(`${scheme}:`));
  const [first] = entries;
  if (!first) return undefined;
  const folders = [...new Set(entries.map((entry) => entry.folder))].map((folder) => URI.parse(folder));
  const where = pathTo(document.uri, URI.parse(first.file));
  return problem(
    'unknown-name',
    `no such ${first.kind} here: ${name} is in ${where}, which this file does not open`,
    place,
    folders.slice(0, 3).map((folder) => addUse(document, folder)),
    [{ message: `${name} is declared here`, place: namePlace(first.part) }],
  );
}

export function unknownName(unresolved: Unresolved): Problem {
  const message = `${complaint(unresolved)}${unresolved.hint()}`;
  return problem('unknown-name', message, unresolved.place, unresolved.replacements());
}

function complaint(unresolved: Unresolved): string {
  const { name, role, reference } = unresolved;
  const before = unresolved.before();
  if (before) return complaintAfter(unresolved, before);
  switch (role.sort) {
    case 'part':
      if (unresolved.isVaried()) return `no such part or figure: ${name}`;
      return reference.container.dots.length > 0
        ? `nothing is opened as ${name}`
        : `no such ${role.kinds.length === 1 ? role.kinds[0] : 'part'}: ${name}`;
    case 'feed':
      return `no board or regulator called ${name} in this build`;
    case 'rail':
      return `no rail called ${name} in this esc`;
    case 'option':
      return `no pack called ${name} in this build`;
    case 'inherited':
      return nothingToTakeAway(unresolved);
    case 'result':
      return unresolved.isCall() ? `no such function: ${name}` : `no such result: ${name}`;
    case 'choice':
      return `no such ${role.of}: ${name}`;
    case 'word':
      return `no such word: ${name}`;
  }
}

function complaintAfter(unresolved: Unresolved, before: FettleReference): string {
  const { name, role } = unresolved;
  const target = before.ref;
  const named = before.$refText;
  if (isUseNode(target)) return `no such ${either(unresolved.wantedKinds() ?? ['part'])} in ${named}: ${name}`;
  if (isWord(target) && (target.name === 'rail' || target.name === 'flight') && role.sort === 'result')
    return `no ${target.name} called ${name} in this build`;
  if (isRailNode(target))
    return role.sort === 'result' ? `no such result of a rail: ${name}` : `${named} is a rail; nothing comes after it`;
  if (isWord(target)) return `nothing comes after ${named}`;
  const part = partOfTarget(target as Target | undefined);
  if (part?.kind === 'flight' && role.sort === 'result') return `no such result of a flight: ${name}`;
  if (part?.kind === 'regulator') {
    return role.sort === 'result'
      ? `no such result of a rail: ${name}`
      : `${named} is a regulator: it has one output and no rails`;
  }
  if (part?.kind === 'esc') return `${named} has no rail ${name}`;
  return `nothing comes after ${named}`;
}

function nothingToTakeAway({ name, reference }: Unresolved): string {
  const build = partAround(reference.container);
  const base = build && partNamed(build.base);
  return base?.name
    ? `nothing called ${name} comes from ${base.name}`
    : 'this build is like no other, so there is nothing to take away';
}

/** @param otherwise the hint where nothing is near: no name that may have been meant */
export function noSuch(what: string, name: string, place: Place, near: readonly string[], otherwise: string): Problem {
  const hint = didYouMean(near) || `; ${otherwise}`;
  const fixes = near.map((one) => replace(place, one));
  return problem('unknown-name', `no such ${what}: ${name}${hint}`, place, fixes);
}
