/** "Take this one": what a candidate changes in the text of its build, everything else unchanged, comments too. */

import { isNamedNode, type NamedNode, type PartNode, type PropertyNode } from '../grammar/generated/ast.ts';
import type { PackOption } from '../model/build.ts';
import { aliasOf, conditionOf, nameBehind } from '../syntax/clauses.ts';
import { countOf, entriesOfBuild } from '../syntax/entries.ts';
import { documentOf } from '../syntax/nodes.ts';
import type { Place } from '../syntax/place.ts';
import { endOf, lastName, namedOf, placeOf, wholeLineOf } from '../syntax/source.ts';
import { CannotChoose, type Choice } from './candidates.ts';

export interface Edit {
  readonly place: Place;
  readonly newText: string;
}

/**
 * @param node the build as written in its file
 * @throws CannotChoose where a candidate is made of parts that do not exist
 */
export function editsFor(node: PartNode, choices: readonly Choice[]): Edit[] {
  const missing = choices.find(({ axis, written }) => axis !== 'duty' && written === undefined);
  if (missing) throw new CannotChoose(`${missing.label} is in no file yet: write it down before it is taken`);
  const duty = choices.find(({ axis }) => axis === 'duty')?.written;
  return choices.flatMap((choice) => {
    if (choice.axis === 'duty')
      return choices.some(({ axis }) => axis === 'pack') ? [] : packEdits(node, undefined, duty);
    if (choice.axis === 'pack') return packEdits(node, choice, duty);
    if (choice.axis === 'motor' || choice.axis === 'propeller')
      return rotorEdits(node, choice.axis, choice.written ?? '');
    return replacing(node, choice.axis, choice.written ?? '');
  });
}

/** Own lines; what is inherited is written again. */
function replacing(node: PartNode, word: string, written: string): Edit[] {
  const own = entriesOfBuild(node).filter((entry) => entry.word === word && entry.build === node);
  const [first, ...others] = own;
  if (!first) return [{ place: behindName(node), newText: `\n  ${word}: ${written}` }];
  const value = namedOf(first.line);
  if (!value) return [];
  return [
    { place: placeOf(value), newText: written },
    ...others.map(({ line }) => ({ place: wholeLineOf(line), newText: '' })),
  ];
}

function rotorEdits(node: PartNode, of: 'motor' | 'propeller', written: string): Edit[] {
  const words = ['motors', 'upper_motors', 'lower_motors'];
  const entries = entriesOfBuild(node).filter(({ word }) => words.includes(word));
  if (entries.some(({ build }) => build !== node))
    throw new CannotChoose(
      `${node.name} takes its motors from the build it is like: write the line down in ${node.name} first`,
    );
  return entries.flatMap(({ line }) => {
    const behind = conditionOf(line, 'with')?.value;
    const named: NamedNode | undefined = of === 'motor' ? namedOf(line) : isNamedNode(behind) ? behind : undefined;
    return named ? [{ place: placeOf(named), newText: written }] : [];
  });
}

/** What is chosen comes first: in place of the first pack, or moved there where it is flown already. */
function packEdits(node: PartNode, choice: Choice | undefined, duty: string | undefined): Edit[] {
  const { written, option } = choice ?? {};
  const own = entriesOfBuild(node).filter(({ word, build }) => word === 'pack' && build === node);
  const [first] = own;
  const clause = duty === undefined || duty === '100 %' ? '' : ` duty ${duty}`;
  if (!first) return [{ place: behindName(node), newText: `\n  pack: ${written ?? ''}${clause}` }];
  const chosen = own.find(({ line }) => option && isArrangedAs(option, line));
  const { line } = chosen ?? first;
  const edits: Edit[] = [];
  const { value } = line;
  if (written !== undefined && value && !chosen) {
    if (aliasOf(line) !== undefined)
      throw new CannotChoose(`the first pack of ${node.name} has a name of its own: exchange it by hand`);
    edits.push({ place: placeOf(value), newText: written }, ...withoutJoining(line));
  }
  if (duty !== undefined) {
    const limited = conditionOf(line, 'duty');
    if (limited) edits.push({ place: placeOf(limited), newText: clause.trimStart() });
    else if (clause && value) edits.push({ place: endOf(placeOf(value)), newText: clause });
  }
  return chosen && chosen !== first ? moved(line, first.line, edits) : edits;
}

/** Whether a line flies the same packs, as many of them, joined alike; under which name and duty limit does not matter. */
function isArrangedAs({ part, count, arrangement, beside }: PackOption, line: PropertyNode): boolean {
  const wanted = (beside ?? [{ part, count }]).map((one) => `${one.count} ${one.part.name}`);
  const other = nameBehind(line, 'with');
  const named = namedOf(line);
  const written = [
    ...(named ? [`${countOf(line)} ${lastName(named)}`] : []),
    ...(other === undefined ? [] : [`1 ${other.split('.').at(-1)}`]),
  ];
  const joined = nameBehind(line, 'in') ?? 'single';
  return joined === (beside ? 'parallel' : arrangement) && isSameList(wanted.sort(), written.sort());
}

const isSameList = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((word, i) => word === other[i]);

/** How the packs before were joined goes with them. */
function withoutJoining(line: PropertyNode): Edit[] {
  const text = documentOf(line)?.textDocument.getText() ?? '';
  return [conditionOf(line, 'with'), conditionOf(line, 'in')].flatMap((clause) => {
    if (!clause) return [];
    const place = placeOf(clause);
    const start = text.slice(0, place.start).trimEnd().length;
    return [{ place: { ...place, start }, newText: '' }];
  });
}

/** A line with what is behind it, edited and put before another. */
function moved(line: PropertyNode, before: PropertyNode, edits: readonly Edit[]): Edit[] {
  const text = documentOf(line)?.textDocument.getText() ?? '';
  const { uri, start } = placeOf(line);
  const from = text.lastIndexOf('\n', start) + 1;
  const end = text.indexOf('\n', start);
  const to = end < 0 ? text.length : end + 1;
  const shifted = edits.map(({ place, newText }) => ({
    place: { ...place, start: place.start - from, end: place.end - from },
    newText,
  }));
  const printed = edited(text.slice(from, to), shifted);
  const target = text.lastIndexOf('\n', placeOf(before).start) + 1;
  // Several statements on one row: only the order would be gained.
  if (text.slice(from, start).trim() !== '' || from === target) return [...edits];
  return [
    { place: { uri, start: target, end: target }, newText: printed.endsWith('\n') ? printed : `${printed}\n` },
    { place: { uri, start: from, end: to }, newText: '' },
  ];
}

/** Behind the brace that opens the block. */
function behindName(node: PartNode): Place {
  const text = documentOf(node)?.textDocument.getText() ?? '';
  const { uri, start, end } = placeOf(node);
  const brace = text.indexOf('{', start);
  const at = brace < 0 || brace > end ? end : brace + 1;
  return { uri, start: at, end: at };
}

/** The text with the edits in it. */
export function edited(text: string, edits: readonly Edit[]): string {
  return [...edits]
    .sort((a, b) => b.place.start - a.place.start)
    .reduce((all, { place, newText }) => all.slice(0, place.start) + newText + all.slice(place.end), text);
}
