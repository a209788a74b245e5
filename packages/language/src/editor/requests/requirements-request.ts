import { type LangiumDocument, type LangiumDocuments, URI } from 'langium';
import type { Assessment } from '../../analysis/assessment.ts';
import { verdictOn } from '../../analysis/decide/pack-grams.ts';
import { type ConditionVerdict, isAskedOn } from '../../analysis/decide/requirements.ts';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { severityOfProblem } from '../../checks/text/text-problems.ts';
import type { Expression, PackOption, Requirement } from '../../model/build.ts';
import { verdictText, wordsOfVerdict } from '../../report/present/requirement-verdicts.ts';
import { LIBRARY_SCHEME } from '../../resolve/keys.ts';
import { type FileDocument, fileDocument } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { terminalSafe } from '../../syntax/terminal-safe.ts';
import type { EngineServices } from '../engine/editor-services.ts';
import { documentOfPlace, rangeOf } from '../place-ranges.ts';
import { ChecksOf, NOT_COMPUTED } from './checks-request.ts';
import type { ChecksOnPack, PackLine, RequirementOnPack, RequirementSummary, RequirementsAnswer } from './protocol.ts';

export function requirementsOf(document: FileDocument, { workspace }: EngineServices): RequirementsAnswer {
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
function drawnOn({ uri }: LangiumDocument, workspace: EngineServices['workspace']): FileDocument[] {
  const uris = [...workspace.IndexManager.dependenciesOf(uri.toString())].map((source) => URI.parse(source));
  return uris.flatMap((source) => {
    const document = source.scheme === LIBRARY_SCHEME ? undefined : workspace.LangiumDocuments.getDocument(source);
    return document === undefined ? [] : [fileDocument(document)];
  });
}

const isError = (problem: Problem): boolean => severityOfProblem(problem) === 'error';

function packLine({ name, place }: PackOption, checks: ChecksOnPack, documents: LangiumDocuments): PackLine[] {
  const document = documentOfPlace(place, documents);
  if (document === undefined) return [];
  return [{ pack: name, uri: document.uri.toString(), range: rangeOf(document, place.start, place.end), checks }];
}

function requirementOf(
  requirement: Requirement,
  checked: CheckedBuild,
  documents: LangiumDocuments,
): RequirementSummary[] {
  const { text, because, place } = requirement;
  const document = documentOfPlace(place, documents);
  if (document === undefined) return [];
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
  const [, ...others] = wordsOfVerdict(verdict);
  const numbers = numbersBehind(requirement.condition, verdict);
  return {
    pack: name,
    verdict: verdictText(verdict),
    message: wordsOfVerdict(verdict).join('; '),
    ...(numbers !== undefined && { shortMessage: [numbers, ...others].join('; ') }),
  };
}

/** Of the comparison that a condition begins with, where that begins with a result that has a value. */
function numbersBehind(condition: Expression, verdict: ConditionVerdict): string | undefined {
  if (condition.kind === 'and' || condition.kind === 'or') {
    const [first] = condition.operands;
    return first && numbersBehind(first, verdict);
  }
  if (condition.kind !== 'comparison' || condition.left.kind !== 'result') return undefined;
  const [first] = verdict.comparisons;
  return first?.place === condition.place ? first.numbers : undefined;
}
