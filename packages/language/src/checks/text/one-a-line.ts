import type { TextCheck } from './text-check.ts';

export const oneALine: TextCheck = {
  id: 'one-a-line',
  severity: 'error',
  page: {
    title: 'One statement per line',
    cause: 'There are no lists: a comma is then always a decimal comma or a habit.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Write the line again for the next thing.',
    fails: `build Listed like Healthy {
  item: Strap, Strap
}`,
    passes: `build Lined like Healthy {
  item: Strap
  item: Strap
}`,
  },
};
