/** "Accept this finding …": writes the sentence into the build, with the cursor where the reason goes. */

import type { LangiumDocument } from 'langium';
import type { Range } from 'vscode-languageserver-types';
import { acceptedBelow, acceptingWords, isAcceptable } from '../checks/acceptance-sentence.ts';
import { acceptanceOf } from '../checks/acceptances.ts';
import type { Finding } from '../checks/finding.ts';
import { isAccept, type PartNode } from '../grammar/generated/ast.ts';
import { lineBreakOf } from '../grammar/value-texts.ts';
import { acceptedBy } from '../model/accepted.ts';
import type { Acceptance } from '../model/build.ts';
import { fileOf } from '../syntax/nodes.ts';
import { rangeOf } from './place-ranges.ts';

export interface Accepting {
  readonly title: string;
  readonly range: Range;
  readonly before: string;
  /** What follows the cursor; undefined where there is nothing to fill in. */
  readonly after?: string;
}

export function acceptingOf(document: LangiumDocument, finding: Finding): Accepting | undefined {
  const { parts } = fileOf(document);
  const build = parts.find((part) => part.kind === 'build' && part.name === finding.build);
  if (build === undefined || !isAcceptable(finding)) return undefined;
  const earlier = acceptanceOf(
    build.lines.filter(isAccept).flatMap((line) => acceptedBy(line) ?? []),
    finding,
  );
  return earlier === undefined ? newLine(document, build, finding) : newLimit(document, earlier, finding);
}

/** Before the brace that closes the build. */
function newLine(document: LangiumDocument, build: PartNode, finding: Finding): Accepting | undefined {
  const end = build.$cstNode?.end;
  if (end === undefined || build.closed !== true) return undefined;
  const text = document.textDocument.getText();
  const newline = lineBreakOf(text);
  const brace = end - 1;
  const lineStart = text.lastIndexOf('\n', brace - 1) + 1;
  const row = text.slice(lineStart, brace);
  const isAlone = row.trim() === '';
  const range = isAlone
    ? rangeOf(document, lineStart, lineStart)
    : rangeOf(document, lineStart + row.trimEnd().length, brace);
  const limit = acceptedBelow(finding);
  return {
    title: limit === undefined ? `Accept this ${finding.id} …` : `Accept this ${finding.id} below ${limit} …`,
    range,
    before: `${isAlone ? '' : newline}  ${acceptingWords(finding)} because "`,
    after: `"${newline}`,
  };
}

/** It was accepted and got worse. */
function newLimit(document: LangiumDocument, { below }: Acceptance, finding: Finding): Accepting | undefined {
  const limit = acceptedBelow(finding);
  const written = below?.place;
  if (limit === undefined || written === undefined) return undefined;
  const range = rangeOf(document, written.start, written.end);
  return { title: `Accept this ${finding.id} below ${limit} from now on`, range, before: limit };
}
