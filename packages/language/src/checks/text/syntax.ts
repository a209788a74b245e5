import type { TextCheck } from './text-check.ts';

export const SYNTAX: TextCheck = {
  id: 'syntax',
  severity: 'error',
  page: {
    title: 'Something here cannot be read',
    cause:
      'A brace, quote or word is missing, or there is one too many. Everything around it is still read and computed.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Add what the message states.',
    fails: `item Half {
  mass: 3 g
  note "no closing quote
}`,
    passes: `item Whole {
  mass: 3 g
  note "closed"
}`,
  },
};
