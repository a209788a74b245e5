import type { TextCheck } from './text-check.ts';

export const LIKE_CYCLE: TextCheck = {
  id: 'like-cycle',
  severity: 'error',
  page: {
    title: 'Parts inherit from each other in a circle, or in too long a chain',
    cause:
      'A part that is `like` another inherits from it; in a circle there is no first one, and a chain of more than 32 cannot be followed by a reader.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy:
      'Break the circle: let one of them inherit from none. Shorten the chain: let parts be like one of its first.',
    fails: `item Hen like Egg { }
item Egg like Hen { }`,
    passes: `item Hen { mass: 2 g }
item Egg like Hen { }`,
  },
};
