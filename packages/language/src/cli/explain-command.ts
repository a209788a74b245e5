import { withResult } from '../analysis/decide/pack-grams.ts';
import { explanationText } from '../report/present/explanation-text.ts';
import { resultIdOf } from '../vocabulary/results.ts';
import { worstOf } from './checked-files.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { notThere } from './refuse.ts';

export interface ExplainOptions {
  readonly with?: string;
}

/** Prints how a result came about, on each pack of the build or on the one requested; returns the exit code. */
export async function explain(
  result: string,
  buildName: string,
  paths: readonly string[],
  options: ExplainOptions,
): Promise<number> {
  const checked = await checkedAt(paths, [buildName]);
  const assessments = assessmentsOn(
    options.with === undefined ? undefined : [options.with],
    buildNamed(buildName, checked),
  );
  const id = resultIdOf(result);
  const texts = assessments.map((found) => {
    if (!id) throw notThere('result', result, [...found.results.keys()]);
    const assessment = withResult(id, found);
    const missing = assessment.missing.get(id);
    if (missing) return `${result} of ${buildName} on ${assessment.option.name}: none, ${missing.reason}\n`;
    const text = explanationText(id, assessment, checked);
    if (text === undefined) throw notThere('result', result, [...assessment.results.keys()]);
    return text;
  });
  process.stdout.write(texts.join('\n'));
  return worstOf(checked.failures);
}
