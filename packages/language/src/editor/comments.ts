import { CstUtils } from 'langium';
import type { PartNode, RailNode } from '../grammar/generated/ast.ts';

/** The comment lines right above a thing, without their slashes; undefined when there are none. */
export function commentAbove(node: PartNode | RailNode): string | undefined {
  const start = node.$cstNode;
  if (start === undefined) return undefined;
  const lines: string[] = [];
  let below = start.range.start.line;
  let previous = CstUtils.getPreviousNode(start, true);
  while (previous !== undefined && previous.range.start.line === below - 1) {
    const text = previous.text;
    const alone = isAloneOnItsLine(previous.root.fullText, previous.offset);
    if (!text.startsWith('//') || !alone) break;
    lines.unshift(text.replace(/^\/\/+ ?/, '').trimEnd());
    below -= 1;
    previous = CstUtils.getPreviousNode(previous, true);
  }
  return lines.length === 0 ? undefined : lines.join('\n');
}

function isAloneOnItsLine(text: string, offset: number): boolean {
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  return text.slice(lineStart, offset).trim() === '';
}
