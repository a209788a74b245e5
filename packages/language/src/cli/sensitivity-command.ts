/** `fettle sensitivity`: what a step of each knob does to a result. */
import { sensitivities } from '../analysis/decide/sensitivities.ts';
import {
  type SensitivityTable,
  sensitivityJson,
  sensitivityMarkdown,
  sensitivityText,
} from '../report/decide/sensitivity-text.ts';
import { RESULT_NAMES } from '../vocabulary/results.ts';
import type { TableFormat } from './formats.ts';
import { assessmentsOn, buildNamed, checkedAt } from './named-builds.ts';
import { notThere, Refusal } from './refuse.ts';

export interface SensitivityOptions {
  readonly with?: string;
  readonly format: TableFormat;
}

export async function sensitivity(
  result: string,
  name: string,
  paths: readonly string[],
  options: SensitivityOptions,
): Promise<void> {
  const found = buildNamed(name, await checkedAt(paths, [name]));
  const assessments = assessmentsOn(options.with === undefined ? undefined : [options.with], found);
  const known = new Set([...RESULT_NAMES, ...assessments.flatMap(({ results }) => [...results.keys()])]);
  if (!known.has(result)) throw notThere('result', result, [...known]);
  const tables = assessments.flatMap(({ build, option, results }): SensitivityTable[] => {
    const turns = sensitivities(result, build, option);
    const level = results.get(result);
    if (!turns || !level) return [];
    const { label, unit } = level;
    return [{ build: build.name, pack: option.name, result, label, unit, level: level.estimate.value, turns }];
  });
  if (tables.length === 0) {
    const reason = assessments.flatMap(({ missing }) => missing.get(result)?.reason ?? [])[0];
    throw new Refusal(`${result} of ${name} is not computed${reason ? `: ${reason}` : ''}`);
  }
  const print = { text: sensitivityText, markdown: sensitivityMarkdown, json: sensitivityJson }[options.format];
  process.stdout.write(print(tables));
}
