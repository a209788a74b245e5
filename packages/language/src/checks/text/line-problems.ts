/** Checks of lines as such: words nobody knows, lines in the wrong block, lines written twice. */

import { type AstNode, GrammarUtils } from 'langium';
import {
  type Alias,
  isFigureNode,
  isKeep,
  isPartNode,
  isPropertyNode,
  isRailNode,
  isRequire,
  isRows,
  isUnknownNode,
  type Line,
  type PartNode,
  type PropertyNode,
  type RailNode,
  type UnknownNode,
  type UseNode,
} from '../../grammar/generated/ast.ts';
import { PART_WORDS, SENTENCE_WORDS } from '../../grammar/reserved-words.ts';
import { propertiesTaking } from '../../model/intent.ts';
import { isOnSameRow } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, placeOfKeyword, span, textOf } from '../../syntax/source.ts';
import { describe, equal, NONE } from '../../units/dimension.ts';
import { lookup } from '../../units/lookup-table.ts';
import { parseUnit } from '../../units/parse.ts';
import { article, didYouMean, either } from '../../vocabulary/phrasing.ts';
import type { BlockKind, BlockSchema, Property } from '../../vocabulary/schema.ts';
import { homesOf, meant, oursAmong } from '../../vocabulary/synonyms.ts';
import { endsUnquoted } from './clause-problems.ts';
import { continuedProblem } from './continued-lines.ts';
import { lineTwice, repeated } from './duplicate.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import { commaInRequire } from './requirement-problems.ts';
import { isReportedWithRest } from './shortlist-problems.ts';

/** A property that this kind does not have. */
export function unknownProperty(line: PropertyNode, schema: BlockSchema): Problem | undefined {
  const place = placeOfFeature(line, 'key');
  const before = siblingsOf(line)[siblingsOf(line).indexOf(line) - 1];
  if (before && isUnknownNode(before) && severalWords(before, schema)) return undefined;
  if (before && isOnSameRow(before, line) && isReportedWithRest(before)) return undefined;
  const needless = needlessColon(line, schema);
  if (needless) return needless;
  const near = meant(line.key, Object.keys(schema.properties));
  const taking = near.length > 0 ? [] : propertiesTaking(line, schema);
  return problem(
    'unknown-name',
    `${inBlock(schema.kind)} has no ${line.key}${didYouMean(near) || whatTakes(line, taking) || elsewhere(line.key)}`,
    place,
    [...near, ...(taking.length === 1 ? taking.map(({ name }) => name) : [])].map((name) => replace(place, name)),
  );
}

/** `require: hover_time >= 4 min`, `pack: Mast1050_4S duty: 80 %`: only properties have a colon. */
function needlessColon(line: PropertyNode, schema: BlockSchema): Problem | undefined {
  if (!isWordWithoutColon(line, schema)) return undefined;
  const fix = rewrite(placeOfKeyword(line, ':'), '', 'take the colon out');
  return problem('syntax', `no colon after ${line.key}`, placeOfFeature(line, 'key'), [fix]);
}

/** A word that begins a sentence, or a clause of the line before on its row. */
function isWordWithoutColon(line: PropertyNode, schema: BlockSchema): boolean {
  if (SENTENCE_WORDS.has(line.key)) return SENTENCE_BLOCKS[line.key]?.includes(schema.kind) ?? true;
  const siblings = siblingsOf(line);
  const before = siblings[siblings.indexOf(line) - 1];
  if (!before || !isPropertyNode(before) || !isOnSameRow(before, line)) return false;
  return Object.hasOwn(schema.properties[before.key]?.clauses ?? {}, line.key);
}

/** What comes after a colon that should not be there is explained by it. */
function isBehindNeedlessColon(line: Line, schema: BlockSchema | undefined): boolean {
  return (
    schema !== undefined &&
    isPropertyNode(line) &&
    !Object.hasOwn(schema.properties, line.key) &&
    isWordWithoutColon(line, schema)
  );
}

/** Of a word that is like none: those that take what comes after it. `current: 38 A` may be `continuous`, `burst` or `max`. */
function whatTakes({ value }: PropertyNode, taking: readonly Property[]): string {
  const { unit } = parseUnit((isFigureNode(value) && value.unit) || '');
  if (!unit || taking.length === 0) return '';
  const what = equal(unit.dimension, NONE) ? `a value in ${unit.name}` : describe(unit.dimension);
  return `; ${what} goes under ${either(taking.map(({ name }) => name))}`;
}

/** `an esc`, `a rail`. */
function inBlock(kind: BlockKind): string {
  return kind === 'rules' || kind === 'observed' ? `${article(kind)} ${kind} block` : `${article(kind)} ${kind}`;
}

/** Of a word that other blocks have: `kv` in a build belongs to a motor. */
function elsewhere(word: string): string {
  const homes = homesOf(word).filter(({ kind }, index, all) => index === all.findIndex((home) => home.kind === kind));
  if (homes.length === 0 || homes.length > MOST_HOMES) return '';
  const called = homes.map(({ ours, kind }) => `${ours === word ? 'it' : ours} belongs in ${inBlock(kind)}`);
  return `; ${either(called)}`;
}

