/** Checks of the lines that are sentences: keep, accept, raise, lower, note, observed. */

import {
  type Accept,
  type ChangeNode,
  isFigureNode,
  isNamedNode,
  type Keep,
  type NoteNode,
  type ObservedNode,
} from '../../grammar/generated/ast.ts';
import { conditionOf, nameBehind, textBehind } from '../../syntax/clauses.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, placeOf, placeOfFeature, textOf } from '../../syntax/source.ts';
import { NONE } from '../../units/dimension.ts';
import { FINDING_IDS, isAboutCraft, isFindingId, isWorseAbove } from '../../vocabulary/findings.ts';
import { LIMITS } from '../../vocabulary/limits.ts';
import { either } from '../../vocabulary/phrasing.ts';
import type { ClauseRule } from '../../vocabulary/schema.ts';
import { SEVERITIES } from '../../vocabulary/severities.ts';
import { meant } from '../../vocabulary/synonyms.ts';
import { OCCASIONS } from '../../vocabulary/words.ts';
import { sentenceClauseProblems } from './clause-problems.ts';
import { commaProblem } from './comma-problems.ts';
import { hasUnreadWords } from './continued-lines.ts';
import { problem, replace } from './problem-words.ts';
import { amountProblem, type Expected } from './quantity-problems.ts';
import { noSuch } from './unknown-name.ts';
import { isWritten } from './written.ts';

const NAME: ClauseRule = { shape: 'name' };
const TEXT: ClauseRule = { shape: 'text' };
const PACK: ClauseRule = { shape: 'part', parts: ['pack'] };

/** The first word of a sentence, to point at when nothing follows it. */
function opening(node: Keep | Accept | ChangeNode | NoteNode | ObservedNode): Place {
  const word = /^\w+/.exec(textOf(node))?.[0] ?? '';
  const place = placeOf(node);
  return { ...place, end: place.start + word.length };
}

const KEPT: Expected = { of: 'a margin', dimensions: [NONE], units: ['%'], insists: '%', plausible: [0, 95] };

/** `keep 20 % in reserve on esc.continuous` */
export function keepProblems(keep: Keep): Problem[] {
  const clauses = sentenceClauseProblems(keep.clauses, 'keep', { in: NAME, on: NAME });
  const value = keepValueProblem(keep);
  if (value) return [value];
  const limit = conditionOf(keep, 'on');
  if (clauses.length > 0) return clauses;
  if (nameBehind(keep, 'in') !== 'reserve' || !limit) {
    return [problem('missing-value', 'a margin reads: keep 20 % in reserve on esc.continuous', opening(keep))];
  }
  const name = nameBehind(keep, 'on') ?? '';
  return Object.hasOwn(LIMITS, name) || !limit.value
    ? []
    : [unknownChoice('limit', name, placeOf(limit.value), Object.keys(LIMITS))];
}

function keepValueProblem(keep: Keep): Problem | undefined {
  const comma = commaProblem(keep, KEPT);
  if (comma) return comma;
  if (!isFigureNode(keep.value))
    return problem('missing-value', 'a margin reads: keep 20 % in reserve on esc.continuous', opening(keep));
  if (!isWritten(keep.value)) return undefined;
  // `20 in` reads as inches.
  if (keep.value.unit === 'in') {
    const number = placeOfFeature(keep.value, 'number');
    const fix = replace(endOf(number), ' %', `change to ${keep.value.number} %`);
    return problem('missing-unit', `a unit is needed: ${keep.value.number} %?`, number, [fix]);
  }
  return amountProblem(keep.value, keep.value.more, KEPT);
}

/** Choices up to this many are all named. */
const MOST_LISTED = 8;

function unknownChoice(what: string, name: string, place: Place, choices: readonly string[]): Problem {
  const known =
    choices.length <= MOST_LISTED
      ? `expected ${either(choices)}`
      : `write each in its place, for instance ${choices[0]}`;
  return noSuch(what, name, place, meant(name, choices), known);
}

