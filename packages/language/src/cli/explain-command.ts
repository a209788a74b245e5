import { withResult } from '../analysis/decide/pack-grams.ts';
import { explanationText } from '../report/present/explanation-text.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { notThere } from './refuse.ts';

export interface ExplainOptions {
  readonly with?: string;
}

/** Prints how a result came about, on each pack of the build or on the one requested. */
export async function explain(
  result: string,
  buildName: string,
  paths: readonly string[],
  options: ExplainOptions,
): Promise<void> {
  const checked = await checkedAt(paths, [buildName]);
  const assessments = assessmentsOn(
    options.with === undefined ? undefined : [options.with],
    buildNamed(buildName, checked),
  );
  const texts = assessments.map((found) => {
    const assessment = withResult(result, found);
    const missing = assessment.missing.get(result);
    if (missing) return `${result} of ${buildName} on ${assessment.option.name}: none, ${missing.reason}\n`;
    const text = explanationText(result, assessment, checked);
    if (text === undefined) throw notThere('result', result, [...assessment.results.keys()]);
    return text;
  });
  process.stdout.write(texts.join('\n'));
}
