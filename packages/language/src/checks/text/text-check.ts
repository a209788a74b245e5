import type { TextFindingId } from '../../syntax/problem.ts';
import type { Page } from '../check.ts';
import type { Severity } from '../finding.ts';

/**
 * A finding about the text itself: its severity and its page. What reads the text reports it by this object (`problem(UNKNOWN_UNIT, …)`), in
 * the finding's own file or in that of the reader.
 */
export interface TextCheck {
  readonly id: TextFindingId;
  readonly severity: Severity;
  readonly page: Page;
}
