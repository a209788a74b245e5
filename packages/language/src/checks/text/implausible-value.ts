import type { TextCheck } from './text-check.ts';

export const implausibleValue: TextCheck = {
  id: 'implausible-value',
  severity: 'warning',
  page: {
    title: 'A value far outside what exists',
    cause: 'Most often a prefix: Ah for mAh, ohm for mohm.',
    criterion:
      'outside the range on the kind’s page: warning. So far outside that nobody should compute with it, or right in another unit: error, and what hangs on it is not computed.',
    standing: 'The language.',
    remedy: 'Check the figure and its unit.',
    fails: `pack Giant like Slim480_2S { capacity: 450 Ah }`,
    passes: `pack Usual like Slim480_2S { capacity: 450 mAh }`,
  },
};
