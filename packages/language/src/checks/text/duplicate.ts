/** Names given twice where both are seen. One finding each, at the later one. */
import { type AstNode, type LangiumDocument, URI, UriUtils } from 'langium';
import { isAlias, isRail, type Part } from '../../grammar/generated/ast.ts';
import { keyOf } from '../../resolve/keys.ts';
import type { Lookup } from '../../resolve/lookup.ts';
import { pathTo } from '../../resolve/use-lines.ts';
import { entriesOfBuild, type Entry as LineEntry, namedPart } from '../../syntax/entries.ts';
import { fileOf, namePlace } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { namedOf } from '../../syntax/source.ts';
import { listed, problem, withArticle } from './problem-text.ts';
import type { TextCheck } from './text-check.ts';
import type { Unresolved } from './unresolved.ts';

export const DUPLICATE: TextCheck = {
  id: 'duplicate',
  severity: 'error',
  find: duplicateProblems,
  page: {
    title: 'Written twice',
    cause:
      'A property twice in one block, or two parts with one name where both are visible: the reference is ambiguous.',
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
      (use) => `something else is opened as ${use.name} already`,
    ),
    ...parts.flatMap((part) => [
      ...partTwice(document, lookup, part),
      ...repeated(
        part.lines.filter(isRail),
        (rail) => rail.name,
        (rail) => `there is a rail ${rail.name} here already`,
      ),
      ...(part.kind === 'build' ? nameTwice(part) : []),
    ]),
  ];
}

/** A name that several opened folders have. */
export function ambiguousName({ document, name, place }: Unresolved, parts: readonly Part[]): Problem {
  const folders = parts.map((part) => pathTo(document.uri, UriUtils.dirname(URI.parse(namePlace(part).uri))));
  const description = `${name} is in ${listed(folders, 'and')}: open one of them with \`as\` and write its name before ${name}`;
  const related = parts.map((part) => ({
    message: `${withArticle(part.kind)} ${name} is here`,
    place: namePlace(part),
  }));
  return problem(DUPLICATE, description, place, [], related);
}

/** Parts of one kind and name in one folder. The first one, in order of file and line, is the one that is used. */
function partTwice(document: LangiumDocument, lookup: Lookup, part: Part): Problem[] {
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
function nameTwice(build: Part): Problem[] {
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

function repeated<T extends AstNode>(
  nodes: readonly T[],
  nameOf: (node: T) => string | undefined,
  message: (node: T) => string,
): Problem[] {
  const seen = new Map<string, T>();
  const problems: Problem[] = [];
  for (const node of nodes) {
    const name = nameOf(node);
    if (!name) continue;
    const first = seen.get(name);
    if (first) problems.push(twice(node, first, message(node)));
    else seen.set(name, node);
  }
  return problems;
}

function twice(node: AstNode, first: AstNode, message: string): Problem {
  return problem(DUPLICATE, message, namePlace(node), [], [{ message: 'the first one', place: namePlace(first) }]);
}
