import type { TextCheck } from './text-check.ts';

export const UNKNOWN_NAME: TextCheck = {
  id: 'unknown-name',
  severity: 'error',
  page: {
    title: 'No such name',
    cause:
      'The line names a part, rail, property, result or finding that does not exist, or that this file does not open.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Correct the spelling, or open the folder with `use`.',
    fails: `build Misspelt like Healthy {
  without: Mast900_4S
  pack: Mast900_4s
}`,
    passes: `build Spelt like Healthy {
  pack: Mast900_4S as Spelt
}`,
  },
};
