/** The command `fettle.compare`: the packs of a build side by side, as `fettle compare` prints them in Markdown. */
import { comparisonMarkdown } from '../../report/compare/compare.ts';
import { compared } from '../../report/compare/compare-data.ts';
import { prose } from '../../report/present/markdown-safe.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { buildIn, documentAt, refuse } from './checked-documents.ts';

export interface CompareArguments {
  readonly uri: string;
  readonly build: string;
}

export function compareIn(services: EngineServices, { uri, build: name }: CompareArguments): string {
  const { assessments } = buildIn(documentAt(services, uri), name);
  if (assessments.length < 2) return refuse(`${name} has one pack at most: there is nothing to compare`);
  return `# ${prose(name)} on each of its packs\n\n${comparisonMarkdown(compared(assessments))}`;
}
