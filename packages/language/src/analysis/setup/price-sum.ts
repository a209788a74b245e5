/** What a build costs with a pack and its spares: the sum of what its parts state. Currencies are never converted. */
import type { Build, PackOption, Part } from '../../model/build.ts';

/** Something to buy: a part, and how many. */
export interface Bought {
  readonly part: Part;
  readonly count: number;
}

export type Price =
  | { readonly value: number; readonly currency: string }
  /** No part of it states a price. */
  | { readonly unknown: true }
  | { readonly reason: string };

/** Everything that is on board but the pack; each part once. */
export function fittedIn({ airframe, rotors, escs, regulators, loads, items, leads, mounts }: Build): Bought[] {
  const uses = [airframe ?? [], escs, regulators, loads, items, leads, mounts].flat();
  return summed([
    ...uses.map(({ part, count }) => ({ part, count })),
    ...rotors.flatMap(({ motor, propeller, count: { value } }) => [
      { part: motor, count: value },
      { part: propeller, count: value },
    ]),
  ]);
}

export const sparesOf = ({ spares }: Build): Bought[] => summed(spares.map(({ part, count }) => ({ part, count })));

export const packsOf = ({ part, count, beside }: PackOption): Bought[] =>
  beside ? beside.map((one) => ({ part: one.part, count: one.count })) : [{ part, count }];

/** By where a part is declared. A mass that a line of the build states is nothing that anybody buys. */
export function summed(bought: readonly Bought[]): Bought[] {
  const found = new Map<string, Bought>();
  for (const { part, count } of bought) {
    if (isInline(part)) continue;
    const key = `${part.place.uri} ${part.place.start}`;
    found.set(key, { part, count: (found.get(key)?.count ?? 0) + count });
  }
  return [...found.values()];
}

/** `item: 5 g "wire"` has the place of its own line, and a line is no declaration. */
const isInline = (part: Part): boolean => {
  const of = part.placeOf('mass');
  return of !== undefined && of.start === part.place.start && of.uri === part.place.uri;
};

const MOST_NAMES = 3;

export function priceOf(build: Build, option: PackOption): Price {
  const bought = summed([...fittedIn(build), ...sparesOf(build), ...packsOf(option)]);
  const priced = bought.map(({ part, count }) => ({ name: part.name, count, price: part.declared('price') }));
  if (priced.every(({ price }) => price === undefined)) return { unknown: true };
  const without = priced.filter(({ price }) => price === undefined).map(({ name }) => name);
  if (without.length > 0) {
    const named = without.slice(0, MOST_NAMES).join(', ');
    const rest = without.length > MOST_NAMES ? ` and ${without.length - MOST_NAMES} more` : '';
    return { reason: `no price is stated of ${named}${rest}` };
  }
  const currencies = [...new Set(priced.flatMap(({ price }) => price?.unit ?? []))];
  const [currency = ''] = currencies;
  if (currencies.length > 1) return { reason: `prices are in ${currencies.join(' and ')}, and are not converted` };
  return { currency, value: priced.reduce((sum, { count, price }) => sum + count * (price?.value ?? 0), 0) };
}
