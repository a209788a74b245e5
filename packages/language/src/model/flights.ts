/** Flights in legs as plain numbers: those of a build, with what is released on the way. */
import { isFigure } from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, nameBehind } from '../syntax/clauses.ts';
import { type Entry, namedPart } from '../syntax/entries.ts';
import type { Place } from '../syntax/place.ts';
import { placeOf } from '../syntax/source.ts';
import type { Flight, Leg, LoadUse, Requirement, Use } from './build.ts';
import { flightsIn } from './expressions.ts';
import { legsOf } from './leg-lines.ts';
import { partOf } from './parts.ts';

/** What a build flies, and what it has not on board to release. */
export interface BuildFlights {
  readonly flights: readonly Flight[];
  /** Some line or leg of them cannot be read yet. */
  readonly hasHole: boolean;
  readonly missing: readonly { readonly part: string; readonly flight: string; readonly place: Place }[];
}

export function flightsOf(entries: readonly Entry[], onBoard: readonly (Use | LoadUse)[]): BuildFlights {
  const flights: Flight[] = [];
  const missing: BuildFlights['missing'][number][] = [];
  let hasHole = false;
  for (const { line, name } of entries) {
    const node = namedPart(line);
    const written = node ? legsOf(node) : [];
    const isWhole = node !== undefined && (node.closed || !node.block) && !chainOf(node).broken;
    if (!isWhole || written.length === 0 || written.some(({ leg }) => !leg) || isFigure(line.value)) {
      hasHole = true;
      continue;
    }
    const left = new Map<Use, number>();
    const legs: Leg[] = [];
    for (const { leg } of written) {
      if (!leg) continue;
      const { release, ...flown } = leg;
      if (!release) {
        legs.push(flown);
        continue;
      }
      const part = partOf(release.part);
      const use = onBoard.find((one) => one.part === part && (left.get(one) ?? one.count) >= release.count);
      if (!use) {
        missing.push({ part: part.name, flight: name, place: placeOf(line) });
        continue;
      }
      left.set(use, (left.get(use) ?? use.count) - release.count);
      legs.push({ ...flown, release: { use, count: release.count } });
    }
    const clause = conditionOf(line, 'with');
    const pack = nameBehind(line, 'with');
    if (clause && pack === undefined) hasHole = true;
    else if (missing.every(({ flight }) => flight !== name))
      flights.push({
        name,
        ...(node?.title !== undefined && { title: node.title }),
        ...(pack !== undefined && { pack }),
        legs,
        place: placeOf(line),
      });
  }
  return { flights, hasHole: hasHole || missing.length > 0, missing };
}

/** What is required of a flight applies where the build makes it: on the packs that it is made on. */
export function requiredWith(flights: readonly Flight[], requirements: readonly Requirement[]): Requirement[] {
  return requirements.flatMap((requirement) => {
    const names = flightsIn(requirement.condition);
    if (names.size === 0) return [requirement];
    const [first] = names;
    const plans = flights.filter(({ name }) => name === first);
    if ([...names].some((name) => !flights.some((flight) => flight.name === name))) return [];
    if (requirement.pack !== undefined || plans.some(({ pack }) => pack === undefined)) return [requirement];
    return plans.flatMap(({ pack }) => (pack === undefined ? [] : [{ ...requirement, pack }]));
  });
}
