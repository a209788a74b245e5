/** Checks of lines as such: words nobody knows, lines in the wrong block, lines written twice. */

import { type AstNode, GrammarUtils } from 'langium';
import {
  type Alias,
  isAccept,
  isFigure,
  isKeep,
  isPart,
  isProperty,
  isRail,
  isRequire,
  isRows,
  isUnknown,
  type Line,
  type Part,
  type Property as PropertyLine,
  type Rail,
  type Unknown,
  type Use,
} from '../../grammar/generated/ast.ts';
import { KINDS, SENTENCE_WORDS } from '../../grammar/reserved-words.ts';
import { dimensionsOf } from '../../model/figures.ts';
import { propertiesTaking } from '../../model/intent.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem, ProblemFix } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, placeOfKeyword, span, textOf, wholeLineOf } from '../../syntax/source.ts';
import { describe, equal, NONE } from '../../units/dimension.ts';
import { lookup } from '../../units/lookup-table.ts';
import { parseUnit } from '../../units/parse.ts';
import type { BlockKind, BlockSchema, Property } from '../../vocabulary/schema.ts';
import { homesOf, meant } from '../../vocabulary/synonyms.ts';
import { endsUnquoted } from './clause-problems.ts';
import { article, either, problem, replace, rewrite } from './problem-text.ts';
import { spaced } from './quantity-problems.ts';
import { commaInRequire } from './requirement-problems.ts';
import { isWritten } from './written.ts';

