/** Positions as clients count them: in bytes, UTF-16 units or whole characters. */
import type { Position } from 'vscode-languageserver-protocol';

export type Encoding = 'utf-8' | 'utf-16' | 'utf-32';

/** UTF-16 units up to a position. */
export function offsetOf(text: string, { line, character }: Position, encoding: Encoding): number {
  const lines = text.split('\n');
  const row = lines[line] ?? '';
  const before = lines.slice(0, line).reduce((sum, one) => sum + one.length + 1, 0);
  if (encoding === 'utf-16') return before + Math.min(character, row.length);
  if (encoding === 'utf-32') return before + [...row].slice(0, character).join('').length;
  return before + Buffer.from(row).subarray(0, character).toString().length;
}

export function positionOf(text: string, offset: number, encoding: Encoding): Position {
  const lines = text.slice(0, offset).split('\n');
  const row = lines.at(-1) ?? '';
  const character = { 'utf-8': Buffer.byteLength(row), 'utf-16': row.length, 'utf-32': [...row].length }[encoding];
  return { line: lines.length - 1, character };
}
