/** Who uses a part: builds that name it, and builds that name a part that is like it. A test stand is used by builds that read its rows. */
import { AstUtils } from 'langium';
import type { PartNode } from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { partAround } from '../syntax/nodes.ts';
import { partOfTarget, targetOf } from '../syntax/source.ts';
import { benchesInSight } from './measured-in-sight.ts';
import type { FettleIndex } from './name-index.ts';
import { propellersOf } from './part-signature.ts';

/** Each build once, in order of name; builds that are like such a build included. */
export function buildsUsing(part: PartNode, index: FettleIndex): PartNode[] {
  const builds = part.kind === 'bench' ? buildsReading(part, index) : buildsNaming(part, index, () => true);
  return [...builds].sort((left, right) => ((left.name ?? '') < (right.name ?? '') ? -1 : 1));
}

/** @param passesOn whether what names a user of the part is a user, too */
function buildsNaming(part: PartNode, index: FettleIndex, passesOn: (user: PartNode) => boolean): Set<PartNode> {
  const builds = new Set<PartNode>();
  const seen = new Set<PartNode>([part]);
  for (const next of seen) {
    if (next !== part && !passesOn(next)) continue;
    for (const reference of index.referencesTo(next, AstUtils.getDocument(next).uri.toString())) {
      const user = partAround(reference.container);
      if (!user) continue;
      seen.add(user);
      if (user.kind === 'build') builds.add(user);
    }
  }
  return builds;
}

/** Of its propeller itself: a variant is another one. The stand must be in sight of the build, of one that it is like, or of the propeller. */
function buildsReading(bench: PartNode, index: FettleIndex): Set<PartNode> {
  const sees = (part: PartNode) => [...benchesInSight(AstUtils.getDocument(part))].includes(bench);
  const builds = propellersOf(bench).flatMap((named) => {
    const propeller = partOfTarget(targetOf(named));
    if (!propeller) return [];
    const naming = [...buildsNaming(propeller, index, ({ kind }) => kind === 'build')];
    return sees(propeller) ? naming : naming.filter((build) => chainOf(build).parts.some(sees));
  });
  return new Set(builds);
}
