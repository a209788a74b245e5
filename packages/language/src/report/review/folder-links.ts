/** Links to folders of the same version: what is below them is there under their path, too, as on the disk. */
import { posix } from 'node:path';

/** Links that are followed, one after the other, and one within another. */
export const MOST_LINKS = 8;

/** Of the paths that texts open, the steps that are no folders and no Fettle files: they may be links. */
export function maybeLinks(opened: Iterable<string>, paths: ReadonlySet<string>): Set<string> {
  const found = new Set<string>();
  for (const place of opened) {
    const steps = place.split('/');
    for (let count = 1; count <= steps.length; count++) {
      const path = steps.slice(0, count).join('/');
      if (paths.has(path) && !path.endsWith('.fettle')) found.add(path);
    }
  }
  return found;
}

/** Paths below the links, with the paths of the files that are there. */
export function pathsThrough(links: ReadonlyMap<string, string>, paths: readonly string[]): Map<string, string> {
  const through = new Map<string, string>();
  for (const link of links.keys()) {
    let target = link;
    for (let count = 0; links.has(target) && count < MOST_LINKS; count++)
      target = posix.join(posix.dirname(target), links.get(target) ?? '').replace(/\/$/, '');
    // Out of the repository, or in a circle.
    if (target === '..' || target.startsWith('../') || target.startsWith('/') || links.has(target)) continue;
    const below = target === '.' ? '' : `${target}/`;
    if (link.startsWith(below)) continue;
    for (const path of paths) if (path.startsWith(below)) through.set(`${link}/${path.slice(below.length)}`, path);
  }
  return through;
}
