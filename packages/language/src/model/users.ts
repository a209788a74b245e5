/** Who uses a part: builds that name it, and builds that name a part that is like it. */
import { AstUtils } from 'langium';
import type { Part } from '../grammar/generated/ast.ts';
import type { FettleIndex } from './references/index.ts';
import { partAround } from './references/syntax.ts';

/** Each build once, in order of name; builds that are like such a build included. */
export function buildsUsing(part: Part, index: FettleIndex): Part[] {
  const builds = new Set<Part>();
  const seen = new Set<Part>([part]);
  const queue = [part];
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    for (const reference of index.referencesTo(next, AstUtils.getDocument(next).uri.toString())) {
      const user = partAround(reference.container);
      if (user !== undefined && !seen.has(user)) {
        seen.add(user);
        queue.push(user);
        if (user.kind === 'build') {
          builds.add(user);
        }
      }
    }
  }
  return [...builds].sort((left, right) => ((left.name ?? '') < (right.name ?? '') ? -1 : 1));
}
