import type { TextCheck } from './text-check.ts';

export const MISSING_VALUE: TextCheck = {
  id: 'missing-value',
  severity: 'error',
  page: {
    title: 'Something needed is missing',
    cause:
      'A name, a value, or one of the nine figures that a first result needs: stator size, kV, propeller size and blades, cells, capacity, ESC amps, video watts, dry mass.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Add what the message lists; everything else can be estimated.',
    fails: `motor Bare like M1805 { kv: }`,
    passes: `motor Clad like M1805 { kv: 2550 rpm/V }`,
  },
};
