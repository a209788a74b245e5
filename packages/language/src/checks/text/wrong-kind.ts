import type { TextCheck } from './text-check.ts';

export const WRONG_KIND: TextCheck = {
  id: 'wrong-kind',
  severity: 'error',
  page: {
    title: 'A part of another kind is expected here',
    cause: 'Each line takes parts of certain kinds: `esc:` an esc, `pack:` a pack.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write the name of a part of the right kind.',
    fails: `build Mixed like Healthy {
  pack: M1805
}`,
    passes: `build Sorted like Healthy {
  pack: Mast900_4S as Sorted
}`,
  },
};
