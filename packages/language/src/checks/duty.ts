import type { PackOption } from '../model/build.ts';
import type { Fix } from './finding.ts';
import { percent } from './say.ts';

/** A duty limit as people write it: a whole percent, rounded down to the safe side (a hair of rounding error is not a percent). */
export const wholePercent = (share: number): number => Math.floor(share * 100 + 1e-9) / 100;

/** A quick fix that sets a pack option's duty limit to the whole percent. */
export function limitDuty(option: PackOption, share: number, reason: string): Fix {
  const limit = percent(wholePercent(share));
  const clause = `duty ${limit}`;
  const end = { uri: option.place.uri, start: option.place.end, end: option.place.end };
  return {
    title: `Limit the duty to ${limit} on ${option.name}: ${reason}`,
    edits: [option.dutyPlace ? { place: option.dutyPlace, newText: clause } : { place: end, newText: ` ${clause}` }],
  };
}

export function isDutyFix({ edits }: Fix): boolean {
  return edits.some(({ newText }) => /^ ?duty /.test(newText));
}
