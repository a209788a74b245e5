import type { LangiumDocument, LangiumDocuments } from 'langium';
import type { Assessment } from '../../analysis/assessment.ts';
import { verdictOn } from '../../analysis/pack-grams.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import type { File } from '../../grammar/generated/ast.ts';
import type { Requirement } from '../../model/build.ts';
import { readDocument } from '../../model/read.ts';
import { verdictText, wordsOfVerdict } from '../../report/verdicts.ts';
import { documentOf, rangeOf } from '../places.ts';
import type { BuildRequirements, RequirementOnPack, RequirementSummary } from './protocol.ts';

export function requirementsOf(document: LangiumDocument<File>, documents: LangiumDocuments): BuildRequirements[] {
  const { builds } = checkDocument(readDocument(document));
  return builds.map((checked) => ({
    build: checked.build.name,
    ...(checked.build.title !== undefined && { title: checked.build.title }),
    range: rangeOf(document, checked.build.place.start, checked.build.place.end),
    requirements: checked.build.rules.requirements.flatMap((one) => requirementOf(one, checked, documents)),
  }));
}

function requirementOf(
  requirement: Requirement,
  { assessments }: CheckedBuild,
  documents: LangiumDocuments,
): RequirementSummary[] {
  const { text, because, pack, place } = requirement;
  const document = documentOf(place, documents);
  if (document === undefined) {
    return [];
  }
  const meant = assessments.filter(({ option }) => pack === undefined || option.name === pack);
  return [
    {
      text,
      ...(because !== undefined && { because }),
      uri: document.uri.toString(),
      range: rangeOf(document, place.start, place.end),
      packs: meant.map((assessment) => onPack(requirement, assessment)),
    },
  ];
}

function onPack(requirement: Requirement, assessment: Assessment): RequirementOnPack {
  const verdict = verdictOn(requirement, assessment);
  return { pack: assessment.option.name, verdict: verdictText(verdict), message: wordsOfVerdict(verdict).join('; ') };
}
