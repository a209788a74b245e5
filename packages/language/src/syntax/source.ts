/** From syntax nodes to places in the text, and from names to what they mean. */
import { type AstNode, AstUtils, type CstNode, GrammarUtils } from 'langium';
import {
  type Alias,
  isAlias,
  isFigureNode,
  isNamedNode,
  isPartNode,
  isPropertyNode,
  type NamedNode,
  type PartNode,
  type Target,
} from '../grammar/generated/ast.ts';
import type { Place } from './place.ts';

export function uriOf(node: AstNode): string {
  return AstUtils.getDocument(node).uri.toString();
}

export function placeOf(node: AstNode): Place {
  return placeOfCst(node, node.$cstNode);
}

/** The text of one feature of a node (`key`, `unit`, the third of `words`); the whole node when it is not there. */
export function placeOfFeature(node: AstNode, feature: string, index = 0): Place {
  return placeOfCst(node, GrammarUtils.findNodeForProperty(node.$cstNode, feature, index) ?? node.$cstNode);
}

/** The line's text with the white space and the line break before it, when it is on a line of its own. */
export function wholeLineOf(line: AstNode): Place {
  const place = placeOf(line);
  const text = line.$cstNode?.root.fullText ?? '';
  const lineBreak = /\r?\n[ \t]*$/.exec(text.slice(0, place.start));
  const alone = lineBreak && /^[ \t]*(\r?\n|$)/.test(text.slice(place.end));
  return alone ? { ...place, start: lineBreak.index } : place;
}

export function placeOfKeyword(node: AstNode, keyword: string): Place {
  return placeOfCst(node, GrammarUtils.findNodeForKeyword(node.$cstNode, keyword) ?? node.$cstNode);
}

function placeOfCst(node: AstNode, cst: CstNode | undefined): Place {
  return { uri: uriOf(node), start: cst?.offset ?? 0, end: cst?.end ?? 0 };
}

/** From the start of the first to the end of the second. */
export function span(first: Place, last: Place): Place {
  return { uri: first.uri, start: first.start, end: last.end };
}

export function endOf(place: Place): Place {
  return { uri: place.uri, start: place.end, end: place.end };
}

export function textOf(node: AstNode): string {
  return node.$cstNode?.text ?? '';
}

/** What a name refers to, when it is written to its end and found. */
export function targetOf(named: NamedNode | undefined): Target | undefined {
  if (!named || isHalfNamed(named)) return undefined;
  const last = named.tail.at(-1) ?? named.head;
  return last.ref;
}

/** `Board35.`: a dot and nothing after it. */
export function isHalfNamed(named: NamedNode): boolean {
  return named.dots.length > named.tail.length;
}

/** The names as written, dots between them. */
export function nameText(named: Pick<NamedNode, 'head' | 'tail'>): string {
  return [named.head, ...named.tail].map((reference) => reference.$refText).join('.');
}

export function lastName(named: NamedNode): string {
  return (named.tail.at(-1) ?? named.head).$refText;
}

/** The part a target refers to: itself, or the one its second name was given to. */
export function partOfTarget(target: Target | undefined): PartNode | undefined {
  if (isPartNode(target)) return target;
  return isAlias(target) ? partOfTarget(targetOf(namedOnLine(target))) : undefined;
}

/** The name a line introduces: `Board50` in `esc: Board50 as Top`, also behind a count. */
function namedOnLine(alias: Alias): NamedNode | undefined {
  const line = alias.$container;
  if (!isPropertyNode(line)) return undefined;
  return namedOf(line);
}

export function namedOf(line: { readonly value?: AstNode }): NamedNode | undefined {
  if (isNamedNode(line.value)) return line.value;
  return isFigureNode(line.value) ? line.value.of[0] : undefined;
}
