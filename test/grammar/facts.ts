import { type AstNode, AstUtils, type CstNode } from 'langium';
import {
  isObservedNode,
  isPartNode,
  isRailNode,
  isRowNode,
  isRows,
  isUnknownNode,
} from '../../packages/language/src/grammar/generated/ast.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';

export interface Fact {
  /** The blocks around it, `/Part Board16/Rail camera`. */
  within: string;
  /** Its sort and text, `Property mass: 3.4 g`. */
  description: string;
  offset: number;
  end: number;
}

/** All errors of a text, from lexer and parser. */
export function errorsOf(text: string): string[] {
  const { lexerErrors, parserErrors } = parse(text);
  return [...lexerErrors, ...parserErrors].map((error) => error.message);
}

/** All errors with the line they are in and the text they underline. */
export function placedErrorsOf(text: string): string[] {
  return parse(text).parserErrors.map(({ message, token }) => `${token.startLine} ${token.image}: ${message}`);
}

/** Every line that states something, with the blocks that it is in: what later mistakes must not change. */
export function factsOf(text: string): Fact[] {
  return AstUtils.streamAllContents(parse(text).value)
    .toArray()
    .flatMap((node) => (isFact(node) && node.$cstNode ? [factOf(node, node.$cstNode)] : []));
}

function isFact(node: AstNode): boolean {
  const holder = node.$container;
  if (isRowNode(node)) return true;
  if (isPartNode(node) || isRailNode(node) || isObservedNode(node) || isRows(node)) return false;
  return (
    isPartNode(holder) ||
    isRailNode(holder) ||
    isObservedNode(holder) ||
    isUnknownNode(holder) ||
    holder?.$type === 'File'
  );
}

function factOf(node: AstNode, place: CstNode): Fact {
  return {
    within: pathOf(node.$container),
    description: `${node.$type} ${place.text}`,
    offset: place.offset,
    end: place.end,
  };
}

function pathOf(block: AstNode | undefined): string {
  if (!block || block.$type === 'File') return '';
  const name = isPartNode(block) || isRailNode(block) ? ` ${block.name ?? ''}` : '';
  return `${pathOf(block.$container)}/${block.$type}${name}`;
}
