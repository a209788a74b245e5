// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.
import type { TextId } from '../../vocabulary/findings.ts';
import type { TextCheck } from '../text/text-check.ts';
import { CLAUSE } from '../text/clause.ts';
import { DUPLICATE } from '../text/duplicate.ts';
import { FORMER_NAME } from '../text/former-name.ts';
import { IMPLAUSIBLE_VALUE } from '../text/implausible-value.ts';
import { LIKE_CYCLE } from '../text/like-cycle.ts';
import { MISSING_UNIT } from '../text/missing-unit.ts';
import { MISSING_VALUE } from '../text/missing-value.ts';
import { NEWER_VERSION } from '../text/newer-version.ts';
import { NUMBER_FORM } from '../text/number-form.ts';
import { ONE_A_LINE } from '../text/one-a-line.ts';
import { SYNTAX } from '../text/syntax.ts';
import { UNKNOWN_NAME } from '../text/unknown-name.ts';
import { UNKNOWN_UNIT } from '../text/unknown-unit.ts';
import { UNUSED_USE } from '../text/unused-use.ts';
import { USE_MISSING } from '../text/use-missing.ts';
import { WRONG_DIMENSION } from '../text/wrong-dimension.ts';
import { WRONG_KIND } from '../text/wrong-kind.ts';

export const TEXT_CHECKS: Readonly<Record<TextId, TextCheck>> = {
  'syntax': SYNTAX,
  'unknown-name': UNKNOWN_NAME,
  'wrong-kind': WRONG_KIND,
  'wrong-dimension': WRONG_DIMENSION,
  'missing-unit': MISSING_UNIT,
  'unknown-unit': UNKNOWN_UNIT,
  'number-form': NUMBER_FORM,
  'implausible-value': IMPLAUSIBLE_VALUE,
  'missing-value': MISSING_VALUE,
  'duplicate': DUPLICATE,
  'one-a-line': ONE_A_LINE,
  'clause': CLAUSE,
  'like-cycle': LIKE_CYCLE,
  'former-name': FORMER_NAME,
  'use-missing': USE_MISSING,
  'unused-use': UNUSED_USE,
  'newer-version': NEWER_VERSION,
};