/** More blocks than this do not help. */
const MOST_HOMES = 2;

/** Every line after the first with a word that counts once. */
export function duplicateProblems(lines: readonly Line[], schema: BlockSchema): Problem[] {
  const countsOnce = ({ key }: PropertyNode) => schema.properties[key] && !schema.properties[key].repeats;
  return repeated(
    lines.filter(isPropertyNode).filter(countsOnce),
    ({ key }) => key,
    (line, first) => lineTwice(line, first, `${line.key} is written twice; the first one counts`),
  );
}

/** Sentences that only some blocks take, by the word they begin with. */
const SENTENCE_BLOCKS: Readonly<Record<string, readonly BlockKind[]>> = lookup({
  require: ['build', 'rules', 'shortlist'],
  keep: ['build', 'rules'],
  raise: ['build', 'rules'],
  lower: ['build', 'rules'],
  accept: ['build'],
  observed: ['build'],
  rail: ['esc'],
  rows: ['bench'],
  log: ['observed'],
});

export function misplacedProblem(line: Line, kind: BlockKind): Problem | undefined {
  if (isPropertyNode(line) || isUnknownNode(line)) return undefined;
  const word = /^\w+/.exec(textOf(line))?.[0] ?? '';
  const blocks = SENTENCE_BLOCKS[word];
  if (!blocks || blocks.includes(kind)) return undefined;
  const place = { ...placeOf(line), end: placeOf(line).start + word.length };
  const homes = either(blocks.map(inBlock));
  return problem('wrong-kind', `${word} belongs in ${homes}, not in ${inBlock(kind)}`, place);
}

// ---- lines that begin with no known word ----

/** `schema`: of the block around; none at the top of the file. `before`: the line before it in the same block. */
export function unknownLineProblem(
  line: UnknownNode,
  schema: BlockSchema | undefined,
  before: Line | undefined,
): Problem | undefined {
  const [first] = line.words;
  // A brace without a word before it: the structure's own check has reported it.
  if (first === undefined) return undefined;
  const place = placeOfFeature(line, 'words');
  const together = schema && severalWords(line, schema);
  if (together) return together;
  if (before && isOnSameRow(before, line)) {
    if (isReportedWithRest(before)) return undefined;
    const continued = continuedProblem(before, line, schema);
    if (continued || isExplained(before) || isBehindNeedlessColon(before, schema)) return continued;
  }
  if (first === ':') return problem('syntax', 'a word is missing before the colon', place);
  const known = schema && Object.hasOwn(schema.properties, first) ? first : undefined;
  if (known !== undefined) return doubledWord(line, known, place) ?? missingColon(line, known, place);
  const joining = before && isOnSameRow(before, line) ? joiningWordMeant(first, before, schema) : [];
  if (joining.length > 0) return misspelt(line, joining, place, schema);
  const candidates = line.block ? blockWords(schema) : lineWords(schema);
  const near = meant(first, candidates, 2);
  if (near.length > 0) return misspelt(line, near, place, schema);
  const where = schema ? `in ${inBlock(schema.kind)}` : 'here';
  return problem('unknown-name', `${first} means nothing ${where}${elsewhere(first)}`, place);
}

/** `max current: 6.2 A`: one thing in several words, as data sheets print it; only the last of them is before the colon. */
function severalWords(line: UnknownNode, schema: BlockSchema): Problem | undefined {
  const siblings = siblingsOf(line);
  const next = siblings[siblings.indexOf(line) + 1];
  if (line.block || !next || !isPropertyNode(next) || !isOnSameRow(line, next)) return undefined;
  // As it was written: a former name has been replaced by the present one.
  const key = GrammarUtils.findNodeForProperty(next.$cstNode, 'key')?.text ?? next.key;
  const words = [...line.words, key];
  const one = words.join('_').toLowerCase();
  const has = (name: string) => Object.hasOwn(schema.properties, name);
  const ours = has(one) ? [one] : oursAmong(one, has);
  if (ours.length === 0) return undefined;
  const place = span(placeOfFeature(line, 'words'), placeOfFeature(next, 'key'));
  const message = `${inBlock(schema.kind)} has no “${words.join(' ')}”${didYouMean(ours)}`;
  return problem(
    'unknown-name',
    message,
    place,
    ours.map((name) => replace(place, name)),
  );
}

const siblingsOf = (line: Line): readonly Line[] => ('lines' in line.$container ? line.$container.lines : []);

/** `load: Camera form Board35.video`: a clause of the line before, misspelt or still being typed. */
function joiningWordMeant(word: string, before: Line, schema: BlockSchema | undefined): string[] {
  const words = isPropertyNode(before)
    ? [...Object.keys(schema?.properties[before.key]?.clauses ?? {}), ...ORIGINS]
    : (SENTENCE_CLAUSES[before.$type] ?? []);
  const begun = words.filter((candidate) => candidate.startsWith(word));
  return begun.length > 0 ? begun.slice(0, 2) : meant(word, words, 2);
}

