/** The command `fettle.explain`: how a result came about, down to the figures, as Markdown. */

import { withResult } from '../../analysis/decide/pack-grams.ts';
import { membersOf } from '../../units/lookup-table.ts';
import { resultIdOf } from '../../vocabulary/results.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { wholeDerivation } from '../hover/derivation-hover.ts';
import { buildIn, documentAt, namesBuild, refuse } from './checked-documents.ts';

export interface ExplainArguments {
  readonly uri: string;
  readonly build: string;
  /** `hover_time`, `rail.video.voltage`. */
  readonly result: string;
  /** The build's first one when absent. */
  readonly pack?: string;
}

export function explainIn(services: EngineServices, { uri, build, result, pack }: ExplainArguments): string {
  const { assessments } = buildIn(documentAt(services, uri), build);
  const found = pack === undefined ? assessments[0] : assessments.find(({ option }) => option.name === pack);
  if (found === undefined) return refuse(pack === undefined ? `${build} has no pack` : `${build} has no pack ${pack}`);
  const id = resultIdOf(result);
  if (id === undefined) return refuse(`no such result: ${result}`);
  const assessment = withResult(id, found);
  const missing = assessment.missing.get(id);
  return (
    wholeDerivation(id, assessment) ??
    refuse(missing === undefined ? `no such result: ${result}` : `no ${missing.label}: ${missing.reason}`)
  );
}

export function isExplainArguments(value: unknown): value is ExplainArguments {
  const { result, pack }: Partial<Record<keyof ExplainArguments, unknown>> = membersOf(value);
  const isOptional = pack === undefined || typeof pack === 'string';
  return namesBuild(value) && typeof result === 'string' && isOptional;
}
