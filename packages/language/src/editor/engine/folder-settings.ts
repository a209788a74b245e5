/** What a folder may set, read from whatever a client sends: what is not understood is left aside. */

import { equal } from '../../units/dimension.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { parseUnit } from '../../units/parse.ts';
import type { Dimension } from '../../units/quantity.ts';
import { isFindingId } from '../../vocabulary/findings.ts';
import { SEVERITIES } from '../../vocabulary/severities.ts';

/** How a finding is shown in the editor; the command, reviews and verdicts take no notice of it. */
export const SHOWN_AS = [...SEVERITIES, 'off'] as const;
type ShownAs = (typeof SHOWN_AS)[number];

export interface FolderSettings {
  /** Each kind of hint has a switch of its own; a client that sets none shows all. */
  readonly hints: { readonly packs: boolean; readonly requirements: boolean };
  readonly severities: ReadonlyMap<string, ShownAs>;
  /** In which hints and hovers print what has their dimension. */
  readonly units: readonly Preferred[];
}

interface Preferred {
  readonly name: string;
  readonly dimension: Dimension;
}

export function readSettings(settings: unknown): FolderSettings {
  const { hints, severities, units } = membersOf(settings);
  const { packs, requirements } = membersOf(hints);
  return {
    hints: { packs: packs !== false, requirements: requirements !== false },
    severities: new Map(
      Object.entries(membersOf(severities)).flatMap(([id, shown]) =>
        isFindingId(id) && isShownAs(shown) ? [[id, shown] as const] : [],
      ),
    ),
    units: (Array.isArray(units) ? units : []).flatMap((name) => {
      const { unit } = parseUnit(typeof name === 'string' ? name : '');
      return unit ? [{ name: unit.name, dimension: unit.dimension }] : [];
    }),
  };
}

/** The unit that the folder prefers to another of the same dimension. */
export function preferredUnit(unit: string, { units }: Pick<FolderSettings, 'units'>): string {
  const { dimension } = parseUnit(unit).unit ?? {};
  return (dimension && units.find((one) => equal(one.dimension, dimension))?.name) ?? unit;
}

const isShownAs = (value: unknown): value is ShownAs => SHOWN_AS.some((one) => one === value);
