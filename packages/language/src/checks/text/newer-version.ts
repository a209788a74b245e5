import type { TextCheck } from './text-check.ts';

export const newerVersion: TextCheck = {
  id: 'newer-version',
  severity: 'warning',
  page: {
    title: 'Written for a newer version of the language',
    cause: 'The first line states a version that this program does not know; nothing else of the file is checked.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Update Fettle.',
    fails: ``,
    passes: ``,
  },
};
