/** Flights in legs as plain numbers: those of a build, with what is released on the way. */
import { isFigureNode } from '../grammar/generated/ast.ts';
import { chainOf } from '../syntax/chain.ts';
import { conditionOf, nameBehind } from '../syntax/clauses.ts';
import { type Entry, namedPart } from '../syntax/entries.ts';
import type { Place } from '../syntax/place.ts';
import { placeOf } from '../syntax/source.ts';
import type { Flight, Leg, LoadUse, Released, Requirement, Use } from './build.ts';
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
    if (!isWhole || written.length === 0 || written.some(({ leg }) => !leg) || isFigureNode(line.value)) {
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
      const uses = onBoard.filter((one) => one.part === part);
      const released = takenFrom(uses, release.count, left);
      if (!released) {
        missing.push({ part: part.name, flight: name, place: placeOf(line) });
        continue;
      }
      legs.push({ ...flown, released });
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

/**
 * So many of one part: from the first of its uses that has enough, else from one after the other. Undefined where they have too few.
 * @param left on board of each use by then; less what is taken afterwards
 */
export function takenFrom(uses: readonly Use[], count: number, left: Map<Use, number>): Released[] | undefined {
  const onBoard = (use: Use) => left.get(use) ?? use.count;
  const enough = uses.find((use) => onBoard(use) >= count);
  const taken: Released[] = [];
  let wanted = count;
  for (const use of enough ? [enough] : uses) {
    const some = Math.min(onBoard(use), wanted);
    if (some > 0) taken.push({ use, count: some });
    wanted -= some;
  }
  if (wanted > 0) return undefined;
  for (const { use, count: some } of taken) left.set(use, onBoard(use) - some);
  return taken;
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
