/** What builds open though neither version has it: ignored or never added, or outside of the repository. Nobody can judge those builds. */
import { posix } from 'node:path';
import { URI } from 'langium';
import { placesOf } from '../../resolve/keys.ts';
import { firstFew } from '../../vocabulary/phrasing.ts';
import type { Outlines } from './change-reach.ts';
import type { Tree } from './file-tree.ts';

export interface OpenedTrees {
  readonly trees: readonly Tree[];
  /** Files whose builds are requested. */
  readonly isAsked: (path: string) => boolean;
  readonly isReached: (path: string) => boolean;
  /** Whether something is there in addition to what git keeps. */
  readonly isOnDisk: (path: string) => boolean;
}

const MOST_NAMED = 5;

/** By place, why it is missed and by which builds. */
export function unkept(before: Outlines, after: Outlines, opening: OpenedTrees): [string, string][] {
  const kept = new Set(
    opening.trees.flatMap(({ files, submodules }) => [...files.keys(), ...submodules].flatMap(placesAbove)),
  );
  const builds = new Map<string, Set<string>>();
  // What only the new version opens is a new error of its line.
  const known = new Set([...before.values()].flatMap((outline) => outline?.uses ?? []));
  for (const [path, outline] of after) {
    if (!outline || outline.builds === 0 || !opening.isAsked(path)) continue;
    const names = outline.chunks.filter(({ isBuild }) => isBuild).flatMap((chunk) => chunk.names);
    for (const use of outline.uses.filter((one) => known.has(one))) {
      const place = placeMissed(path, use, kept, opening);
      if (place === undefined) continue;
      const missing = builds.get(place) ?? new Set();
      builds.set(place, missing);
      for (const name of names) missing.add(name);
    }
  }
  return [...builds].sort().map(([place, names]) => [place, WHY(firstFew([...names].sort(), MOST_NAMED))]);
}

const WHY = (builds: string): string =>
  `git keeps nothing there in either version (it is ignored, not added, or outside this repository), so what opens it is not judged: ${builds}`;

function placeMissed(path: string, use: string, kept: ReadonlySet<string>, opening: OpenedTrees): string | undefined {
  const way = use.replaceAll('\\', '/');
  const below = posix.join(posix.dirname(path), way);
  if (way.startsWith('/') || below === '..' || below.startsWith('../')) return use;
  const [beside] = placesOf(URI.file(`/${path}`), use);
  const place = beside?.path.slice(1) ?? '';
  if (kept.has(place) || opening.trees.some(({ submodules }) => submodules.some((one) => place.startsWith(`${one}/`))))
    return undefined;
  // On another machine it may well be there; a path in a file that nobody touched is an old error.
  const isMeant = opening.isOnDisk(place) || (way.startsWith('.') && opening.isReached(path));
  return isMeant ? place : undefined;
}

/** A file and the folders around it. */
function placesAbove(path: string): string[] {
  const steps = path.split('/');
  return ['', ...steps.map((_, i) => steps.slice(0, i + 1).join('/'))];
}
