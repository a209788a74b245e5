/** What is wrong with the names in a document: as data, each with what was probably meant. */
import { type CstNode, type LangiumDocument, URI, UriUtils } from 'langium';
import {
  type File,
  isExpression,
  isNamed,
  isRail,
  isResult,
  isUse,
  isWord,
  type Part,
  type Result,
  type Target,
} from '../../grammar/generated/ast.ts';
import { railsCalled } from '../../resolve/build-around.ts';
import { type FettleLinkingError, lookupOf, referencesIn } from '../../resolve/linker.ts';
import type { Lookup, Missing } from '../../resolve/lookup.ts';
import { type FettleReference, segmentsOf } from '../../resolve/reference.ts';
import { type Role, roleOf } from '../../resolve/role.ts';
import { addUse, pathTo } from '../../resolve/use-lines.ts';
import { MOST_BASES } from '../../syntax/chain.ts';
import { fileOf, namePlace, partAround, partNamed } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import { nameText, partOfTarget, placeOf, placeOfFeature, span } from '../../syntax/source.ts';
import { nearest } from '../../units/nearest.ts';
import { isResultName } from '../../vocabulary/results.ts';
import type { Kind } from '../../vocabulary/schema.ts';
import { meant } from '../../vocabulary/synonyms.ts';
import { DUPLICATE, duplicateProblems } from './duplicate.ts';
import { LIKE_CYCLE } from './like-cycle.ts';
import { article, problem, rewrite } from './problem-text.ts';
import { directionProblem } from './shortlist-problems.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { useProblems } from './use-problems.ts';
import { WRONG_KIND } from './wrong-kind.ts';

/** Empty before the document is linked. */
export function referenceProblems(document: LangiumDocument): Problem[] {
  const lookup = lookupOf(document);
  if (!lookup) return [];
  const file = fileOf(document);
  return [
    ...useProblems(document, lookup),
    ...duplicateProblems(document, lookup),
    ...likeCircles(file),
    ...file.parts.flatMap((part) => likeTooMany(part) ?? []),
    ...onceForEachFix([...unknownNames(document, lookup)]),
  ];
}

/** Names that one and the same edit would mend, such as those of a folder that is not opened, are one slip: reported at the first of them. */
function onceForEachFix(problems: readonly Problem[]): Problem[] {
  const wayOf = ({ fixes }: Problem): string | undefined =>
    fixes?.length === 1 ? JSON.stringify(fixes[0]?.edits) : undefined;
  const reported = new Map<string, number>();
  for (const problem of problems) {
    const way = wayOf(problem);
    if (way !== undefined) reported.set(way, (reported.get(way) ?? 0) + 1);
  }
  return problems.flatMap((problem) => {
    const way = wayOf(problem);
    if (way === undefined) return problem;
    const count = reported.get(way);
    reported.delete(way);
    if (count === undefined) return [];
    const others =
      count === 1 ? '' : ` (so ${count === 2 ? 'is 1 more name' : `are ${count - 1} more names`} of this file)`;
    return { ...problem, message: problem.message + others };
  });
}

/** Choices up to this many are all named. */
const MOST_LISTED = 8;

// ---- names that refer to nothing ----

function* unknownNames(document: LangiumDocument, lookup: Lookup): Iterable<Problem> {
  for (const reference of referencesIn(document.parseResult.value)) {
    if (!reference.$refNode) continue;
    const missing = (reference.error as FettleLinkingError | undefined)?.missing;
    if (!missing || missing.reason === 'dependent') continue;
    const dashed = isResult(reference.container) ? dashedResult(reference.container) : undefined;
    if (dashed) {
      if (dashed.isFirst) yield dashed.problem;
      continue;
    }
    yield new Unresolved(document, lookup, reference, reference.$refNode).problem(missing);
  }
}

