import type { PackOption } from '../../model/build.ts';
import type { Fix } from '../finding.ts';
import { percent } from './finding-numbers.ts';

/** A duty limit as people write it: a whole percent, rounded down to the safe side (a hair of rounding error is not a percent). */
export const wholePercent = (share: number): number => Math.floor(share * 100 + 1e-9) / 100;

/** A quick fix that sets a pack option's duty limit to the whole percent. */
export function limitDuty(option: PackOption, share: number, reason: string): Fix {
  const duty = wholePercent(share);
  const limit = percent(duty);
  const clause = `duty ${limit}`;
  const end = { uri: option.place.uri, start: option.place.end, end: option.place.end };
  return {
    title: `Limit the duty to ${limit} on ${option.name}: ${reason}`,
    trial: { pack: option.name, duty },
    edits: [option.dutyPlace ? { place: option.dutyPlace, newText: clause } : { place: end, newText: ` ${clause}` }],
  };
}

export const isDutyFix = ({ trial }: Fix): boolean => trial !== undefined && 'duty' in trial;

/** What to do about too little thrust; a limit that is not set cannot be raised. */
export const liftMore = ({ dutyLimit }: PackOption): string =>
  `Take mass off, or use larger rotors${dutyLimit.value < 1 ? ', more cells or a higher duty limit' : ' or more cells'}.`;

/** Another part, for where no duty limit leaves a craft that flies well. */
export const anotherPart = (title: string): Fix => ({ title, edits: [] });
