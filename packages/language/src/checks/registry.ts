/** Every check there is, by the names in `vocabulary/findings.ts`. */

import type { Page } from '../vocabulary/finding-page.ts';
import type { FindingId } from '../vocabulary/findings.ts';
import { STALE_ACCEPTANCE_PAGE } from './acceptances.ts';
import type { Check } from './check.ts';
import { ESTIMATES_PAGE } from './craft/estimates.ts';
import { CRAFT_CHECKS } from './generated/checks.ts';
import { TEXT_CHECKS } from './text/generated/text-checks.ts';

export const CHECKS: readonly Check[] = Object.values(CRAFT_CHECKS);

/** The reference page of every finding there can be. */
export const PAGES: Readonly<Record<FindingId, Page>> = {
  ...pagesOf(CRAFT_CHECKS),
  estimates: ESTIMATES_PAGE,
  ...pagesOf(TEXT_CHECKS),
  'stale-acceptance': STALE_ACCEPTANCE_PAGE,
};

function pagesOf<Id extends FindingId>(checks: Readonly<Record<Id, { readonly page: Page }>>): Record<Id, Page> {
  const pages = Object.entries<{ readonly page: Page }>(checks).map(([id, { page }]) => [id, page]);
  return Object.fromEntries(pages) as Record<Id, Page>;
}
