/** Findings that a build accepts. */
import { type Accept, isCondition, isFigureNode, isNamedNode } from '../grammar/generated/ast.ts';
import { conditionOf, nameBehind, textBehind } from '../syntax/clauses.ts';
import { nextOnRow } from '../syntax/nodes.ts';
import { placeOf, targetOf, uriOf, wholeLineOf } from '../syntax/source.ts';
import { isFindingId, isWorseAbove } from '../vocabulary/findings.ts';
import { readAmount } from './amounts.ts';
import type { Acceptance, Figure } from './build.ts';
import { exactFigure, OF_A_LINE } from './figures.ts';

/** `accept esc-overcurrent below 30 A with Mast1050_4S because "…"` */
export function acceptedBy(line: Accept): Acceptance | undefined {
  if (line.finding === undefined || !isFindingId(line.finding)) return undefined;
  const below = belowOf(line);
  if (below && !isWorseAbove(line.finding)) return undefined;
  const pack = nameBehind(line, 'with');
  const because = textBehind(line, 'because');
  return {
    finding: line.finding,
    ...(below ? { below } : {}),
    ...(pack === undefined ? {} : { pack }),
    ...(because === undefined ? {} : { because }),
    ...(isUnfinished(line) && { isUnfinished: true }),
    place: placeOf(line),
    wholeLine: wholeLineOf(line),
  };
}

function isUnfinished(line: Accept): boolean {
  const because = textBehind(line, 'because');
  if (because === undefined || because.trim() === '' || nextOnRow(line)) return true;
  return line.clauses.some((clause) => {
    if (!isCondition(clause)) return true;
    if (clause.word === 'below') return !isFigureNode(clause.value) || !readAmount(clause.value, clause.value.more);
    if (clause.word === 'with') return !isNamedNode(clause.value) || !targetOf(clause.value);
    return clause.word !== 'because';
  });
}

function belowOf(line: Accept): Figure | undefined {
  const value = conditionOf(line, 'below')?.value;
  const amount = isFigureNode(value) ? readAmount(value, value.more) : undefined;
  const label = `the number up to which ${line.finding} is accepted`;
  const id = `${uriOf(line)}.accept@${placeOf(line).start}`;
  return value && amount && exactFigure({ id, label, whose: OF_A_LINE }, amount, placeOf(value));
}
