/** What is on board of a build, slot by slot: whoever is concerned with all parts of a build reads them here. */
import { keysOf } from '../units/lookup-table.ts';
import type { BlockKind } from '../vocabulary/schema.ts';
import type { Build, PackOption, Part, RotorLine, Use } from './build.ts';
import { sideBySide } from './side-by-side.ts';

/** Each list of a build that fits something. Spares are bought with it and stay at home. */
export type SlotList = Exclude<
  {
    [K in keyof Build]-?: NonNullable<Build[K]> extends Use | readonly Use[] | readonly RotorLine[] ? K : never;
  }[keyof Build],
  'spares'
>;

/** A part in its slot: how many of it, its name there, and the line of the build that fits it. */
export interface PartSlot extends Use {
  readonly list: SlotList;
}

type OnBoard = Pick<Build, SlotList>;

/** A list that is missing does not compile. In this order parts are named. */
const SLOTS: { readonly [L in SlotList]: (build: Pick<Build, L>) => readonly Use[] } = {
  airframe: ({ airframe }) => (airframe ? [airframe] : []),
  escs: ({ escs }) => escs,
  regulators: ({ regulators }) => regulators,
  loads: ({ loads }) => loads,
  items: ({ items }) => items,
  leads: ({ leads }) => leads,
  mounts: ({ mounts }) => mounts,
  packs: ({ packs }) => packs.flatMap(piecesOf),
  rotors: ({ rotors }) =>
    rotors.flatMap(({ motor, propeller, count: { value: count }, place }) =>
      [motor, propeller].map((part) => ({ name: part.name, part, count, place })),
    ),
};

const LISTS = keysOf(SLOTS);
const FITTED = LISTS.filter((list) => list !== 'packs');

export const slotsOf = (build: OnBoard, lists: readonly SlotList[] = LISTS): PartSlot[] =>
  lists.flatMap((list) => SLOTS[list](build).map((use) => ({ ...use, list })));

/** All but its packs, of which one is on board at a time. */
export const fittedSlots = (build: OnBoard): PartSlot[] => slotsOf(build, FITTED);

/** What a `pack:` line plugs in: packs that differ, side by side, are several. */
export const piecesOf = ({ beside, ...option }: PackOption): Use[] =>
  beside ? beside.map(({ part, count }) => ({ ...option, part, count })) : [option];

/** Other parts in the same slots. */
export function withParts<B extends OnBoard>(
  build: B,
  partOf: <Kind extends BlockKind>(part: Part<Kind>) => Part<Kind>,
): B {
  const use = <T extends { readonly part: Part }>(one: T): T => ({ ...one, part: partOf(one.part) });
  const { airframe } = build;
  const changed: OnBoard = {
    ...(airframe && { airframe: use(airframe) }),
    escs: build.escs.map(use),
    regulators: build.regulators.map(use),
    loads: build.loads.map((load) => ({ ...use(load), ...(load.mount && { mount: partOf(load.mount) }) })),
    items: build.items.map(use),
    leads: build.leads.map(use),
    mounts: build.mounts.map(use),
    packs: build.packs.map((option) => {
      const [first, ...others] = option.beside?.map(use) ?? [];
      if (!first) return use(option);
      const beside = [first, ...others] as const;
      return { ...option, part: sideBySide(option.part.name, beside), beside };
    }),
    rotors: build.rotors.map((line) => ({
      ...line,
      motor: partOf(line.motor),
      propeller: partOf(line.propeller),
    })),
  };
  return { ...build, ...changed };
}
