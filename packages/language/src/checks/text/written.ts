/** Whether a figure was written to its end: behind a sign without a number (`--1 mm`) the parser goes on with half of one and reports the rest. */
import type { FigureNode } from '../../grammar/generated/ast.ts';

export function isWritten({ number, more, sides, to }: FigureNode): boolean {
  const numbers: (string | undefined)[] = [
    number,
    ...[...more, ...sides, ...(to ? [to] : [])].map((one) => one.number),
  ];
  return !numbers.includes(undefined);
}
