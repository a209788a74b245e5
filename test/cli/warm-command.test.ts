/** The command that is run again and again by one process prints what a process of its own prints. */
import { afterAll, expect, it } from 'vitest';
import { cases, oneIn } from '../long.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

it.each(
  oneIn(2, [
    [['--version']],
    [['--help']],
    [['check', '--help']],
    [['check', '--nonsense']],
    [['check', 'nowhere']],
    [['check', 'examples']],
    [['check', cases(0, 1) ? 'examples/broken' : 'examples/broken/too-heavy.fettle', '--format', 'sarif']],
    [['card', 'Gable', '--in', 'examples/builds']],
    [['card', 'Gable', '--in', 'examples/builds', '--out', 'no/card.html']],
    [['explain', 'hover_time', 'Gable', 'examples/builds']],
    [['format', 'examples', '--check']],
    [['review']],
  ]),
)('fettle %j', (args) => {
  const alone = shop.fettleAlone(...args);
  expect(shop.fettle(...args)).toEqual(alone);
  expect(shop.fettle(...args)).toEqual(alone);
});
