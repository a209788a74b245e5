import type { TextCheck } from './text-check.ts';

export const likeCycle: TextCheck = {
  id: 'like-cycle',
  severity: 'error',
  page: {
    title: 'Like itself, in a circle',
    cause: 'A part that is `like` another inherits from it; in a circle there is no first one.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Break the circle: let one of them stand on its own.',
    fails: `item Hen like Egg { }
item Egg like Hen { }`,
    passes: `item Hen { mass: 2 g }
item Egg like Hen { }`,
  },
};
