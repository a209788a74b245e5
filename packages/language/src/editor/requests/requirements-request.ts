import { type LangiumDocument, type LangiumDocuments, URI } from 'langium';
import type { Assessment } from '../../analysis/assessment.ts';
import { verdictOn } from '../../analysis/decide/pack-grams.ts';
import { isAskedOn } from '../../analysis/decide/requirements.ts';
import { TEXT_CHECKS } from '../../checks/registry.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import type { File } from '../../grammar/generated/ast.ts';
import type { PackOption, Requirement } from '../../model/build.ts';
import { verdictText, wordsOfVerdict } from '../../report/present/requirement-verdicts.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import type { Problem } from '../../syntax/problem.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { documentOf, rangeOf } from '../places.ts';
import { ChecksOf, NOT_COMPUTED } from './checks-request.ts';
import type { ChecksOnPack, PackLine, RequirementOnPack, RequirementSummary, RequirementsAnswer } from './protocol.ts';

export function requirementsOf(document: LangiumDocument<File>, { workspace }: EngineServices): RequirementsAnswer {
  const documents = workspace.LangiumDocuments;
  const { builds } = checkDocument(readDocument(document));
  const checks = new ChecksOf(document);
  const sources = [document, ...drawnOn(document, workspace)];
  return {
    builds: builds.map((checked) => ({
      build: checked.build.name,
      ...(checked.build.title !== undefined && { title: terminalSafe(checked.build.title) }),
      range: rangeOf(document, checked.build.place.start, checked.build.place.end),
      packs: checked.build.packs.flatMap((option) => {
        const assessment = assessmentOn(option, checked);
        return packLine(option, assessment ? checks.on(checked.build, assessment) : NOT_COMPUTED, documents);
      }),
      requirements: checked.build.rules.requirements.flatMap((one) => requirementOf(one, checked, documents)),
    })),
    isComplete: sources.every((source) => readDocument(source).problems.every((problem) => !isError(problem))),
  };
}

/** What the file refers to, directly and through others; the library is always whole. */
function drawnOn({ uri }: LangiumDocument, workspace: EngineServices['workspace']): LangiumDocument<File>[] {
  const uris = [...workspace.IndexManager.dependenciesOf(uri.toString())].map((source) => URI.parse(source));
  return uris.flatMap((source) => {
    const document = source.scheme === LIBRARY_SCHEME ? undefined : workspace.LangiumDocuments.getDocument(source);
    return document === undefined ? [] : [document as LangiumDocument<File>];
  });
}

const isError = ({ id, severity }: Problem): boolean => (severity ?? TEXT_CHECKS[id].severity) === 'error';

function packLine({ name, place }: PackOption, checks: ChecksOnPack, documents: LangiumDocuments): PackLine[] {
  const document = documentOf(place, documents);
  if (document === undefined) {
    return [];
  }
  return [{ pack: name, uri: document.uri.toString(), range: rangeOf(document, place.start, place.end), checks }];
}

function requirementOf(
  requirement: Requirement,
  checked: CheckedBuild,
  documents: LangiumDocuments,
): RequirementSummary[] {
  const { text, because, place } = requirement;
  const document = documentOf(place, documents);
  if (document === undefined) {
    return [];
  }
  const meant = checked.build.packs.filter((option) => isAskedOn(requirement, option));
  return [
    {
      text,
      ...(because !== undefined && { because }),
      uri: document.uri.toString(),
      range: rangeOf(document, place.start, place.end),
      packs: meant.map((option) => onPack(requirement, option, assessmentOn(option, checked))),
    },
  ];
}

/** None where a mistake of ours kept it from being computed. */
const assessmentOn = ({ name }: PackOption, { assessments }: CheckedBuild): Assessment | undefined =>
  assessments.find(({ option }) => option.name === name);

function onPack(requirement: Requirement, { name }: PackOption, assessment: Assessment | undefined): RequirementOnPack {
  if (!assessment) return { pack: name, verdict: NOT_COMPUTED.verdict, message: NOT_COMPUTED.message };
  const verdict = verdictOn(requirement, assessment);
  return { pack: name, verdict: verdictText(verdict), message: wordsOfVerdict(verdict).join('; ') };
}
