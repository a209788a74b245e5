import { explanationText } from '../report/explanation.ts';
import { nearest } from '../units/nearest.ts';
import { checkPaths } from './check.ts';

export interface ExplainOptions {
  readonly with?: string;
}

/** Prints how a result came about, on each pack of the build or on the one asked for; returns the exit code. */
export async function explain(
  result: string,
  buildName: string,
  paths: readonly string[],
  options: ExplainOptions,
): Promise<number> {
  const { checked } = await checkPaths(paths);
  const refuse = (message: string): number => {
    process.stderr.write(`fettle: ${message}\n`);
    return 2;
  };
  const build = checked.builds.find((one) => one.build.name === buildName);
  if (!build)
    return refuse(
      notThere(
        'build',
        buildName,
        checked.builds.map((one) => one.build.name),
      ),
    );
  const assessments = build.assessments.filter(
    ({ option }) => options.with === undefined || option.name === options.with,
  );
  if (assessments.length === 0)
    return refuse(
      notThere(
        'pack',
        options.with ?? '',
        build.assessments.map(({ option }) => option.name),
      ),
    );
  const texts: string[] = [];
  for (const assessment of assessments) {
    const text = explanationText(result, assessment, checked);
    const missing = assessment.missing.get(result);
    if (text) texts.push(text);
    else if (missing) texts.push(`${result} of ${buildName} on ${assessment.option.name}: none, ${missing.reason}\n`);
    else return refuse(notThere('result', result, [...assessment.results.keys()]));
  }
  process.stdout.write(texts.join('\n'));
  return 0;
}

function notThere(what: string, name: string, known: readonly string[]): string {
  const [likely] = nearest(name, known);
  return `there is no ${what} ${name}${likely ? `; did you mean ${likely}?` : known.length > 0 ? `; known: ${known.slice(0, 8).join(', ')}` : ''}`;
}