/** A property that this kind does not have. */
export function unknownProperty(line: PropertyLine, schema: BlockSchema): Problem {
  const place = placeOfFeature(line, 'key');
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
function needlessColon(line: PropertyLine, schema: BlockSchema): Problem | undefined {
  if (!isWordWithoutColon(line, schema)) return undefined;
  const fix = rewrite(placeOfKeyword(line, ':'), '', 'take the colon out');
  return problem('syntax', `no colon after ${line.key}`, placeOfFeature(line, 'key'), [fix]);
}

/** A word that begins a sentence, or a clause of the line before on its row. */
function isWordWithoutColon(line: PropertyLine, schema: BlockSchema): boolean {
  if (SENTENCE_WORDS.has(line.key)) return SENTENCE_BLOCKS[line.key]?.includes(schema.kind) ?? true;
  const siblings = 'lines' in line.$container ? (line.$container.lines as Line[]) : [];
  const before = siblings[siblings.indexOf(line) - 1];
  if (!before || !isProperty(before) || !isOnSameRow(before, line)) return false;
  return Object.hasOwn(schema.properties[before.key]?.clauses ?? {}, line.key);
}

/** What comes after a colon that should not be there is explained by it. */
function isBehindNeedlessColon(line: Line, schema: BlockSchema | undefined): boolean {
  return (
    schema !== undefined &&
    isProperty(line) &&
    !Object.hasOwn(schema.properties, line.key) &&
    isWordWithoutColon(line, schema)
  );
}

/** Of a word that is like none: those that take what comes after it. `current: 38 A` may be `continuous`, `burst` or `max`. */
function whatTakes({ value }: PropertyLine, taking: readonly Property[]): string {
  const { unit } = parseUnit((isFigure(value) && value.unit) || '');
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

function didYouMean(near: readonly string[]): string {
  return near.length > 0 ? `; did you mean ${either(near)}?` : '';
}

/** Every line after the first with a word that counts once. */
export function duplicateProblems(lines: readonly Line[], schema: BlockSchema): Problem[] {
  const first = new Map<string, Place>();
  const problems: Problem[] = [];
  for (const line of lines.filter(isProperty)) {
    const property = schema.properties[line.key];
    if (!property || property.repeats) continue;
    const place = placeOfFeature(line, 'key');
    const earlier = first.get(line.key);
    if (!earlier) {
      first.set(line.key, place);
      continue;
    }
    const description = `${line.key} is written twice; the first one counts`;
    const fix = replace(wholeLineOf(line), '', 'take this line out');
    problems.push(problem('duplicate', description, place, [fix], [{ message: 'said here first', place: earlier }]));
  }
  return problems;
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
  if (isProperty(line) || isUnknown(line)) return undefined;
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
  line: Unknown,
  schema: BlockSchema | undefined,
  before: Line | undefined,
): Problem | undefined {
  const [first] = line.words;
  // A brace without a word before it: the structure's own check has reported it.
  if (first === undefined) return undefined;
  const place = placeOfFeature(line, 'words');
  if (before && isOnSameRow(before, line)) {
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

/** `load: Camera form Board35.video`: a clause of the line before, misspelt or still being typed. */
function joiningWordMeant(word: string, before: Line, schema: BlockSchema | undefined): string[] {
  const words = isProperty(before)
    ? [...Object.keys(schema?.properties[before.key]?.clauses ?? {}), ...ORIGINS]
    : (SENTENCE_CLAUSES[before.$type] ?? []);
  const begun = words.filter((candidate) => candidate.startsWith(word));
  return begun.length > 0 ? begun.slice(0, 2) : meant(word, words, 2);
}

const ORIGINS = ['measured', 'claimed', 'estimated'];

const SENTENCE_CLAUSES: Readonly<Partial<Record<Line['$type'], readonly string[]>>> = {
  Require: ['and', 'or', 'with', 'because'],
  Accept: ['below', 'with', 'because'],
  Change: ['to', 'because'],
  Keep: ['in', 'on'],
  Note: ['for'],
  Observed: ['with'],
};

/** Whether words follow on its row that could not be read as part of it: what seems to be missing may be among them. */
export function isUnfinished(line: Line): boolean {
  const siblings = 'lines' in line.$container ? line.$container.lines : [];
  const next = siblings[siblings.indexOf(line) + 1];
  return isUnknown(next) && isOnSameRow(line, next);
}

function isOnSameRow(before: Line, line: Line): boolean {
  return before.$cstNode?.range.end.line === line.$cstNode?.range.start.line;
}

function blockWords(schema: BlockSchema | undefined): string[] {
  if (!schema) return [...KINDS];
  if (schema.kind === 'build') return ['observed'];
  return schema.kind === 'esc' ? ['rail'] : [];
}

function lineWords(schema: BlockSchema | undefined): string[] {
  if (!schema) return [...KINDS, 'use'];
  const sentences = [...SENTENCE_WORDS].filter((word) => word !== 'use');
  return [...Object.keys(schema.properties), ...sentences];
}

/** `kv kv: 11000 rpm/V`, `kv: 11000 kv` */
function doubledWord(line: Unknown, key: string, place: Place): Problem | undefined {
  const siblings = 'lines' in line.$container ? (line.$container.lines as Line[]) : [];
  const at = siblings.indexOf(line);
  const [before, next] = [siblings[at - 1], siblings[at + 1]];
  const isSame = (other: Line | undefined): other is PropertyLine =>
    other !== undefined && isProperty(other) && other.key === key && isOnSameRow(other, line);
  if (!isSame(before) && !isSame(next)) return undefined;
  // With more around it nobody knows which of the two is meant.
  const extra = isSame(next)
    ? { ...place, end: placeOf(next).start }
    : { ...place, start: placeOf(before as Line).end };
  const fixes = line.words.length > 1 ? [] : [rewrite(extra, '', `take one ${key} out`)];
  return problem('syntax', `${key} is written twice`, place, fixes);
}

/** `kv 11000 rpm/V`, `kv = 11000 rpm/V` */
function missingColon(line: Unknown, key: string, place: Place): Problem {
  const isEquals = line.words[1] === '=';
  const sign = isEquals ? placeOfFeature(line, 'words', 1) : endOf(place);
  const gap = isEquals ? { ...sign, start: place.end } : sign;
  return problem('syntax', `a colon is missing: ${key}: …`, place, [rewrite(gap, ':', `change to ${key}:`)]);
}

function misspelt(line: Unknown, near: readonly string[], place: Place, schema: BlockSchema | undefined): Problem {
  const fixes = near.map((word): ProblemFix => {
    const isProperty = schema !== undefined && Object.hasOwn(schema.properties, word);
    const equals = line.words[1] === '=' ? placeOfFeature(line, 'words', 1) : undefined;
    const written = isProperty ? `${word}:` : word;
    return replace(isProperty && equals ? span(place, equals) : place, written);
  });
  return problem('unknown-name', `${line.words[0]} means nothing here; did you mean ${either(near)}?`, place, fixes);
}

/** The sentence before has its own problem, of which this line is a consequence. */
function isExplained(before: Line): boolean {
  if (isKeep(before)) return isFigure(before.value) && before.value.unit === 'in';
  if (isRequire(before)) return before.condition === undefined || commaInRequire(before) !== undefined;
  if (isRows(before)) return before.columns.at(-1)?.unit === undefined;
  return 'clauses' in before && endsUnquoted(before.clauses);
}

/** What follows a value on its row and could not be read as part of it. */
function continuedProblem(before: Line, line: Unknown, schema: BlockSchema | undefined): Problem | undefined {
  if (isAccept(before)) return boundedFromAbove(line);
  if (!isProperty(before)) return undefined;
  return (
    splitUnit(before, line, schema) ??
    missingTimes(before, line) ??
    dashedRange(before, line, schema) ??
    secondPoint(before, line) ??
    secondColon(before, line)
  );
}

/** `accept pack-overcurrent above 40 A`: the number is the most that is accepted. */
function boundedFromAbove(line: Unknown): Problem | undefined {
  if (line.words[0] !== 'above') return undefined;
  const place = placeOfFeature(line, 'words');
  return problem('clause', 'accept takes “below” and the number up to which it is accepted, not “above”', place, [
    replace(place, 'below'),
  ]);
}

/** `11000 rpm / V`, `11000 rpm per volt`: a unit in pieces. */
function splitUnit(before: PropertyLine, line: Unknown, schema: BlockSchema | undefined): Problem | undefined {
  const [sign, below] = line.words;
  if (!isFigure(before.value) || before.value.unit === undefined || before.clauses.length > 0) return undefined;
  if ((sign !== '/' && sign !== 'per') || below === undefined) return undefined;
  const unitPlace = placeOfFeature(before.value, 'unit');
  const place = span(unitPlace, placeOfFeature(line, 'words', 1));
  const property = schema?.properties[before.key];
  const joined = `${before.value.unit}/${below}`;
  const fits = (name: string) => {
    const { unit } = parseUnit(name);
    return (
      unit !== undefined &&
      property !== undefined &&
      dimensionsOf(property).some((dimension) => equal(dimension, unit.dimension))
    );
  };
  const meant = [joined, property?.unit ?? ''].find(fits);
  const hint = meant === undefined ? '' : `: ${meant}`;
  const mend = meant === joined ? rewrite : replace;
  return problem('number-form', `a unit has no spaces inside${hint}`, place, [
    meant === undefined ? undefined : mend(place, meant),
  ]);
}

/** `supply: 5-17 V`, `cells: 2-4S`: an end, a dash, another end. */
function dashedRange(before: PropertyLine, line: Unknown, schema: BlockSchema | undefined): Problem | undefined {
  const { value } = before;
  if (schema?.properties[before.key]?.shape !== 'range' || !isFigure(value) || !isWritten(value)) return undefined;
  if (before.clauses.length > 0) return undefined;
  const sign = line.words[0];
  if (sign === undefined || !/^[-–]$/.test(sign)) return undefined;
  const row = /^[^\n\r}]*/.exec(textOf(line))?.[0] ?? '';
  const end = /^[-–]\s*(\d+(?:\.\d+)?)\s*(\p{L}[\p{L}/]*)?/u.exec(row);
  const unit = end?.[2] ?? value.unit;
  if (end === null || end[1] === undefined || unit === undefined) return undefined;
  const whole = `${value.number}${spaced(value.unit ?? unit)} .. ${end[1]}${spaced(unit)}`;
  const start = placeOfFeature(value, 'number');
  const place = { ...start, end: placeOf(line).start + end[0].length };
  return problem('number-form', `a range is written with two points: ${whole}`, place, [rewrite(place, whole)]);
}

/** `3.4.5 g` */
function secondPoint(before: PropertyLine, line: Unknown): Problem | undefined {
  if (!isFigure(before.value) || before.value.unit !== undefined || line.words[0] !== '.') return undefined;
  const place = span(
    placeOfFeature(before.value, 'number'),
    placeOfFeature(line, 'words', Math.min(1, line.words.length - 1)),
  );
  return problem('number-form', 'a number has one decimal point', place);
}

/** `kv:: 11000 rpm/V` */
function secondColon(before: PropertyLine, line: Unknown): Problem | undefined {
  if (before.value !== undefined || line.words[0] !== ':') return undefined;
  const place = placeOfFeature(line, 'words');
  return problem('syntax', 'one colon is enough', place, [rewrite(place, '', 'take one colon out')]);
}

/** Whether a problem of the line before has its cause in what follows it. */
export function isContinued(line: PropertyLine, next: Line | undefined, schema: BlockSchema): boolean {
  return isUnknown(next) && isOnSameRow(line, next) && continuedProblem(line, next, schema) !== undefined;
}

/** `motors: 4 M1606 with P3024x3`; `mass: 1_000 mg` */
function missingTimes(before: PropertyLine, line: Unknown): Problem | undefined {
  const { value } = before;
  const [name] = line.words;
  if (
    !isFigure(value) ||
    !isWritten(value) ||
    value.unit !== undefined ||
    value.times.length > 0 ||
    before.clauses.length > 0
  )
    return undefined;
  if (name === undefined || !/^[\p{L}_]/u.test(name)) return undefined;
  const number = placeOfFeature(value, 'number');
  const place = span(number, placeOfFeature(line, 'words'));
  if (/^(_\d+)+$/.test(name)) {
    const joined = value.number + name.replaceAll('_', '');
    return problem('number-form', `a number has no _ inside: ${joined}`, place, [rewrite(place, joined)]);
  }
  const whole = `${value.number} x ${name}`;
  return problem('number-form', `an x is missing: ${whole}`, place, [replace(place, whole)]);
}

/**
 * `motor M1103-8000kv { … }`: a dash is a minus elsewhere. Whoever names the part in this file is corrected with it.
 * @param names every name written in the file, with its place.
 */
export function dashedName(
  node: Part | Rail | Alias | Use,
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
  if (isPart(node) && node.name === undefined && node.block) {
    return problem('missing-value', `a name is missing: ${node.kind} Name { … }`, placeOfFeature(node, 'kind'));
  }
  if (isPart(node) && !node.base && GrammarUtils.findNodeForKeyword(node.$cstNode, 'like')) {
    return problem(
      'missing-value',
      `like what? the name of ${article(node.kind)} ${node.kind} comes next`,
      placeOfKeyword(node, 'like'),
    );
  }
  if (isRail(node) && node.name === undefined && node.block) {
    const place = placeOf(node);
    return problem('missing-value', 'a name is missing: rail Name { … }', {
      ...place,
      end: place.start + 'rail'.length,
    });
  }
  return undefined;
}
