import type { TextCheck } from './text-check.ts';

export const duplicate: TextCheck = {
  id: 'duplicate',
  severity: 'error',
  page: {
    title: 'Said twice',
    cause:
      'A property twice in one block, or two parts of one name where both are seen: nobody knows which one is meant.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take one of them out, or give it another name.',
    fails: `item Twice { mass: 3 g  mass: 4 g }`,
    passes: `item Once { mass: 3 g }`,
  },
};
