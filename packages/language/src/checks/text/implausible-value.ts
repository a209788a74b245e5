import type { TextCheck } from './text-check.ts';

export const implausibleValue: TextCheck = {
  id: 'implausible-value',
  severity: 'warning',
  page: {
    title: 'A value far outside what exists',
    cause: 'Most often a prefix: Ah for mAh, ohm for mohm.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Check the figure and its unit.',
    fails: `pack Giant like Slim480_2S { capacity: 450 Ah }`,
    passes: `pack Usual like Slim480_2S { capacity: 450 mAh }`,
  },
};
