import type { TextCheck } from './text-check.ts';

export const UNKNOWN_UNIT: TextCheck = {
  id: 'unknown-unit',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'No such unit',
    cause: 'Units are written as in the trade, upper and lower case as there: mAh, mohm, rpm/V.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the unit the message offers.',
    fixes: ['certain', 'choice'],
    fails: `pack Odd like Mast900_4S { capacity: 480 mah }`,
    passes: `pack Even like Mast900_4S { capacity: 480 mAh }`,
  },
};
