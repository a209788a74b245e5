/** Checks that need a build as a whole: what feeds what, how packs are joined, shares of the flight. */

import {
  type Condition,
  isFigureNode,
  isNamedNode,
  isObservedNode,
  isPropertyNode,
  isRequire,
  type Line,
  type ObservedNode,
  type PartNode,
  type PropertyNode,
} from '../../grammar/generated/ast.ts';
import { arrangementOf } from '../../model/arrangements.ts';
import type { Assembled } from '../../model/assembled.ts';
import type { PackOption } from '../../model/build.ts';
import { railLoops } from '../../model/feeds.ts';
import { partOf } from '../../model/parts.ts';
import { unlike } from '../../model/side-by-side.ts';
import { conditionOf, nameBehind } from '../../syntax/clauses.ts';
import { countOf, entriesOfBuild, isBoard } from '../../syntax/entries.ts';
import { partAround } from '../../syntax/nodes.ts';
import { isWithin } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { endOf, namedOf, partOfTarget, placeOf, placeOfFeature, targetOf } from '../../syntax/source.ts';
import { numberOf } from '../../syntax/written-number.ts';
import { plainNumber } from '../../units/print.ts';
import { either } from '../../vocabulary/phrasing.ts';
import type { PropertyName } from '../../vocabulary/properties.ts';
import { hasUnreadWords } from './continued-lines.ts';
import { feedLoops } from './like-cycle.ts';
import { missingInLibraryPart } from './missing-value.ts';
import { problem, replace } from './problem-words.ts';
import { unfinishedResults } from './requirement-problems.ts';

const MOTOR_WORDS: ReadonlySet<string> = new Set<PropertyName<'build'>>(['motors', 'upper_motors', 'lower_motors']);

export function craftProblems(node: PartNode, { feeds, build, notOnBoard }: Assembled): Problem[] {
  const lines = node.lines.filter(isPropertyNode);
  return [
    ...lines.flatMap(libraryProblems),
    ...lines.flatMap((line) => {
      if (MOTOR_WORDS.has(line.key)) return motorsProblem(line, build.airframe?.part.declared('rotors')?.value);
      if (line.key === 'pack') return [...arrangementProblem(line), ...dutyProblem(line)];
      return line.key === 'load' || line.key === 'regulator' ? feedProblem(line, feeds) : [];
    }),
    ...node.lines.filter(isRequire).flatMap(unfinishedResults),
    ...node.lines.filter(isObservedNode).flatMap((observed) => packNotStated(observed, build.packs)),
    ...notOnBoard
      .filter(({ place }) => isWithin(place, placeOf(node)))
      .map(({ part, flight, place }) =>
        problem('unknown-name', `${flight} releases ${part}, and ${node.name} has none on board by then`, place),
      ),
    ...feedLoops(feeds.loops, node),
  ];
}

/** Of several packs one was on; which, only who was there knows. */
function packNotStated(observed: ObservedNode, packs: readonly PackOption[]): Problem[] {
  if (packs.length < 2 || conditionOf(observed, 'with')) return [];
  const place = placeOfFeature(observed, observed.title === undefined ? 'clauses' : 'title');
  const choices = packs.map(({ name }) => `with ${name}`);
  const fixes = choices.map((choice) => replace(endOf(place), ` ${choice}`, `add ${choice}`));
  return [
    problem('missing-value', `on which pack? ${either(choices)}`, place, observed.title === undefined ? [] : fixes),
  ];
}

/** Parts of the library that a line names and that are not complete. */
function libraryProblems(line: PropertyNode): Problem[] {
  const propeller = conditionOf(line, 'with')?.value;
  const names = [namedOf(line), isNamedNode(propeller) ? propeller : undefined].filter((name) => name !== undefined);
  return names.flatMap((name) => {
    const part = partOfTarget(targetOf(name));
    return (part && missingInLibraryPart(part, placeOf(name))) ?? [];
  });
}

/** `motors: M1606` without how many or with what. */
function motorsProblem(line: PropertyNode, rotors: number | undefined): Problem[] {
  const { value } = line;
  if (value === undefined || value.$type === 'Text' || line.commas.length > 0) return [];
  if (!isFigureNode(value)) {
    const place = placeOf(value);
    const count = rotors ?? 4;
    const fix = replace({ ...place, end: place.start }, `${count} x `, `write ${count} x in front`);
    return [problem('missing-value', `how many? ${count} x ${value.$cstNode?.text ?? ''}`, place, [fix])];
  }
  const [motor] = value.of;
  // A name that is not known is mistake enough, or still being typed.
  if (!motor || !targetOf(motor) || conditionOf(line, 'with') || hasUnreadWords(line)) return [];
  const end = endOf(placeOf(value));
  return [
    problem('missing-value', 'with which propeller? with and its name', placeOf(value), [
      replace(end, ' with ', 'add with'),
    ]),
  ];
}