/** `hover-time`: a result with dashes is read as a difference of words that are none. */
function dashedResult(node: Result): { readonly isFirst: boolean; readonly problem: Problem } | undefined {
  const expression = node.$container;
  if (!isExpression(expression)) return undefined;
  const { operands, operators } = expression;
  const isJoined = (index: number): boolean => {
    const [left, right] = [operands[index], operands[index + 1]];
    return (
      operators[index] === '-' && isResult(left) && isResult(right) && placeOf(left).end + 1 === placeOf(right).start
    );
  };
  const own = operands.indexOf(node);
  let first = own;
  let last = own;
  while (isJoined(first - 1)) first--;
  while (isJoined(last)) last++;
  const words = operands.slice(first, last + 1).filter(isResult);
  const [head] = words;
  const end = words.at(-1);
  const name = words.map(nameText).join('_');
  if (!head || !end || first === last || !isResultName(name)) return undefined;
  const place = span(placeOf(head), placeOf(end));
  const message = `no such result: ${words.map(nameText).join('-')}; did you mean ${name}?`;
  return { isFirst: node === head, problem: problem(UNKNOWN_NAME, message, place, [rewrite(place, name)]) };
}

class Unresolved {
  readonly #document: LangiumDocument;
  readonly #lookup: Lookup;
  readonly #reference: FettleReference;
  readonly #name: string;
  readonly #place: Place;
  readonly #role: Role;

  constructor(document: LangiumDocument, lookup: Lookup, reference: FettleReference, node: CstNode) {
    this.#document = document;
    this.#lookup = lookup;
    this.#reference = reference;
    this.#name = reference.$refText;
    this.#place = { uri: document.uri.toString(), start: node.offset, end: node.end };
    this.#role = roleOf(reference.container);
  }

  problem(missing: Exclude<Missing, { reason: 'dependent' }>): Problem {
    switch (missing.reason) {
      case 'wrong-kind':
        return this.#wrongKind(missing.found);
      case 'ambiguous':
        return this.#ambiguous(missing.entries.map((entry) => entry.part));
      case 'unknown':
        return this.#elsewhere() ?? this.#unknown();
    }
  }

