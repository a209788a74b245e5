/** What of a version could not be read, or not be judged in full: by path, why. */
import { NEWER_VERSION } from '../../checks/text/newer-version.ts';
import type { ChangeReach } from './change-reach.ts';
import type { Tree } from './file-tree.ts';
import type { FindingChange } from './finding-changes.ts';
import type { Side } from './side.ts';

export function* unreadable(tree: Tree, side: Side, { changed }: ChangeReach): Iterable<readonly [string, string]> {
  yield* [...tree.unread].sort();
  for (const [path, message] of side.failures) if (changed.includes(path)) yield [path, message];
}

/** Of a file that became one for a newer program, slips are not reported: what it states may go unread. */
export const tooNew = (text: readonly FindingChange[], pathOf: (uri: string) => string): [string, string][] =>
  text
    .filter(({ status, finding }) => status === 'new' && finding.id === NEWER_VERSION.id)
    .map(({ finding: { place, message } }) => [pathOf(place.uri), message]);
