/** Checks of the text before it has a meaning: what the parser reports, comments of other languages, quotes left open. */
import { type AstNode, CstUtils, isLeafCstNode, type LangiumDocument } from 'langium';
import { isCurly } from '../../grammar/scan.ts';
import { isClosed, quote, unquote } from '../../grammar/value-texts.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { Place } from '../../syntax/place.ts';
import type { Problem } from '../../syntax/problem.ts';
import { problem, replace, rewrite } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const SYNTAX: TextCheck = {
  id: 'syntax',
  severity: 'error',
  findInText: syntaxProblems,
  page: {
    title: 'Something here cannot be read',
    cause:
      'A brace, quote or word is missing, or there is one too many. Everything around it is still read and computed.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Add what the message states.',
    fixes: ['certain', 'choice'],
    fails: `item Half {
  mass: 3 g
  note "no closing quote
}`,
    passes: `item Whole {
  mass: 3 g
  note "closed"
}`,
  },
};

function syntaxProblems(document: FileDocument): Problem[] {
  const signs = wrongSigns(document);
  const open = signs.filter(({ fixes }) => fixes?.[0]?.edits[0]?.newText === '"');
  // What seems to be missing on a row with an open quote is inside it.
  const isExplained = ({ place }: Problem) => open.some((quote) => isOnRowOf(document, quote.place, place));
  return [...parserProblems(document).filter((one) => !isExplained(one)), ...signs];
}

function isOnRowOf(document: LangiumDocument, one: Place, other: Place): boolean {
  return document.textDocument.positionAt(one.start).line === document.textDocument.positionAt(other.start).line;
}

function parserProblems(document: FileDocument): Problem[] {
  const uri = document.uri.toString();
  const length = document.textDocument.getText().length;
  const { lexerErrors, parserErrors } = document.parseResult;
  const unknownSigns = lexerErrors.map((error) =>
    problem('syntax', error.message, { uri, start: error.offset, end: error.offset + error.length }),
  );
  const misread = parserErrors.map((error) => {
    const { startOffset, endOffset } = error.token;
    // At the end of the file the token has no place.
    const start = Number.isFinite(startOffset) ? startOffset : Math.max(0, length - 1);
    const end = endOffset !== undefined && Number.isFinite(endOffset) ? endOffset + 1 : length;
    return problem('syntax', error.message, { uri, start, end });
  });
  return firstAtEachPlace([...unknownSigns, ...misread]);
}

function firstAtEachPlace(problems: readonly Problem[]): Problem[] {
  const starts = new Set<number>();
  return problems.filter(({ place }) => {
    const isNew = !starts.has(place.start);
    starts.add(place.start);
    return isNew;
  });
}

function wrongSigns(document: FileDocument): Problem[] {
  const root: AstNode = document.parseResult.value;
  const uri = document.uri.toString();
  const problems: Problem[] = [];
  if (!root.$cstNode) return problems;
  for (const leaf of CstUtils.streamCst(root.$cstNode)) {
    if (!isLeafCstNode(leaf)) continue;
    const place = { uri, start: leaf.offset, end: leaf.end };
    if (leaf.tokenType.name === 'WRONG_COMMENT') {
      const sign = { ...place, end: place.start + 1 };
      problems.push(problem('syntax', 'a comment begins with //', sign, [rewrite(sign, '//')]));
    } else if (leaf.tokenType.name === 'STRING' && isCurly(leaf.text.charAt(0))) {
      const written = leaf.text.trimEnd();
      const whole = { ...place, end: place.start + written.length };
      const straight = quote(unquote(written));
      problems.push(
        problem('syntax', 'texts are written in straight double quotes', whole, [rewrite(whole, straight)]),
      );
    } else if (leaf.tokenType.name === 'STRING' && !isClosed(leaf.text)) {
      const end = { ...place, start: leaf.offset + leaf.text.trimEnd().length };
      problems.push(problem('syntax', 'a closing quote is missing', place, [replace(end, '"', 'add the quote')]));
    }
  }
  return problems;
}