/** `accept pack-overcurrent below 30 A with Mast1350_4S because "…"` */
export function acceptProblems(accept: Accept): Problem[] {
  const finding = findingProblem(accept, 'accept');
  if (finding) return [finding];
  const clauses = sentenceClauseProblems(accept.clauses, 'accept', {
    below: 'any quantity',
    with: PACK,
    because: TEXT,
  });
  const below = conditionOf(accept, 'below');
  if (below && clauses.length === 0 && !isWorseAbove(accept.finding ?? '')) {
    const description = `a higher number of ${accept.finding} is not a worse one, so none can bound it from above: accept it without one`;
    return [problem('clause', description, placeOf(below), [replace(placeOf(below), '', 'take the number out')])];
  }
  const because = textBehind(accept, 'because');
  const isStated = conditionOf(accept, 'because') !== undefined && because?.trim() !== '';
  if (isStated || clauses.length > 0 || hasUnreadWords(accept) || hasOpenText(accept)) return clauses;
  return [
    ...clauses,
    problem('missing-value', 'give the reason for accepting it: because "…"', placeOfFeature(accept, 'finding')),
  ];
}

/** Whether the line ends in a text whose quotes are not closed yet. */
function hasOpenText(line: Accept): boolean {
  const text = textOf(line);
  return text.includes('"') && !/"[^"]*"\s*$/.test(text);
}

function findingProblem(node: Accept | ChangeNode, verb: string): Problem | undefined {
  if (node.finding === undefined) {
    return problem('missing-value', `${verb} what? the name of a finding comes next`, opening(node));
  }
  return isFindingId(node.finding)
    ? undefined
    : unknownChoice('finding', node.finding, placeOfFeature(node, 'finding'), FINDING_IDS);
}

/** `raise pack-oversag to error`, `lower pack-heavy to hint because "…"` */
export function changeProblems(change: ChangeNode): Problem[] {
  const finding = findingProblem(change, change.verb);
  if (finding) return [finding];
  if (!isAboutCraft(change.finding ?? '')) {
    const description = `${change.finding} keeps its severity: only what is found about the craft is raised or lowered`;
    return [problem('clause', description, placeOfFeature(change, 'finding'))];
  }
  const clauses = sentenceClauseProblems(change.clauses, change.verb, { to: NAME, because: TEXT });
  if (clauses.length > 0) return clauses;
  const to = conditionOf(change, 'to');
  if (!to) {
    const description = `${change.verb} it to what? to ${either(SEVERITIES)}`;
    return [problem('missing-value', description, placeOfFeature(change, 'finding'))];
  }
  const name = nameBehind(change, 'to') ?? '';
  const isKnown = SEVERITIES.some((severity) => severity === name);
  if (!isKnown) return isNamedNode(to.value) ? [unknownChoice('severity', name, placeOf(to.value), SEVERITIES)] : [];
  const [highest, lowest] = [SEVERITIES[0], SEVERITIES.at(-1)];
  if (name !== (change.verb === 'raise' ? lowest : highest)) return [];
  const other = change.verb === 'raise' ? 'lower' : 'raise';
  const description = `nothing is ${change.verb === 'raise' ? 'raised' : 'lowered'} to ${name}: ${other} it?`;
  const verb = opening(change);
  return [problem('clause', description, verb, [replace(verb, other)])];
}

/** `note "screws no longer than 3 mm" for assembly` */
export function noteProblems(note: NoteNode): Problem[] {
  if (note.text === undefined)
    return [problem('missing-value', 'note what? a text in quotes comes next', opening(note))];
  const clauses = sentenceClauseProblems(note.clauses, 'note', { for: NAME });
  if (clauses.length > 0) return clauses;
  const occasion = conditionOf(note, 'for')?.value;
  const name = nameBehind(note, 'for');
  if (!occasion || name === undefined || Object.hasOwn(OCCASIONS, name)) return [];
  return [unknownChoice('occasion', name, placeOf(occasion), Object.keys(OCCASIONS))];
}

export function observedProblems(observed: ObservedNode): Problem[] {
  return sentenceClauseProblems(observed.clauses, 'observed', { with: PACK });
}
