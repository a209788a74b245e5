import type { TextCheck } from './text-check.ts';

export const USE_MISSING: TextCheck = {
  id: 'use-missing',
  severity: 'error',
  page: {
    title: 'The file or folder to use is not there',
    cause:
      '`use` opens a folder or a file, relative to the file that contains it. Names that depend on it are not reported until it is found.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Correct the path.',
    fails: `use "../nowhere"`,
    passes: ``,
  },
};
