/** `like`: a part and what it is copied from. */
import type { PartNode } from '../grammar/generated/ast.ts';
import { partOfTarget, targetOf } from './source.ts';

/** Parts from which one may inherit, in a row. Ours: nobody reads what goes through more of them, and each costs every part behind it. */
export const MOST_BASES = 32;

export interface Chain {
  /** The part itself first, the last ancestor last. */
  readonly parts: readonly PartNode[];
  /** An ancestor is missing, of another kind or too far, or the chain bites its tail: nobody knows what is inherited. */
  readonly broken: boolean;
}

export function chainOf(part: PartNode): Chain {
  const parts: PartNode[] = [part];
  for (let last = part; last.base; ) {
    const base = partOfTarget(targetOf(last.base));
    const isTooFar = parts.length > MOST_BASES;
    if (!base || base.kind !== part.kind || isTooFar || parts.includes(base)) return { parts, broken: true };
    parts.push(base);
    last = base;
  }
  return { parts, broken: false };
}
