/** Every check there is, by the names in `vocabulary/findings.ts`. */
import { STALE_ACCEPTANCE_PAGE } from './acceptances.ts';
import type { Check, Page } from './check.ts';
import { ESTIMATES_PAGE } from './craft/estimates.ts';
import { CRAFT_CHECKS } from './generated/checks.ts';
import { TEXT_CHECKS } from './generated/text-checks.ts';

export { TEXT_CHECKS };

export const CHECKS: readonly Check[] = Object.values(CRAFT_CHECKS);

/** The reference page of every finding there can be. */
export const PAGES: Readonly<Record<string, Page>> = Object.fromEntries([
  ...CHECKS.map(({ id, page }) => [id, page]),
  ['estimates', ESTIMATES_PAGE],
  ...Object.values(TEXT_CHECKS).map(({ id, page }) => [id, page]),
  ['stale-acceptance', STALE_ACCEPTANCE_PAGE],
]);
