/** Whether anything can be an error, at a fraction of what the findings cost: for candidates by the thousand. */
import type { Assessment } from '../analysis/assessment.ts';
import type { Build } from '../model/build.ts';
import type { CraftCheckId } from '../vocabulary/findings.ts';
import type { Check } from './check.ts';
import { CHECKS } from './registry.ts';
import { ruledSeverity } from './run.ts';

/** Findings about the parts of a craft alone: the same with every duty limit. */
export type KnownOfParts = Map<Check, boolean>;

/**
 * Of what is no finding here `buildFindings` makes no error; of what is, an acceptance or a cause may still take it away.
 * @param known of the same craft on the same pack
 */
export function possibleErrors(build: Build, assessment: Assessment, known: KnownOfParts): readonly CraftCheckId[] {
  const { option } = assessment;
  const subject = { build, option, assessment };
  return CHECKS.flatMap((check) =>
    (check.atMost === undefined || isMadeError(check, build)) &&
    (isErrorOfParts(check, build, assessment, known) || isErrorOn(check, subject))
      ? [check.id]
      : [],
  );
}

const isMadeError = ({ id }: Check, { rules }: Build): boolean =>
  rules.severities.some(({ finding, to }) => finding === id && to === 'error');

const isErrorOn = (check: Check, subject: Parameters<NonNullable<Check['option']>>[0]): boolean => {
  for (const { severity } of check.option?.(subject) ?? [])
    if (severity !== 'undecided' && ruledSeverity(subject.build, check.id, severity) === 'error') return true;
  return false;
};

function isErrorOfParts(check: Check, build: Build, assessment: Assessment, known: KnownOfParts): boolean {
  if (!check.build) return false;
  const reported = known.get(check);
  if (reported !== undefined) return reported;
  let isAboutResults = false;
  const subject = {
    build,
    get assessments() {
      isAboutResults = true;
      return [assessment];
    },
  };
  let isError = false;
  for (const { severity } of check.build(subject))
    if (severity !== 'undecided' && ruledSeverity(build, check.id, severity) === 'error') isError = true;
  if (!isAboutResults) known.set(check, isError);
  return isError;
}
