/** What is wrong with a line that states what a shortlist tries. */
import {
  isNamed,
  isProperty,
  isUnknown,
  type Line,
  type Named,
  type Part as PartNode,
  type Property as PropertyLine,
} from '../../grammar/generated/ast.ts';
import { otherFlights, readShortlist } from '../../model/shortlists.ts';
import { lookupOf } from '../../resolve/linker.ts';
import { isMissing } from '../../resolve/lookup.ts';
import { documentOf, nextOnRow } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { nameText, placeOf, span, textOf } from '../../syntax/source.ts';
import { lookup as table } from '../../units/lookup-table.ts';
import { nearest } from '../../units/nearest.ts';
import { VARIED_KINDS, type VariedKind } from '../../vocabulary/kinds/shortlist-kind.ts';
import { resultOf } from '../../vocabulary/results.ts';
import { MISSING_VALUE } from './missing-value.ts';
import { article, either, problem, replace, rewrite } from './problem-text.ts';
import { SYNTAX } from './syntax.ts';
import { UNKNOWN_NAME } from './unknown-name.ts';
import { WRONG_DIMENSION } from './wrong-dimension.ts';
import { WRONG_KIND } from './wrong-kind.ts';

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
function directionOf(line: Line): Named | undefined {
  if (!isProperty(line) || line.key !== 'prefer' || !isNamed(line.value)) return undefined;
  return line.value.tail.length === 0 && DIRECTIONS[nameText(line.value)] ? line.value : undefined;
}

/** What is written behind a direction on its row, which is the result. */
export function directionProblem(value: Named): Problem | undefined {
  const line = value.$container;
  if (!isProperty(line) || directionOf(line) !== value) return undefined;
  const next = nextOnRow(line);
  const place = placeOf(value);
  const written = next && isUnknown(next) ? textOf(next).trim() : '';
  const { better } = resultOf(written) ?? {};
  if (!next || !better) {
    const description =
      'prefer names a result alone: prefer: hover_time; of each result it is known whether more or less is better';
    return problem(UNKNOWN_NAME, description, place);
  }
  if (better !== DIRECTIONS[nameText(value)]) {
    const [other, sign] = better === 'more' ? ['less', '<='] : ['more', '>='];
    const description = `${other} of ${written} cannot be preferred: of it ${better} is better; a bound reads require ${written} ${sign} …`;
    return problem(UNKNOWN_NAME, description, place);
  }
  const description = `prefer names a result alone: prefer: ${written}; that ${better} of it is better is known`;
  return problem(UNKNOWN_NAME, description, place, [rewrite(span(place, placeOf(next)), written)]);
}

/** Whether what follows the line on its row is reported with it: `prefer: more hover_time`, `vary: pack Mast720_4S`. */
export const isReportedWithRest = (line: Line): boolean =>
  directionOf(line) !== undefined || (isProperty(line) && kindBeforeName(line) !== undefined);

/** `vary: pack Mast720_4S`, `vary: pack: Mast720_4S` */
function kindBeforeName(
  line: PropertyLine,
): { readonly kind: VariedKind; readonly name: string; readonly place: Place } | undefined {
  if (line.key !== 'vary' || line.clauses.length > 0) return undefined;
  const next = nextOnRow(line);
  if (!next) return undefined;
  const isColon = line.value === undefined && isProperty(next) && isNamed(next.value);
  const word = isColon ? next.key : isNamed(line.value) && isUnknown(next) && nameText(line.value);
  const kind = VARIED_KINDS.find((one) => one === word);
  const name = isColon ? nameText(next.value as Named) : textOf(next).trim();
  if (!kind || !/^[\p{L}_][\p{L}\d_.]*$/u.test(name)) return undefined;
  const isJoining = JOINING_WORDS.some((joining) => joining.startsWith(name));
  return isJoining
    ? undefined
    : { kind, name, place: span(placeOf(isColon ? next : (line.value ?? line)), placeOf(next)) };
}

const JOINING_WORDS: readonly string[] = ['in', 'like'];

/** A part is tried by its name, whatever kind it is of. */
function kindProblem(line: PropertyLine): Problem | undefined {
  const { kind, name, place } = kindBeforeName(line) ?? {};
  const document = documentOf(line);
  const lookup = document && lookupOf(document);
  if (!kind || !name || !place || !lookup) return undefined;
  const found = lookup.findPart(document, name, [kind]);
  const alone = 'a part is tried by its name alone';
  if (!isMissing(found)) return problem(SYNTAX, `${alone}: vary: ${name}`, place, [rewrite(place, name)]);
  if (found.reason === 'wrong-kind')
    return problem(
      WRONG_KIND,
      `${name} is ${article(found.found.kind)} ${found.found.kind}, expected ${article(kind)} ${kind}`,
      place,
    );
  const names = [...lookup.partsInScope(document, [kind])].map((one) => one.name);
  const near = nearest(name, names, 2);
  const hint = near.length > 0 ? `did you mean ${either(near)}?` : `${alone}: vary: NAME`;
  return problem(
    UNKNOWN_NAME,
    `no such ${kind}: ${name}; ${hint}`,
    place,
    near.map((one) => replace(place, one)),
  );
}

/** What a shortlist varies, prefers and requires, where that depends on the build and the parts of other files. */
export function shortlistProblems(shortlist: PartNode): Problem[] {
  const read = readShortlist(shortlist);
  return [
    ...read.vary.flatMap(({ line, wrong }) => {
      const kind = kindProblem(line);
      if (kind) return kind;
      return wrong ? problem(CHECKS[wrong.sort], wrong.message, wrong.place) : [];
    }),
    ...otherFlights(read).map(({ message, place }) => problem(UNKNOWN_NAME, message, place)),
  ];
}

/** Of a wrong line, by what is wrong; an unresolved name in it is reported where names are resolved. */
const CHECKS = { value: MISSING_VALUE, dimension: WRONG_DIMENSION, name: UNKNOWN_NAME };
