import type { TextCheck } from './text-check.ts';

export const CLAUSE: TextCheck = {
  id: 'clause',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'A word this line does not take',
    cause:
      'After a value only the conditions that its property takes are allowed: `no_load_current: 0.6 A at 7.4 V`, `burst: 16 A for 8 s`.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the clause out, or use one that the message lists.',
    fixes: ['certain', 'choice'],
    fails: `motor Odd like M1805 { kv: 2550 rpm/V for 3 s }`,
    passes: `motor Even like M1805 { burst: 16 A for 8 s }`,
  },
};
