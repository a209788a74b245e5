import type { TextCheck } from './text-check.ts';

export const WRONG_DIMENSION: TextCheck = {
  id: 'wrong-dimension',
  severity: 'error',
  isReportedByReaders: true,
  page: {
    title: 'A figure of the wrong dimension',
    cause:
      'A mass was expected and a length was written, or the like. In the trade “kv” is unloaded speed per volt, not kilovolts.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write the unit that the message states.',
    fixes: ['choice'],
    fails: `item Strange { mass: 3.4 mm }`,
    passes: `item Usual { mass: 3.4 g }`,
  },
};
