import type { TextCheck } from './text-check.ts';

export const clause: TextCheck = {
  id: 'clause',
  severity: 'error',
  page: {
    title: 'A word this line does not take',
    cause:
      'Behind a value stand only the conditions its property knows: `idle: 0.6 A at 7.4 V`, `burst: 12 A for 5 s`.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the clause out, or use the one the message names.',
    fails: `motor Odd like M1104 { kv: 10500 rpm/V for 3 s }`,
    passes: `motor Even like M1104 { burst: 12 A for 5 s }`,
  },
};
