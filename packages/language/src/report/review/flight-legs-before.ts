/** Of flights that take more or less than before: what is taken by the end of each leg, in both versions. */
import type { Assessment, FlightResults, LegResults } from '../../analysis/assessment.ts';
import { measurable } from '../../analysis/uncertainty/estimate.ts';
import type { FlightReview } from './review-data.ts';

/** Relative; smaller differences nobody reads off. */
const READABLE = 1e-3;

export function flightsOtherThan(before: Assessment, after: Assessment): FlightReview[] {
  return after.flights.flatMap((now): FlightReview[] => {
    const was = before.flights.find(({ flight }) => flight.name === now.flight.name);
    if (!was) return [];
    const pairs = paired(was, now);
    if (!pairs.some(([one, other]) => isOther(one, other))) return [];
    return [
      {
        name: now.flight.name,
        legs: pairs.map(([one, other]) => ({
          text: other.leg.text,
          ...(one?.charge && { before: measurable(one.charge) }),
          ...(other.charge && { after: measurable(other.charge) }),
        })),
      },
    ];
  });
}

function isOther(one: LegResults | undefined, other: LegResults): boolean {
  if (one?.leg.text !== other.leg.text) return true;
  const [was, is] = [one.charge?.value, other.charge?.value];
  if (was === undefined || is === undefined) return was !== is;
  return Math.abs(is - was) > READABLE * Math.max(Math.abs(is), Math.abs(was));
}

/** Each leg with the one before: those that both begin with and end with alike are the same; of the rest, in their order. */
function paired(was: FlightResults, now: FlightResults): (readonly [LegResults | undefined, LegResults])[] {
  const texts = [was, now].map(({ legs }) => legs.map(({ leg }) => leg.text));
  const [old = [], own = []] = texts;
  const shorter = Math.min(old.length, own.length);
  let ahead = 0;
  while (ahead < shorter && old[ahead] === own[ahead]) ahead++;
  let behind = 0;
  while (behind < shorter - ahead && old.at(-1 - behind) === own.at(-1 - behind)) behind++;
  return now.legs.map((leg, i) => {
    const isInEnd = i >= own.length - behind;
    const j = isInEnd ? i - own.length + old.length : i;
    return [isInEnd || j < old.length - behind ? was.legs[j] : undefined, leg] as const;
  });
}
