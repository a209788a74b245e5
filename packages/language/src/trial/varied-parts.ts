/** What varies from candidate to candidate, and the parts it starts from. */
import type { PartNode } from '../grammar/generated/ast.ts';
import type { Build, Part } from '../model/build.ts';
import type { VariedFigure } from '../model/shortlists.ts';
import { fittedSlots } from '../model/slots.ts';
import type { VariedKind } from '../vocabulary/kinds/shortlist-kind.ts';
import { inUnit } from './in-unit.ts';

export interface Wanted {
  readonly parts: ReadonlyMap<VariedKind, readonly { readonly node: PartNode; readonly written: string }[]>;
  /** In the order of their lines, by their words: `kv`, `mass of propeller`, `duty`. */
  readonly figures: ReadonlyMap<string, TriedFigure>;
}

export interface TriedFigure {
  readonly figure: VariedFigure | 'duty';
  /** `kv`, `mass of propeller`, with the words of the property. */
  readonly label: string;
  readonly values: readonly number[];
  readonly unit: string;
}

export function basesOf(kind: VariedKind, build: Build, { parts }: Wanted): string[] {
  const requested = parts.get(kind)?.map(({ node }) => node.name ?? '');
  if (requested) return requested;
  const own = partsOfKind(kind, build).map(({ name }) => name);
  return kind === 'pack' ? own.slice(0, 1) : own;
}

/** Each once, in the order of the build. */
function partsOfKind(kind: VariedKind, build: Build): Part[] {
  const parts = [...fittedSlots(build), ...build.packs].flatMap(({ part }) => (part.kind === kind ? [part] : []));
  return [...new Map(parts.map((part) => [part.name, part])).values()];
}

/** The one of that name, or else the first. */
export function partNow(kind: VariedKind, name: string, build: Build): Part | undefined {
  const parts = partsOfKind(kind, build);
  return parts.find((part) => part.name === name) ?? parts[0];
}

/** Grams by the charge per gram of the build's own packs of as many cells and the same chemistry; ± as they scatter, at least a twentieth. */
export function madeAlike(pack: Part<'pack'> | undefined, capacity: number, build: Build): string[] {
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