/** `2 x Long850_4S` states how the two are joined, a single pack does not. */
function arrangementProblem(line: PropertyNode): Problem[] {
  const beside = conditionOf(line, 'with');
  if (beside) return besideProblem(line, beside);
  const count = countOf(line);
  const stated = conditionOf(line, 'in');
  if (count === undefined || line.value === undefined || line.commas.length > 0) return [];
  if (count === 1 && stated) {
    return [problem('clause', 'one pack alone is neither in parallel nor in series', placeOf(stated))];
  }
  if (stated || arrangementOf(line, count)) return [];
  const end = endOf(placeOf(line.value));
  const fixes = ['parallel', 'series'].map((word) => replace(end, ` in ${word}`, `add in ${word}`));
  return [
    problem('missing-value', `how are the ${count} joined? in parallel or in series`, placeOf(line.value), fixes),
  ];
}

/** `A with B in parallel`: alike in cells and chemistry, and never in a row. */
function besideProblem(line: PropertyNode, beside: Condition): Problem[] {
  const [one, other] = [namedOf(line), beside.value].map((named) =>
    partOfTarget(targetOf(isNamedNode(named) ? named : undefined)),
  );
  // A name that is not known is mistake enough, or still being typed.
  if (one?.kind !== 'pack' || other?.kind !== 'pack') return [];
  const difference = unlike(partOf(one), partOf(other));
  if (difference) return [problem('clause', difference, placeOf(beside))];
  const stated = nameBehind(line, 'in');
  if (stated === 'parallel') return [];
  const place = conditionOf(line, 'in');
  if (place)
    return stated === 'series'
      ? [
          problem(
            'clause',
            'packs that differ may only be connected in parallel: in series the smaller is empty first',
            placeOf(place),
          ),
        ]
      : [];
  return [
    problem('missing-value', 'how are they joined? in parallel', placeOf(beside), [
      replace(endOf(placeOf(beside)), ' in parallel', 'add in parallel'),
    ]),
  ];
}

function dutyProblem(line: PropertyNode): Problem[] {
  const duty = conditionOf(line, 'duty')?.value;
  if (!isFigureNode(duty) || duty.unit !== '%') return [];
  const share = numberOf(duty);
  if (share > 0 && share <= 100) return [];
  return [problem('implausible-value', 'a duty limit lies between 1 % and 100 %', placeOf(duty))];
}

/** A board that is not in the build, or is there twice and then has no rail of its own name. Unknown names are found elsewhere. */
function feedProblem(line: PropertyNode, feeds: Assembled['feeds']): Problem[] {
  const result = feeds.resolve(line);
  const value = conditionOf(line, 'from')?.value;
  if ('feed' in result || result.missing === 'unreadable' || !value) return [];
  const choices = [...new Set(result.choices)];
  const place = placeOf(value);
  const fixes = choices.map((choice) => replace(place, choice));
  if (result.missing === 'rail') {
    const name = value.$cstNode?.text ?? '';
    const description =
      choices.length > 0 ? `which rail of ${name}? ${either(choices)}` : `${name} has no rails to feed from`;
    return [problem('missing-value', description, place, fixes)];
  }
  if (result.missing === 'not-fitted') {
    const build = partAround(line);
    const hasBoards = build && entriesOfBuild(build).some(isBoard);
    // That there is none at all has its own finding.
    if (!hasBoards) return [];
    const hint = choices.length > 0 ? `; there is ${either(choices)}` : '';
    return [problem('unknown-name', `${value.$cstNode?.text} is not in this build${hint}`, place, fixes)];
  }
  if (choices.length === 1) {
    return [problem('unknown-name', `${choices[0]} is fitted twice: give each line a name of its own with as`, place)];
  }
  return [problem('unknown-name', `which one? ${either(choices)}`, place, fixes)];
}

/** Rails of a board that feed one another. */
export const boardProblems = (board: PartNode): Problem[] => feedLoops(railLoops(partOf(board)), board);

/** The shares of a flight add up to all of it. */
export function flownProblem(lines: readonly Line[]): Problem | undefined {
  const flown = lines.filter(isPropertyNode).filter((line) => line.key === 'flown');
  const vague = flown.find((line) => isFigureNode(line.value) && !conditionOf(line, 'at'));
  if (vague?.value) {
    const end = endOf(placeOf(vague.value));
    const fix = replace(end, ' at hover', 'add at hover');
    return problem('missing-value', 'at which thrust? at hover, or at 1.4 x hover', placeOf(vague.value), [fix]);
  }
  const last = flown.at(-1);
  const shares = flown.map((line) =>
    isFigureNode(line.value) && line.value.unit === '%' && line.commas.length === 0 && !line.value.negative
      ? Number(line.value.number)
      : undefined,
  );
  // Of one that cannot be read, or is no share, its own line has the report.
  if (!last || !shares.every((share) => share !== undefined && share <= 100)) return undefined;
  const sum = shares.reduce<number>((total, share) => total + (share ?? 0), 0);
  if (Math.abs(sum - 100) < 0.05) return undefined;
  const rest = (shares.at(-1) ?? 0) + 100 - sum;
  const place = placeOfFeature(last, 'value');
  const number = isFigureNode(last.value) ? placeOfFeature(last.value, 'number') : place;
  const rounded = Number(rest.toFixed(2));
  const fix = rest > 0 ? replace(number, String(rounded), `change to ${rounded} %`) : undefined;
  const description = `the shares of the flight add up to ${plainNumber(Number(sum.toFixed(2)))} %, not to 100 %`;
  return { ...problem('implausible-value', description, place, [fix]), severity: 'warning' };
}
