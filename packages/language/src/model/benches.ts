/** Which test stands' rows a build may rest on. */
import type { LangiumDocument } from 'langium';
import type { PartNode } from '../grammar/generated/ast.ts';
import { lookupOf } from '../resolve/linker.ts';
import { benchesInSight } from '../resolve/measured-in-sight.ts';
import { chainOf } from '../syntax/chain.ts';
import { documentOf } from '../syntax/nodes.ts';
import { readBench } from './bench-rows.ts';
import type { Bench, Part, RotorLine } from './build.ts';
import { isSamePart } from './identities.ts';

/**
 * Rows about a build's propellers: benches in the build's folder and what it opens, in those of the builds that it is like, and where its
 * propellers are declared and what that opens. Everybody who sees the parts then sees the same rows, in an editor and on the command line.
 */
export function benchesAbout(build: PartNode, rotors: readonly RotorLine[]): PartNode[] {
  const document = documentOf(build);
  const index = document && lookupOf(document)?.index;
  if (!document || !index) return [];
  const bases = chainOf(build).parts.slice(1).map(documentOf);
  const homes = rotors.map(({ propeller }) => index.documentOf(propeller.place.uri));
  const nodes = new Set<PartNode>();
  for (const home of new Set<LangiumDocument | undefined>([document, ...bases, ...homes]))
    if (home) for (const node of benchesInSight(home)) nodes.add(node);
  return [...nodes].filter((node) => rotors.some(({ propeller }) => isAbout(readBench(node), propeller)));
}

/** Whether a bench measured this propeller; a variant of it is another one. */
export function isAbout({ part }: Bench, propeller: Part<'propeller'>): boolean {
  const measured = part.part('propeller');
  return measured !== undefined && isSamePart(measured, propeller);
}
