import type { LangiumDocument } from 'langium';
import type { Lookup } from '../../resolve/lookup.ts';
import type { Problem, TextFindingId } from '../../syntax/problem.ts';
import type { Page } from '../check.ts';
import type { Severity } from '../finding.ts';

/**
 * A finding about the text itself: its severity, its page, and what finds it. What reads a line reports what keeps that line from being read by this
 * object as well: `problem(UNKNOWN_UNIT, …)`.
 */
export interface TextCheck {
  readonly id: TextFindingId;
  readonly severity: Severity;
  readonly page: Page;
  /** In a document whose names are linked; without it, it is found where lines are read. */
  readonly find?: (document: LangiumDocument, lookup: Lookup) => Iterable<Problem>;
}
