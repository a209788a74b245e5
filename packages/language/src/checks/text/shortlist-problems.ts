/** What is wrong with a line that states what a shortlist tries. */
import {
  isNamedNode,
  isPropertyNode,
  isUnknownNode,
  type Line,
  type NamedNode,
  type PartNode,
  type PropertyNode,
} from '../../grammar/generated/ast.ts';
import { otherFlights, readShortlist, type Shortlist } from '../../model/shortlists.ts';
import { lookupOf } from '../../resolve/linker.ts';
import { isMissing } from '../../resolve/lookup.ts';
import { documentOf, nextOnRow } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, placeOf, span, textOf } from '../../syntax/source.ts';
import { lookup as table } from '../../units/lookup-table.ts';
import { nearest } from '../../units/nearest.ts';
import { VARIED_KINDS, type VariedKind } from '../../vocabulary/kinds/shortlist-kind.ts';
import { article } from '../../vocabulary/phrasing.ts';
import { resultOf } from '../../vocabulary/results.ts';
import { lineTwice, repeated } from './duplicate.ts';
import { problem, rewrite } from './problem-words.ts';
import { noSuch } from './unknown-name.ts';

const DIRECTIONS: Readonly<Record<string, 'more' | 'less'>> = table({
  more: 'more',
  most: 'more',
  higher: 'more',
  highest: 'more',
  max: 'more',
  maximum: 'more',
  maximize: 'more',
  longer: 'more',
  longest: 'more',
  larger: 'more',
  largest: 'more',
  less: 'less',
  least: 'less',
  fewer: 'less',
  lower: 'less',
  lowest: 'less',
  min: 'less',
  minimum: 'less',
  minimize: 'less',
  smaller: 'less',
  smallest: 'less',
});

/** `prefer: more hover_time`: the word before the result, where there is one that states a direction. */
function directionOf(line: Line): NamedNode | undefined {
  if (!isPropertyNode(line) || line.key !== 'prefer' || !isNamedNode(line.value)) return undefined;
  return line.value.tail.length === 0 && DIRECTIONS[nameText(line.value)] ? line.value : undefined;
}

/** What is written behind a direction on its row, which is the result. */
export function directionProblem(value: NamedNode): Problem | undefined {
  const line = value.$container;
  if (!isPropertyNode(line) || directionOf(line) !== value) return undefined;
  const next = nextOnRow(line);
  const place = placeOf(value);
  const written = next && isUnknownNode(next) ? textOf(next).trim() : '';
  const { better } = resultOf(written) ?? {};
  if (!next || !better) {
    const description =
      'prefer names a result alone: prefer: hover_time; of each result it is known whether more or less is better';
    return problem('unknown-name', description, place);
  }
  if (better !== DIRECTIONS[nameText(value)]) {
    const [other, sign] = better === 'more' ? ['less', '<='] : ['more', '>='];
    const description = `${other} of ${written} cannot be preferred: of it ${better} is better; a bound reads require ${written} ${sign} …`;
    return problem('unknown-name', description, place);
  }
  const description = `prefer names a result alone: prefer: ${written}; that ${better} of it is better is known`;
  return problem('unknown-name', description, place, [rewrite(span(place, placeOf(next)), written)]);
}

/** Whether what follows the line on its row is reported with it: `prefer: more hover_time`, `vary: pack Mast720_4S`. */
export const isReportedWithRest = (line: Line): boolean =>
  directionOf(line) !== undefined || (isPropertyNode(line) && kindBeforeName(line) !== undefined);

/** `vary: pack Mast720_4S`, `vary: pack: Mast720_4S` */
function kindBeforeName(
  line: PropertyNode,
): { readonly kind: VariedKind; readonly name: string; readonly place: Place } | undefined {
  if (line.key !== 'vary' || line.clauses.length > 0) return undefined;
  const next = nextOnRow(line);
  if (!next) return undefined;
  const behindColon =
    line.value === undefined && isPropertyNode(next) && isNamedNode(next.value)
      ? { word: next.key, name: nameText(next.value) }
      : undefined;
  const word = behindColon ? behindColon.word : isNamedNode(line.value) && isUnknownNode(next) && nameText(line.value);
  const kind = VARIED_KINDS.find((one) => one === word);
  const name = behindColon ? behindColon.name : textOf(next).trim();
  if (!kind || !/^[\p{L}_][\p{L}\d_.]*$/u.test(name)) return undefined;
  const isJoining = JOINING_WORDS.some((joining) => joining.startsWith(name));
  return isJoining
    ? undefined
    : { kind, name, place: span(placeOf(behindColon ? next : (line.value ?? line)), placeOf(next)) };
}

const JOINING_WORDS: readonly string[] = ['in', 'like'];

/** A part is tried by its name, whatever kind it is of. */
function kindProblem(line: PropertyNode): Problem | undefined {
  const { kind, name, place } = kindBeforeName(line) ?? {};
  const document = documentOf(line);
  const lookup = document && lookupOf(document);
  if (!kind || !name || !place || !lookup) return undefined;
  const found = lookup.findPart(document, name, [kind]);
  const alone = 'a part is tried by its name alone';
  if (!isMissing(found)) return problem('syntax', `${alone}: vary: ${name}`, place, [rewrite(place, name)]);
  if (found.reason === 'wrong-kind')
    return problem(
      'wrong-kind',
      `${name} is ${article(found.found.kind)} ${found.found.kind}, expected ${article(kind)} ${kind}`,
      place,
    );
  const names = [...lookup.partsInScope(document, [kind])].map((one) => one.name);
  return noSuch(kind, name, place, nearest(name, names, 2), `${alone}: vary: NAME`);
}

/** What a shortlist varies, prefers and requires, where that depends on the build and the parts of other files. */
export function shortlistProblems(shortlist: PartNode): Problem[] {
  const read = readShortlist(shortlist);
  return [
    ...read.vary.flatMap(({ line, wrong }) => {
      const kind = kindProblem(line);
      if (kind) return kind;
      return wrong ? problem(wrong.id, wrong.message, wrong.place) : [];
    }),
    ...otherFlights(read).map(({ message, place }) => problem('unknown-name', message, place)),
    ...repeatedLines(shortlist, read.vary),
  ];
}

/** Lines that try or prefer what an earlier one does. A figure cannot have two ranges, one of them its base’s; what a base prefers may be put first. */
function repeatedLines(shortlist: PartNode, vary: Shortlist['vary']): Problem[] {
  const preferred = shortlist.lines.filter(isPropertyNode).flatMap((line) => {
    const isPreferred = line.key === 'prefer' && !directionOf(line);
    const name = isPreferred && isNamedNode(line.value) ? nameText(line.value) : undefined;
    return name ? [{ line, key: `prefer ${name}`, message: `${name} is preferred already` }] : [];
  });
  const tried = vary.flatMap(({ line, varied }) => {
    if (varied?.of === 'figure') {
      const message = `${varied.words} has a range already: state one for all that is to be tried`;
      return [{ line, key: `vary ${varied.words}`, message }];
    }
    const written = textOf(line).replace(/\s+/g, ' ');
    return varied ? [{ line, key: written, message: `\`${written}\` is stated already` }] : [];
  });
  const isOwn = ({ line }: { readonly line: PropertyNode }) => line.$container === shortlist;
  return repeated(
    [...preferred, ...tried.filter(isOwn)],
    ({ key }) => key,
    ({ line, message }, first) => lineTwice(line, first.line, message),
    tried.filter((one) => !isOwn(one)),
  );
}
