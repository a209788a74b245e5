// Written by "npm run generate" from the names in the vocabulary: a name without its file does not compile.
import type { TextId } from '../../../vocabulary/findings.ts';
import type { TextCheck } from '../text-check.ts';
import { CLAUSE } from '../clause.ts';
import { DUPLICATE } from '../duplicate.ts';
import { FORMER_NAME } from '../former-name.ts';
import { IMPLAUSIBLE_VALUE } from '../implausible-value.ts';
import { LIKE_CYCLE } from '../like-cycle.ts';
import { MISSING_UNIT } from '../missing-unit.ts';
import { MISSING_VALUE } from '../missing-value.ts';
import { NEWER_VERSION } from '../newer-version.ts';
import { NUMBER_FORM } from '../number-form.ts';
import { ONE_A_LINE } from '../one-a-line.ts';
import { SYNTAX } from '../syntax.ts';
import { UNKNOWN_NAME } from '../unknown-name.ts';
import { UNKNOWN_UNIT } from '../unknown-unit.ts';
import { UNUSED_USE } from '../unused-use.ts';
import { USE_MISSING } from '../use-missing.ts';
import { WRONG_DIMENSION } from '../wrong-dimension.ts';
import { WRONG_KIND } from '../wrong-kind.ts';

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
