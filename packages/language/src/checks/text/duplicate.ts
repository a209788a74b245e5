/** Names given twice where both are seen. One finding each, at the later one. */
import { type AstNode, type LangiumDocument, URI, UriUtils } from 'langium';
import { isAlias, isRailNode, type PartNode, type PropertyNode } from '../../grammar/generated/ast.ts';
import { keyOf } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { pathTo } from '../../resolve/use-lines.ts';
import { entriesOfBuild, type Entry as LineEntry, namedPart } from '../../syntax/entries.ts';
import { fileOf, namePlace } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { namedOf, placeOfFeature, wholeLineOf } from '../../syntax/source.ts';
import { listed, withArticle } from '../../vocabulary/phrasing.ts';
import { problem, replace } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';
import type { Unresolved } from './unresolved.ts';

export const DUPLICATE: TextCheck = {
  id: 'duplicate',
  severity: 'error',
  findInNames: duplicateProblems,
  page: {
    title: 'Written twice',
    cause:
      'A property twice in one block, a thing that a shortlist varies or prefers twice, or two parts with one name where both are visible: the reference is ambiguous.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take one of them out, or give it another name.',
    fixes: ['choice'],
    fails: `item Twice { mass: 3 g  mass: 4 g }`,
    passes: `item Once { mass: 3 g }`,
  },
};

function duplicateProblems(document: LangiumDocument, lookup: Lookup): Problem[] {
  const { parts, uses } = fileOf(document);
  return [
    ...repeated(
      uses.filter((use) => use.path),
      (use) => use.name,
      (use, first) => twice(use, first, `something else is opened as ${use.name} already`),
    ),
    ...parts.flatMap((part) => [
      ...partTwice(document, lookup, part),
      ...repeated(
        part.lines.filter(isRailNode),
        (rail) => rail.name,
        (rail, first) => twice(rail, first, `there is a rail ${rail.name} here already`),
      ),
      ...(part.kind === 'build' ? nameTwice(part) : []),
    ]),
  ];
}

/** A name that several opened folders have. */
export function ambiguousName({ document, name, place }: Unresolved, parts: readonly PartNode[]): Problem {
  const folders = parts.map((part) => pathTo(document.uri, UriUtils.dirname(URI.parse(namePlace(part).uri))));
  const description = `${name} is in ${listed(folders, 'and')}: open one of them with \`as\` and write its name before ${name}`;
  const related = parts.map((part) => ({
    message: `${withArticle(part.kind)} ${name} is here`,
    place: namePlace(part),
  }));
  return problem('duplicate', description, place, [], related);
}

/** Parts of one kind and name in one folder. The first one, in order of file and line, is the one that is used. */
function partTwice(document: LangiumDocument, lookup: Lookup, part: PartNode): Problem[] {
  if (!part.name) return [];
  const folder = keyOf(UriUtils.dirname(document.uri));
  const first = lookup.index.inFolder(folder, part.name).find((entry) => entry.kind === part.kind)?.part;
  if (!first || first === part) return [];
  const where = first.$container === part.$container ? 'this file' : 'this folder';
  return [twice(part, first, `there is ${withArticle(part.kind)} ${part.name} in ${where} already`)];
}

/**
 * Second names of a build, and packs: each line is a choice that others must be able to name. Two boards of one kind may go without
 * second names as long as nobody needs to distinguish them.
 */
function nameTwice(build: PartNode): Problem[] {
  const entries = entriesOfBuild(build);
  const groups = [['pack'], ['esc', 'regulator']];
  return groups.flatMap((words) => {
    const seen = new Map<string, LineEntry>();
    const problems: Problem[] = [];
    for (const entry of entries) {
      if (!words.includes(entry.word) || !standsForSomething(entry)) continue;
      const first = seen.get(entry.name);
      if (!first) seen.set(entry.name, entry);
      else if (entry.build === build && (words.includes('pack') || hasAlias(entry) || hasAlias(first))) {
        problems.push(
          twice(
            nameNode(entry),
            nameNode(first),
            `${entry.name} is the name of another line already: give this one a name of its own with \`as\``,
          ),
        );
      }
    }
    return problems;
  });
}

/** A name that is itself unknown has its own finding. */
function standsForSomething(entry: LineEntry): boolean {
  return entry.name !== '' && (hasAlias(entry) || namedPart(entry.line) !== undefined);
}

function hasAlias(entry: LineEntry): boolean {
  return entry.line.clauses.some(isAlias);
}

function nameNode(entry: LineEntry): AstNode {
  return entry.line.clauses.find(isAlias) ?? namedOf(entry.line) ?? entry.line;
}

/**
 * What is reported of each one whose key another one has already.
 * @param before come earlier, and are not reported themselves
 */
export function repeated<T>(
  all: readonly T[],
  keyOf: (one: T) => string | undefined,
  report: (one: T, first: T) => Problem,
  before: readonly T[] = [],
): Problem[] {
  const seen = new Map(before.map((one) => [keyOf(one), one]));
  return all.flatMap((one) => {
    const key = keyOf(one);
    if (!key) return [];
    const first = seen.get(key);
    if (!first) seen.set(key, one);
    return first ? [report(one, first)] : [];
  });
}

/** A line that counts once, each after the first. */
export function lineTwice(line: PropertyNode, first: PropertyNode, message: string): Problem {
  const fix = replace(wholeLineOf(line), '', 'take this line out');
  return problem(
    'duplicate',
    message,
    placeOfFeature(line, 'key'),
    [fix],
    [{ message: 'stated here first', place: placeOfFeature(first, 'key') }],
  );
}

function twice(node: AstNode, first: AstNode, message: string): Problem {
  return problem('duplicate', message, namePlace(node), [], [{ message: 'the first one', place: namePlace(first) }]);
}
