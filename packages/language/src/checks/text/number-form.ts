import type { TextCheck } from './text-check.ts';

export const NUMBER_FORM: TextCheck = {
  id: 'number-form',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'A number written in another form',
    cause: 'A decimal point, no separators, no spaces inside a number or a unit: 2550 rpm/V, 0.62 A.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write the number as the fix shows.',
    fixes: ['certain', 'choice'],
    fails: `motor Comma like M1805 { kv: 2 550 rpm/V }`,
    passes: `motor Point like M1805 { kv: 2550 rpm/V }`,
  },
};
