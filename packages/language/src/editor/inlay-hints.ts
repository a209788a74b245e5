import type { LangiumDocument } from 'langium';
import type { InlayHintProvider } from 'langium/lsp';
import type { InlayHintParams } from 'vscode-languageserver-protocol';
import type { InlayHint } from 'vscode-languageserver-types';
import type { Assessment } from '../analysis/assessment.ts';
import { verdictOn } from '../analysis/decide/pack-grams.ts';
import { expanded } from '../analysis/uncertainty/estimate.ts';
import { type CheckedBuild, checkDocument } from '../checks/run.ts';
import { readDocument } from '../checks/text/read-document.ts';
import { type File, isProperty, isRequire, type Part } from '../grammar/generated/ast.ts';
import { verdictText } from '../report/present/requirement-verdicts.ts';
import { aliasOf } from '../syntax/clauses.ts';
import { nameOf } from '../syntax/entries.ts';
import { fileOf } from '../syntax/nodes.ts';
import { formatWithin } from '../units/print.ts';
import { requirementAt } from './hover/requirement-hover.ts';

/** Behind each `pack:` line what it makes of the craft, behind each `require` whether it holds. */
export class FettleInlayHints implements InlayHintProvider {
  getInlayHints(document: LangiumDocument, { range }: InlayHintParams): InlayHint[] {
    const { builds } = checkDocument(readDocument(document as LangiumDocument<File>));
    return fileOf(document)
      .parts.flatMap((part) => {
        const checked = builds.find(({ build }) => build.name === part.name);
        return part.kind === 'build' && checked !== undefined ? hintsOf(part, checked) : [];
      })
      .filter(({ position }) => position.line >= range.start.line && position.line <= range.end.line);
  }
}

function hintsOf(part: Part, checked: CheckedBuild): InlayHint[] {
  return part.lines.flatMap((line): InlayHint[] => {
    const end = line.$cstNode?.range.end;
    const label =
      isProperty(line) && line.key === 'pack' ? packLabel(aliasOf(line) ?? nameOf(line), checked) : undefined;
    const text = label ?? (isRequire(line) ? requirementLabel(line, checked) : undefined);
    return end === undefined || text === undefined ? [] : [{ position: end, label: text, paddingLeft: true }];
  });
}

function packLabel(name: string, { assessments }: CheckedBuild): string | undefined {
  const assessment = assessments.find(({ option }) => option.name === name);
  const values =
    assessment && ['all_up_weight', 'thrust_to_weight', 'hover_time'].flatMap((result) => short(assessment, result));
  return values === undefined || values.length === 0 ? undefined : values.join(' · ');
}

function short(assessment: Assessment, name: string): string[] {
  const result = assessment.results.get(name);
  if (result === undefined) {
    return [];
  }
  const suffix = name === 'thrust_to_weight' ? ' x weight' : '';
  // A hint is read at a glance; the ± is in the hover.
  return [formatWithin(result.estimate.value, expanded(result.estimate), result.unit) + suffix];
}

/** The verdict, once when all packs agree. */
function requirementLabel(node: Parameters<typeof requirementAt>[0], checked: CheckedBuild): string | undefined {
  const requirement = requirementAt(node, checked);
  const verdicts = checked.assessments
    .filter(({ option }) => requirement !== undefined && (requirement.pack ?? option.name) === option.name)
    .map((assessment) => (requirement === undefined ? '' : verdictText(verdictOn(requirement, assessment))));
  const different = [...new Set(verdicts)];
  return different.length === 0 ? undefined : different.join(' / ');
}
