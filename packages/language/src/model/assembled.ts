/** A build, and what its assembly found that its findings about the text need. */
import type { Entry } from '../syntax/entries.ts';
import type { Build } from './build.ts';
import type { Feeds } from './feeds.ts';

/** A build, and what its assembly found that its findings about the text need. */
export interface Assembled {
  readonly build: Build;
  readonly feeds: Feeds;
  readonly entries: readonly Entry[];
}
