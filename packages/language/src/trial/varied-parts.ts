/** What varies from candidate to candidate, and the parts it starts from. */
import type { Part as PartNode } from '../grammar/generated/ast.ts';
import type { Build, Part } from '../model/build.ts';
import type { VariedFigure, VariedKind } from '../model/shortlists.ts';
import { inUnit } from './in-unit.ts';

// ---- what is tried, by kind ----

export interface Wanted {
  readonly parts: ReadonlyMap<VariedKind, readonly { readonly node: PartNode; readonly written: string }[]>;
  readonly figures: ReadonlyMap<VariedFigure | 'duty', { readonly values: readonly number[]; readonly unit: string }>;
}

export function basesOf(kind: VariedKind, build: Build, { parts }: Wanted): string[] {
  const requested = parts.get(kind)?.map(({ node }) => node.name ?? '');
  if (requested) return requested;
  if (kind === 'pack') return [...new Set(build.packs.slice(0, 1).map(({ part }) => part.name))];
  const own = build.rotors.map(({ motor, propeller }) => (kind === 'motor' ? motor.name : propeller.name));
  return [...new Set(own)];
}

export const partNow = (kind: VariedKind, name: string, build: Build): Part | undefined => {
  if (kind === 'pack') return build.packs.find(({ part }) => part.name === name)?.part ?? build.packs[0]?.part;
  const line = build.rotors.find(({ motor, propeller }) => (kind === 'motor' ? motor : propeller).name === name);
  return kind === 'motor' ? (line ?? build.rotors[0])?.motor : (line ?? build.rotors[0])?.propeller;
};

/** Grams by the charge per gram of the build's own packs of as many cells and the same chemistry; ± as they scatter, at least a twentieth. */
export function madeAlike(pack: Part | undefined, capacity: number, build: Build): string[] {
  const cells = pack?.cells('cells');
  const alike = [...new Set(build.packs.map(({ part }) => part))].filter(
    (part) =>
      part.word('chemistry') === pack?.word('chemistry') &&
      part.cells('cells')?.series === cells?.series &&
      part.cells('cells')?.parallel === cells?.parallel,
  );
  const perCharge = alike.flatMap((part) => {
    const [mass, charge] = [part.declared('mass')?.value, part.declared('capacity')?.value];
    return mass && charge ? [mass / charge] : [];
  });
  if (perCharge.length === 0) return [];
  const mean = perCharge.reduce((sum, one) => sum + one, 0) / perCharge.length;
  const spread = Math.sqrt(
    perCharge.reduce((sum, one) => sum + (one - mean) ** 2, 0) / Math.max(1, perCharge.length - 1),
  );
  const share = Math.max(LEAST_SPREAD, (2 * spread) / mean);
  return [`mass: ${inUnit(mean * capacity, 'g')} +- ${(100 * share).toFixed(1)} % estimated`];
}

const LEAST_SPREAD = 0.05;