const ORIGINS = ['measured', 'claimed', 'estimated'];

const SENTENCE_CLAUSES: Readonly<Partial<Record<Line['$type'], readonly string[]>>> = {
  Require: ['and', 'or', 'with', 'because'],
  Accept: ['below', 'with', 'because'],
  ChangeNode: ['to', 'because'],
  Keep: ['in', 'on'],
  NoteNode: ['for'],
  ObservedNode: ['with'],
};

function blockWords(schema: BlockSchema | undefined): string[] {
  if (!schema) return [...PART_WORDS];
  if (schema.kind === 'build') return ['observed'];
  return schema.kind === 'esc' ? ['rail'] : [];
}

function lineWords(schema: BlockSchema | undefined): string[] {
  if (!schema) return [...PART_WORDS, 'use'];
  const sentences = [...SENTENCE_WORDS].filter((word) => word !== 'use');
  return [...Object.keys(schema.properties), ...sentences];
}

/** `kv kv: 11000 rpm/V`, `kv: 11000 kv` */
function doubledWord(line: UnknownNode, key: string, place: Place): Problem | undefined {
  const siblings = siblingsOf(line);
  const at = siblings.indexOf(line);
  const [before, next] = [siblings[at - 1], siblings[at + 1]];
  const isSame = (other: Line | undefined): other is PropertyNode =>
    other !== undefined && isPropertyNode(other) && other.key === key && isOnSameRow(other, line);
  // With more around it nobody knows which of the two is meant.
  const extra = isSame(next)
    ? { ...place, end: placeOf(next).start }
    : isSame(before) && { ...place, start: placeOf(before).end };
  if (!extra) return undefined;
  const fixes = line.words.length > 1 ? [] : [rewrite(extra, '', `take one ${key} out`)];
  return problem('syntax', `${key} is written twice`, place, fixes);
}

/** `kv 11000 rpm/V`, `kv = 11000 rpm/V` */
function missingColon(line: UnknownNode, key: string, place: Place): Problem {
  const isEquals = line.words[1] === '=';
  const sign = isEquals ? placeOfFeature(line, 'words', 1) : endOf(place);
  const gap = isEquals ? { ...sign, start: place.end } : sign;
  return problem('syntax', `a colon is missing: ${key}: …`, place, [rewrite(gap, ':', `change to ${key}:`)]);
}

function misspelt(line: UnknownNode, near: readonly string[], place: Place, schema: BlockSchema | undefined): Problem {
  const fixes = near.map((word): ProblemFix => {
    const isProperty = schema !== undefined && Object.hasOwn(schema.properties, word);
    const equals = line.words[1] === '=' ? placeOfFeature(line, 'words', 1) : undefined;
    const written = isProperty ? `${word}:` : word;
    return replace(isProperty && equals ? span(place, equals) : place, written);
  });
  return problem('unknown-name', `${line.words[0]} means nothing here${didYouMean(near)}`, place, fixes);
}

/** The sentence before has its own problem, of which this line is a consequence. */
function isExplained(before: Line): boolean {
  if (isKeep(before)) return isFigureNode(before.value) && before.value.unit === 'in';
  if (isRequire(before)) return before.condition === undefined || commaInRequire(before) !== undefined;
  if (isRows(before)) return before.columns.at(-1)?.unit === undefined;
  return 'clauses' in before && endsUnquoted(before.clauses);
}

/**
 * `motor M1103-8000kv { … }`: a dash is a minus elsewhere. Whoever names the part in this file is corrected with it.
 * @param names every name written in the file, with its place.
 */
export function dashedName(
  node: PartNode | RailNode | Alias | UseNode,
  names: ReadonlyMap<string, readonly Place[]>,
): Problem | undefined {
  const { name } = node;
  if (name === undefined || !name.includes('-')) return undefined;
  const place = placeOfFeature(node, 'name');
  const written = name.replaceAll('-', '_');
  const edits = [place, ...(names.get(name) ?? [])].map((one) => ({ place: one, newText: written }));
  return problem('syntax', `a name has letters, digits and _: ${written}`, place, [
    { title: `change to ${written}`, edits },
  ]);
}

/** `motor {`, `rail {`: nobody can refer to what has no name. */
export function missingName(node: AstNode): Problem | undefined {
  if (isPartNode(node) && node.name === undefined && node.block) {
    return problem('missing-value', `a name is missing: ${node.kind} Name { … }`, placeOfFeature(node, 'kind'));
  }
  if (isPartNode(node) && !node.base && GrammarUtils.findNodeForKeyword(node.$cstNode, 'like')) {
    return problem(
      'missing-value',
      `like what? the name of ${article(node.kind)} ${node.kind} comes next`,
      placeOfKeyword(node, 'like'),
    );
  }
  if (isRailNode(node) && node.name === undefined && node.block) {
    const place = placeOf(node);
    return problem('missing-value', 'a name is missing: rail Name { … }', {
      ...place,
      end: place.start + 'rail'.length,
    });
  }
  return undefined;
}
