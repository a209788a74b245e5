/** The clauses behind a value, by word. */
import {
  type Alias,
  type Condition,
  isAlias,
  isCondition,
  isNamedNode,
  isOriginNode,
  isText,
  isToleranceNode,
  type OriginNode,
  type PropertyNode,
  type ToleranceNode,
} from '../grammar/generated/ast.ts';
import { nameText } from './source.ts';

export type Clause = Alias | Condition | OriginNode | ToleranceNode;

export interface Claused {
  readonly clauses: readonly Clause[];
}

export function conditionOf(line: Claused, word: Condition['word']): Condition | undefined {
  return line.clauses.filter(isCondition).find((clause) => clause.word === word);
}

export function toleranceOf(line: Claused): ToleranceNode | undefined {
  return line.clauses.find(isToleranceNode);
}

export function originOf(line: Claused): OriginNode | undefined {
  return line.clauses.find(isOriginNode);
}

/** The second name behind `as`. */
export function aliasOf(line: Claused): string | undefined {
  return line.clauses.find(isAlias)?.name;
}

/** The quoted text behind a word: `because "…"`. */
export function textBehind(line: Claused, word: Condition['word']): string | undefined {
  const value = conditionOf(line, word)?.value;
  return isText(value) ? value.text : undefined;
}

/** The name behind a word as it is written: `with Mast1050_4S`, `on esc.continuous`, `to error`. */
export function nameBehind(line: Claused, word: Condition['word']): string | undefined {
  const value = conditionOf(line, word)?.value;
  return isNamedNode(value) ? nameText(value) : undefined;
}

/** `burst: none` takes back what the base states. */
export function isUnset(line: PropertyNode): boolean {
  return isNamedNode(line.value) && nameText(line.value) === 'none';
}
