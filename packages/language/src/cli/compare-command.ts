import { comparisonJson, comparisonMarkdown, comparisonText } from '../report/compare/compare.ts';
import { compared } from '../report/compare/compare-data.ts';
import { worstOf } from './checked-files.ts';
import type { TableFormat } from './formats.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { Refusal } from './refuse.ts';

export interface CompareOptions {
  /** Files and folders to look in. */
  readonly in: readonly string[];
  /** On these packs only. */
  readonly with?: readonly string[];
  readonly format: TableFormat;
}

/** Prints the packs of a build, or builds, side by side; returns the exit code. */
export async function compare(names: readonly string[], options: CompareOptions): Promise<number> {
  const checked = await checkedAt(options.in, names);
  const builds = names.map((name) => buildNamed(name, checked));
  const assessments = builds.flatMap((build) =>
    assessmentsOn(packsOf(build.build.packs, builds.length, options), build),
  );
  if (assessments.length < 2)
    throw new Refusal('there is only one build on one pack: state another build, or more packs');
  const print = { text: comparisonText, markdown: comparisonMarkdown, json: comparisonJson }[options.format];
  process.stdout.write(print(compared(assessments)));
  return worstOf(checked.failures);
}

/** Of several builds, a pack that only some of them fly counts for those. */
function packsOf(
  packs: readonly { readonly name: string }[],
  builds: number,
  { with: requested }: CompareOptions,
): readonly string[] | undefined {
  if (requested === undefined || builds === 1) return requested;
  return requested.filter((pack) => packs.some(({ name }) => name === pack));
}
