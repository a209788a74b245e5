import type { TextCheck } from './text-check.ts';

export const duplicate: TextCheck = {
  id: 'duplicate',
  severity: 'error',
  page: {
    title: 'Written twice',
    cause:
      'A property twice in one block, or two parts with one name where both are visible: the reference is ambiguous.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take one of them out, or give it another name.',
    fails: `item Twice { mass: 3 g  mass: 4 g }`,
    passes: `item Once { mass: 3 g }`,
  },
};
