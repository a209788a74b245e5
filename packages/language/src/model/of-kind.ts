/** Of which kind a part is, where a text states which part it is. */
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Part } from './build.ts';

export const isOfKind = <Kind extends BlockKind>(part: Part, ...kinds: readonly Kind[]): part is Part<Kind> =>
  kinds.some((kind) => kind === part.kind);

export const ofKind = <Kind extends BlockKind>(part: Part | undefined, kind: Kind): Part<Kind> | undefined =>
  part && isOfKind(part, kind) ? part : undefined;
