import { isFigureNode, isPropertyNode } from '../../grammar/generated/ast.ts';
import { renewedNames } from '../../resolve/renewed-names.ts';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { placeOfFeature } from '../../syntax/source.ts';
import { problem, replace } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const FORMER_NAME: TextCheck = {
  id: 'former-name',
  severity: 'hint',
  findInText: formerNameProblems,
  page: {
    title: 'A name that the language had before',
    cause: 'The former name is still understood, but the reference and all messages use the present one.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Take the fix: it writes the present name.',
    fixes: ['choice'],
    fails: `motor Old like M1805 {
  heat_path: 20 K/W
}`,
    passes: `motor New like M1805 {
  thermal_resistance: 20 K/W
}`,
  },
};

/** A hint for each former name, with the present one as its fix. */
function formerNameProblems(document: FileDocument): Problem[] {
  return renewedNames(document.parseResult.value).map(({ former, now, node, feature, number }) => {
    const place = placeOfFeature(node, feature);
    const fix = replace(place, now);
    const value = number !== undefined && isPropertyNode(node) && isFigureNode(node.value) ? node.value : undefined;
    const edits = value && number !== undefined ? [{ place: placeOfFeature(value, 'number'), newText: number }] : [];
    const reported = number === undefined ? '' : `, here ${number}`;
    return problem(
      'former-name',
      `${former} is called ${now} now${reported}; the old name is still understood`,
      place,
      [{ ...fix, edits: [...fix.edits, ...edits] }],
    );
  });
}
