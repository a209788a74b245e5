import type { TextCheck } from './text-check.ts';

export const MISSING_UNIT: TextCheck = {
  id: 'missing-unit',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'A unit is missing',
    cause: 'A bare number could be grams or ounces, millimetres or inches. Only counts and ratios have no unit.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Add the unit.',
    fixes: ['choice'],
    fails: `motor Bare like M1805 { kv: 2550 }`,
    passes: `motor Dressed like M1805 { kv: 2550 rpm/V }`,
  },
};
