/** `like`: a part and what it is copied from. */
import type { Part } from '../grammar/generated/ast.ts';
import { partOfTarget, targetOf } from './source.ts';

export interface Chain {
  /** The part itself first, the last ancestor last. */
  readonly parts: readonly Part[];
  /** An ancestor is missing, of another kind, or the chain bites its tail: nobody knows what is inherited. */
  readonly broken: boolean;
}

export function chainOf(part: Part): Chain {
  const parts: Part[] = [part];
  for (let last = part; last.base; ) {
    const base = partOfTarget(targetOf(last.base));
    if (!base || base.kind !== part.kind || parts.includes(base)) return { parts, broken: true };
    parts.push(base);
    last = base;
  }
  return { parts, broken: false };
}
