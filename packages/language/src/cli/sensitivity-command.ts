/** `fettle sensitivity`: what a step of each knob does to a result. */
import { sensitivities } from '../analysis/decide/sensitivities.ts';
import {
  type SensitivityTable,
  sensitivityJson,
  sensitivityMarkdown,
  sensitivityText,
} from '../report/decide/sensitivity-text.ts';
import { RESULT_NAMES, resultIdOf } from '../vocabulary/results.ts';
import { worstOf } from './checked-files.ts';
import type { TableFormat } from './formats.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { notThere, Refusal } from './refuse.ts';

export interface SensitivityOptions {
  readonly with?: string;
  readonly format: TableFormat;
}

/** Prints what a step of each figure does to a result; returns the exit code. */
export async function sensitivity(
  result: string,
  name: string,
  paths: readonly string[],
  options: SensitivityOptions,
): Promise<number> {
  const checked = await checkedAt(paths, [name]);
  const assessments = assessmentsOn(options.with === undefined ? undefined : [options.with], buildNamed(name, checked));
  const known = new Set<string>([...RESULT_NAMES, ...assessments.flatMap(({ results }) => [...results.keys()])]);
  const id = resultIdOf(result);
  if (!id || !known.has(id)) throw notThere('result', result, [...known]);
  const tables = assessments.flatMap(({ build, option, results }): SensitivityTable[] => {
    const turns = sensitivities(id, build, option);
    const level = results.get(id);
    if (!turns || !level) return [];
    const { label, unit } = level;
    return [{ build: build.name, pack: option.name, result, label, unit, level: level.estimate.value, turns }];
  });
  if (tables.length === 0) {
    const reason = assessments.flatMap(({ missing }) => missing.get(id)?.reason ?? [])[0];
    throw new Refusal(`${result} of ${name} is not computed${reason ? `: ${reason}` : ''}`);
  }
  const print = { text: sensitivityText, markdown: sensitivityMarkdown, json: sensitivityJson }[options.format];
  process.stdout.write(print(tables));
  return worstOf(checked.failures);
}
