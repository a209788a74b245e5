/** The text that a build is made of, its own and that of what it names: a slip there is a slip in the build. */
import type { PartNode } from '../grammar/generated/ast.ts';
import { remembered } from '../syntax/memory.ts';
import { documentOf, type FileDocument } from '../syntax/nodes.ts';
import { isWithin, type Place } from '../syntax/place.ts';
import { placeOf } from '../syntax/source.ts';
import type { Build } from './build.ts';
import { partsNamedBy } from './statements.ts';

/** Blocks that a build rests on, whole: its own, those it is like, its parts, rules and test stands. The shipped library is left out. */
export function blocksUnder(build: PartNode, stands: readonly PartNode[]): readonly Place[] {
  const parts = new Set([build, ...stands]);
  for (const part of parts) for (const named of partsNamedBy(part)) parts.add(named);
  return [...parts].map(placeOf);
}

/** Whether a place begins in one of the blocks, or in the build's file outside all blocks. */
export function isUnder(build: PartNode, blocks: readonly Place[], place: Place): boolean {
  const start = { ...place, end: place.start };
  if (blocks.some((block) => isWithin(start, block))) return true;
  const document = documentOf(build);
  if (place.uri !== document?.uri.toString()) return false;
  return !blocksOf(document).some((block) => isWithin(start, block));
}

const blocksOf = remembered((document: FileDocument): readonly Place[] =>
  document.parseResult.value.parts.map((part) => placeOf(part)),
);

/** A slip somewhere in the text. */
interface Slip {
  readonly id: string;
  readonly place: Place;
  readonly related?: readonly { readonly place: Place }[] | undefined;
}

/** Whether a slip of the text is one of the build: of two parts of one name either may be the one that is meant. */
export const isSlipOf = ({ isMadeOf }: Pick<Build, 'isMadeOf'>, { id, place, related = [] }: Slip): boolean =>
  isMadeOf(place) || (id === 'duplicate' && related.some((first) => isMadeOf(first.place)));
