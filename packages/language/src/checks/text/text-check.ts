import type { TextFindingId } from '../../syntax/problem.ts';
import type { Page } from '../check.ts';
import type { Severity } from '../finding.ts';

/** A finding about the text itself. The model reports it where it reads the text; here are its severity and its page. */
export interface TextCheck {
  readonly id: TextFindingId;
  readonly severity: Severity;
  readonly page: Page;
}
