/** What a build costs with a pack and its spares: the sum of what its parts state. Currencies are never converted. */
import type { Build, PackOption, Part } from '../../model/build.ts';
import { isInlinePart, partKey } from '../../model/identities.ts';
import { fittedSlots, piecesOf } from '../../model/slots.ts';
import { firstFew, listed } from '../../vocabulary/phrasing.ts';

/** Something to buy: a part, and how many. */
export interface Bought {
  readonly part: Part;
  readonly count: number;
}

export type Price =
  | { readonly value: number; readonly currency: string }
  /** No part of it states a price. */
  | { readonly unknown: true }
  | { readonly reason: string; readonly without?: readonly Part[] };

/** Everything that is on board but the pack; each part once. */
export const fittedIn = (build: Build): Bought[] => summed(fittedSlots(build));

export const sparesOf = ({ spares }: Build): Bought[] => summed(spares);

/** All that is needed to fly with this pack. */
export const boughtFor = (build: Build, option: PackOption): Bought[] =>
  summed([...fittedIn(build), ...sparesOf(build), ...piecesOf(option)]);

/** By where a part is declared. A mass that a line of the build states is nothing that anybody buys. */
export function summed(bought: readonly Bought[]): Bought[] {
  const found = new Map<string, Bought>();
  for (const { part, count } of bought) {
    if (isInlinePart(part)) continue;
    const key = partKey(part);
    found.set(key, { part, count: (found.get(key)?.count ?? 0) + count });
  }
  return [...found.values()];
}

const MOST_NAMES = 3;

export function priceOf(build: Build, option: PackOption): Price {
  const priced = boughtFor(build, option).map(({ part, count }) => ({ part, count, price: part.declared('price') }));
  if (priced.every(({ price }) => price === undefined)) return { unknown: true };
  const without = priced.filter(({ price }) => price === undefined).map(({ part }) => part);
  if (without.length > 0) {
    const names = firstFew(
      without.map(({ name }) => name),
      MOST_NAMES,
    );
    return { reason: `no price is stated of ${names}`, without: without.slice(0, MOST_NAMES) };
  }
  const currencies = [...new Set(priced.flatMap(({ price }) => price?.unit ?? []))];
  const [currency = ''] = currencies;
  if (currencies.length > 1) return { reason: `prices are in ${listed(currencies)}, and are not converted` };
  return { currency, value: priced.reduce((sum, { count, price }) => sum + count * (price?.value ?? 0), 0) };
}
