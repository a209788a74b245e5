import type { TextCheck } from './text-check.ts';

export const UNUSED_USE: TextCheck = {
  id: 'unused-use',
  severity: 'hint',
  page: {
    title: 'Nothing from here is used',
    cause: 'The line opens a folder that nothing in this file needs.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the line out.',
    fails: ``,
    passes: ``,
  },
};
