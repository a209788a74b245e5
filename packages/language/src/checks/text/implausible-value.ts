import type { TextCheck } from './text-check.ts';

export const IMPLAUSIBLE_VALUE: TextCheck = {
  id: 'implausible-value',
  severity: 'error',
  page: {
    title: 'A value far outside what exists',
    cause: 'Most often a prefix: Ah for mAh, ohm for mohm.',
    criterion:
      'outside the range on the kind’s page: error, and what depends on it is not computed. With `measured` after it, and less than ten times outside: warning, and it is used in the computation.',
    standing: 'The language.',
    remedy: 'Check the figure and its unit. If the part really is like that, write `measured` after it.',
    fails: `pack Giant like Mast900_4S { capacity: 450 Ah }`,
    passes: `pack Usual like Mast900_4S { capacity: 450 mAh }`,
  },
};
