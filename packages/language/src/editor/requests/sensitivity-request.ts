/** The command `fettle.sensitivity`: what one step of each figure of a build does to its minutes and its thrust, in Markdown. */
import type { CancellationToken } from 'vscode-languageserver';
import { sensitivities } from '../../analysis/decide/sensitivities.ts';
import { type SensitivityTable, sensitivityMarkdown } from '../../report/decide/sensitivity-text.ts';
import { prose } from '../../report/present/markdown-safe.ts';
import { HEADLINES } from '../../vocabulary/headlines.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { buildIn, documentAt, refuse, whenChecked } from './checked-documents.ts';

export interface SensitivityArguments {
  readonly uri: string;
  readonly build: string;
}

export function sensitivityIn(
  services: EngineServices,
  { uri, build: name }: SensitivityArguments,
  cancellation: CancellationToken,
): Promise<string> {
  return whenChecked(services, cancellation, () => {
    const { assessments } = buildIn(documentAt(services, uri), name);
    const tables = assessments.flatMap(({ build, option, results }) =>
      HEADLINES.sensitivity.flatMap((result): SensitivityTable[] => {
        const level = results.get(result);
        const turns = sensitivities(result, build, option);
        if (!level || !turns) return [];
        const { label, unit, estimate } = level;
        return [{ build: build.name, pack: option.name, result, label, unit, level: estimate.value, turns }];
      }),
    );
    if (tables.length === 0) return refuse(`nothing can be computed for ${name} yet`);
    return `# ${prose(name)}, what a step does\n\n${sensitivityMarkdown(tables)}`;
  });
}
