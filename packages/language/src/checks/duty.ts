import type { PackOption } from '../model/build.ts';
import type { Fix } from './finding.ts';

/** A quick fix that sets a pack option's duty limit; the share is rounded down to a whole percent, the safe side. */
export function limitDuty(option: PackOption, share: number, reason: string): Fix {
  const limit = `${Math.floor(share * 100 + 1e-9)} %`;
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
