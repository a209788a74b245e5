/** One version of a build as far as it decides what more is permitted. */
import type { Finding } from '../../checks/finding.ts';
import { checkDocument } from '../../checks/run.ts';
import type { Sources } from '../present/sources.ts';
import { hasSamePacks, withNamesOf } from './pack-names.ts';
import type { Judgement } from './relaxations.ts';
import type { Side, SideBuild } from './side.ts';

export function judgement(
  side: Side,
  { build, restsOn }: SideBuild,
  findings: readonly Finding[],
  sources: Sources,
): Judgement {
  const asking = restsOn.filter(({ kind }) => kind === 'build' || kind === 'rules').map(({ place }) => place.uri);
  return {
    build,
    findings,
    tears: [...new Set(asking)].flatMap((uri) => problemsIn(side, uri)).filter(({ id }) => id === 'syntax').length,
    ...judgedLinesOf(side, sources),
  };
}

const problemsIn = (side: Side, uri: string) => side.models.get(uri)?.problems ?? [];

export const judgedLinesOf = (side: Side, sources: Sources): Pick<Judgement, 'wrongLines' | 'wordsAt'> => ({
  wrongLines: (uri) =>
    checkDocument({ problems: problemsIn(side, uri), builds: [] })
      .findings.filter(({ severity }) => severity === 'error')
      .map(({ place }) => sources.excerpt(place)?.text ?? ''),
  wordsAt: (place) => sources.words(place),
});

/** What was required on a pack is required on it under another name. */
export const withPacksOf = (after: SideBuild, before: SideBuild): SideBuild => ({
  ...before,
  build: withNamesOf(after.build, before.build, hasSamePacks),
});
