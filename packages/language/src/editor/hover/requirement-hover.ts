/** A requirement: both sides, on each pack it applies to. Markdown. */
import type { Assessment } from '../../analysis/assessment.ts';
import { gramsLeft, verdictOn } from '../../analysis/decide/pack-grams.ts';
import { isAskedOn } from '../../analysis/decide/requirements.ts';
import { printedIn } from '../../analysis/uncertainty/print-estimate.ts';
import type { CheckedBuild } from '../../checks/run.ts';
import type { Require } from '../../grammar/generated/ast.ts';
import type { Requirement } from '../../model/build.ts';
import { verdictText, wordsOfVerdict } from '../../report/present/requirement-verdicts.ts';
import { gramsLeftText } from '../../report/sheet/sheet-words.ts';
import { partAround } from '../../syntax/nodes.ts';
import { placeOf } from '../../syntax/source.ts';
import { fettleCode, paragraphs, plain, table } from './hover-markdown.ts';

export function requirementText(node: Require, checked: CheckedBuild | undefined): string | undefined {
  const requirement = checked && requirementAt(node, checked);
  if (checked === undefined || requirement === undefined) return undefined;
  const rows = checked.assessments
    .filter(({ option }) => isAskedOn(requirement, option))
    .map((assessment) => rowOf(requirement, assessment));
  const because = requirement.because === undefined ? undefined : `Because ${plain(requirement.because)}.`;
  return paragraphs(
    `**require** ${fettleCode(requirement.text)}`,
    rows.length === 0
      ? 'The build has no pack yet, so it cannot be checked.'
      : table(['on', 'verdict', 'value'], rows, ['verdict', 'value']),
    because,
    standing(requirement, node),
  );
}

/** Whether it replaces a line of the block that its own is like, or adds to it. */
function standing({ replaces }: Requirement, node: Require): string | undefined {
  const base = partAround(node)?.base?.head?.$refText;
  if (base === undefined) return undefined;
  return replaces
    ? `Replaces ${fettleCode(replaces.text)} of the base ${replaces.from === undefined ? 'build' : 'rules'}.`
    : `Adds to what ${fettleCode(base)} requires.`;
}

export function requirementAt(node: Require, { build }: CheckedBuild): Requirement | undefined {
  const { uri, start, end } = placeOf(node);
  return build.rules.requirements.find(({ place }) => place.uri === uri && place.start >= start && place.end <= end);
}

function rowOf(requirement: Requirement, assessment: Assessment): string[] {
  const verdict = verdictOn(requirement, assessment);
  const left = gramsLeft(assessment).find((one) => one.requirement === requirement)?.mass;
  const grams = left ? [gramsLeftText({ ...printedIn('g', left), isSigned: true })] : [];
  return [
    fettleCode(assessment.option.name),
    verdictText(verdict),
    [...wordsOfVerdict(verdict), ...grams].map(plain).join('; '),
  ];
}