  #wrongKind(found: Part): Problem {
    const wanted = this.#wantedKinds();
    const expected = wanted ? listed(wanted.map(withArticle), 'or') : 'something else';
    return {
      id: WRONG_KIND.id,
      message: `${this.#name} is ${withArticle(found.kind)}, expected ${expected}${this.#hint()}`,
      place: this.#place,
      fixes: this.#replacements(),
      related: [{ message: `${this.#name} is declared here`, place: namePlace(found) }],
    };
  }

  #ambiguous(parts: readonly Part[]): Problem {
    const folders = parts.map((part) => pathTo(this.#document.uri, UriUtils.dirname(URI.parse(namePlace(part).uri))));
    return {
      id: DUPLICATE.id,
      message: `${this.#name} is in ${listed(folders, 'and')}: open one of them with \`as\` and write its name before ${this.#name}`,
      place: this.#place,
      related: parts.map((part) => ({
        message: `${withArticle(part.kind)} ${this.#name} is here`,
        place: namePlace(part),
      })),
    };
  }

  /** It exists, in a folder that is not opened. */
  #elsewhere(): Problem | undefined {
    const kinds = this.#wantedKinds();
    if (this.#role.sort !== 'part' || this.#before() || !kinds) return undefined;
    // Files of another file system, or of a text that is not saved yet, cannot be opened from here.
    const { scheme } = this.#document.uri;
    const entries = this.#lookup.index
      .everywhere(this.#name)
      .filter((entry) => kinds.includes(entry.kind) && entry.file.startsWith(`${scheme}:`));
    const [first] = entries;
    if (!first) return undefined;
    const folders = [...new Set(entries.map((entry) => entry.folder))].map((folder) => URI.parse(folder));
    return {
      id: UNKNOWN_NAME.id,
      message: `no such ${first.kind} here: ${this.#name} is in ${pathTo(this.#document.uri, URI.parse(first.file))}, which this file does not open`,
      place: this.#place,
      fixes: folders.slice(0, 3).map((folder) => addUse(this.#document, folder)),
      related: [{ message: `${this.#name} is declared here`, place: namePlace(first.part) }],
    };
  }

  #unknown(): Problem {
    const { container } = this.#reference;
    const directed = isNamed(container) ? directionProblem(container) : undefined;
    if (directed) return directed;
    return {
      id: UNKNOWN_NAME.id,
      message: `${this.#complaint()}${this.#hint()}`,
      place: this.#place,
      fixes: this.#replacements(),
    };
  }

  #complaint(): string {
    const before = this.#before();
    if (before) return this.#complaintAfter(before);
    switch (this.#role.sort) {
      case 'part':
        if (this.#isVaried()) return `no such part or figure: ${this.#name}`;
        return this.#reference.container.dots.length > 0
          ? `nothing is opened as ${this.#name}`
          : `no such ${this.#role.kinds.length === 1 ? this.#role.kinds[0] : 'part'}: ${this.#name}`;
      case 'feed':
        return `no board or regulator called ${this.#name} in this build`;
      case 'rail':
        return `no rail called ${this.#name} in this esc`;
      case 'option':
        return `no pack called ${this.#name} in this build`;
      case 'inherited':
        return this.#nothingToTakeAway();
      case 'result':
        return this.#isCall() ? `no such function: ${this.#name}` : `no such result: ${this.#name}`;
      case 'choice':
        return `no such ${this.#role.of}: ${this.#name}`;
      case 'word':
        return `no such word: ${this.#name}`;
    }
  }

  #complaintAfter(before: FettleReference): string {
    const target = before.ref;
    const named = before.$refText;
    if (isUse(target)) return `no such ${this.#wantedKinds()?.join(' or ') ?? 'part'} in ${named}: ${this.#name}`;
    if (isWord(target) && target.name === 'rail' && this.#role.sort === 'result')
      return `no rail called ${this.#name} in this build`;
    if (isRail(target))
      return this.#role.sort === 'result'
        ? `no such result of a rail: ${this.#name}`
        : `${named} is a rail; nothing comes after it`;
    if (isWord(target)) return `nothing comes after ${named}`;
    const part = partOfTarget(target as Target | undefined);
    if (part?.kind === 'regulator') {
      return this.#role.sort === 'result'
        ? `no such result of a rail: ${this.#name}`
        : `${named} is a regulator: it has one output and no rails`;
    }
    if (part?.kind === 'esc') return `${named} has no rail ${this.#name}`;
    return `nothing comes after ${named}`;
  }

  #nothingToTakeAway(): string {
    const build = partAround(this.#reference.container);
    const base = build && partNamed(build.base);
    return base?.name
      ? `nothing called ${this.#name} comes from ${base.name}`
      : 'this build is like no other, so there is nothing to take away';
  }

  /** The reference before the dot. */
  #before(): FettleReference | undefined {
    const segments = segmentsOf(this.#reference.container);
    return segments[segments.indexOf(this.#reference) - 1];
  }

  /** `vary:` takes parts of several kinds, and figures of them. */
  #isVaried(): boolean {
    return this.#role.sort === 'part' && this.#role.words !== undefined && this.#role.kinds.length > 1;
  }

  #isCall(): boolean {
    const { container } = this.#reference;
    return 'call' in container && container.call;
  }

  #wantedKinds(): readonly Kind[] | undefined {
    if (this.#role.sort === 'part') return this.#role.kinds;
    if (this.#role.sort === 'feed') return ['esc', 'regulator'];
    return this.#role.sort === 'option' ? ['pack'] : undefined;
  }

  #hint(): string {
    const meant = this.#meant();
    if (meant.length > 0) return `; did you mean ${listed(meant, 'or')}?`;
    const choices = this.#choices();
    return choices.length > 0 && choices.length <= MOST_LISTED ? `; known here: ${choices.join(', ')}` : '';
  }

  #meant(): string[] {
    // A rail without its board.
    const full = this.#role.sort === 'feed' && !this.#before() ? railsCalled(this.#reference) : [];
    return full.length > 0 ? full.slice(0, 2) : this.#near();
  }

  /** Names that people gave are no words of the trade: they are only compared letter by letter. */
  #near(): string[] {
    const isWord =
      (this.#role.sort === 'result' && !this.#isCall()) ||
      this.#role.sort === 'choice' ||
      this.#role.sort === 'word' ||
      this.#isVaried();
    return isWord ? meant(this.#name, this.#candidates(), 2) : nearest(this.#name, this.#candidates(), 2);
  }

  /** Few enough to list them all: rails of a board, packs of a build, words of a property. Never parts: a folder has hundreds. */
  #choices(): string[] {
    if (this.#role.sort === 'part') return [...(this.#role.words ?? [])];
    return this.#role.sort === 'result' && !this.#before() ? [] : this.#candidates();
  }

  #candidates(): string[] {
    if (this.#isCall()) return ['min', 'max'];
    const names = [...this.#lookup.candidates(this.#reference)].map((candidate) => candidate.name);
    // Without brackets behind it no function is meant.
    const isFunction = (name: string) => this.#role.sort === 'result' && (name === 'min' || name === 'max');
    return [...new Set(names)].filter((name) => name !== this.#name && !isFunction(name));
  }

  #replacements(): ProblemFix[] {
    return this.#meant().map((name) => ({
      title: `change to ${name}`,
      edits: [{ place: this.#place, newText: name }],
    }));
  }
}

// ---- like in a circle ----

/** Each way is walked once, however many parts lead into it. */
function likeCircles({ parts }: File): Problem[] {
  const seen = new Set<Part>();
  return parts.flatMap((part) => {
    const way = new Set<Part>();
    let next: Part | undefined = part;
    for (; next && !seen.has(next); next = partNamed(next.base)) {
      seen.add(next);
      way.add(next);
    }
    if (!next || !way.has(next)) return [];
    const walked = [...way];
    return circleProblem(walked.slice(walked.indexOf(next)), parts) ?? [];
  });
}

/** Members of a circle that are named. */
const MOST_MEMBERS = 8;

/** One finding for a circle, at the part that comes first in it. */
function circleProblem(members: readonly Part[], own: readonly Part[]): Problem | undefined {
  const first = members.reduce((left, right) => (isBefore(namePlace(right), namePlace(left)) ? right : left));
  if (!own.includes(first)) return undefined;
  const start = members.indexOf(first);
  const circle = [...members.slice(start), ...members.slice(0, start)];
  const names = circle.map((member) => member.name ?? member.kind);
  const others = [...names.slice(1), names[0]];
  const shown = others.length > MOST_MEMBERS ? [...others.slice(0, MOST_MEMBERS - 1), '…', names[0]] : others;
  const way = shown.map((name) => `is like ${name}`).join(', which ');
  return {
    id: LIKE_CYCLE.id,
    message: `${names[0]} ${way}: none of them declares its own figures`,
    place: placeOfFeature(first, 'base'),
    related: circle
      .slice(1, MOST_MEMBERS + 1)
      .map((member) => ({ message: `${member.name} is part of the circle`, place: namePlace(member) })),
  };
}

/** Reported where the chain gets too long, not once more at each part behind it. */
function likeTooMany(part: Part): Problem | undefined {
  let bases = 0;
  for (let next = partNamed(part.base); next && bases <= MOST_BASES + 1; next = partNamed(next.base)) bases += 1;
  if (bases !== MOST_BASES + 1) return undefined;
  const description = `${part.name ?? part.kind} is like more than ${MOST_BASES} others in a row: its inheritance is not followed that far, and nothing that depends on it is judged. Let it be like one of the first of them`;
  return { id: LIKE_CYCLE.id, message: description, place: placeOfFeature(part, 'base') };
}

function isBefore(left: Place, right: Place): boolean {
  return left.uri === right.uri ? left.start < right.start : left.uri < right.uri;
}

function withArticle(kind: string): string {
  return `${article(kind)} ${kind}`;
}

function listed(items: readonly string[], joiner: 'and' | 'or'): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} ${joiner} ${items.at(-1)}`;
}
