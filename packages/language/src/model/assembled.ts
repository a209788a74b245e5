/** A build, and what its assembly found that its findings about the text need. */
import type { Entry } from '../syntax/entries.ts';
import type { Build } from './build.ts';
import type { Feeds } from './feeds.ts';
import type { BuildFlights } from './flights.ts';

/** A build, and what its assembly found that its findings about the text need. */
export interface Assembled {
  readonly build: Build;
  readonly feeds: Feeds;
  readonly entries: readonly Entry[];
  /** What its flights release and it does not have on board. */
  readonly notOnBoard: BuildFlights['missing'];
}
