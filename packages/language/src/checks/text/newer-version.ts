/** A first line that states a version of the language which this program does not know. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import type { File } from '../../grammar/generated/ast.ts';
import type { Problem } from '../../syntax/problem.ts';
import { problem } from './problem-text.ts';
import type { TextCheck } from './text-check.ts';

export const NEWER_VERSION: TextCheck = {
  id: 'newer-version',
  severity: 'error',
  page: {
    title: 'Written for a newer version of the language',
    cause:
      'The first line states a version that this program does not know. Its other lines may mean something else there, so no slip of the text is reported: the file is not judged.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Update Fettle. If the number is a slip, write `fettle 1`.',
    fixes: [],
    fails: ``,
    passes: ``,
  },
};

/** The version of the language that this program knows. */
const VERSION = 1;

/** A file for a newer program: nothing else is reported about it. */
export function newerVersion(document: LangiumDocument<File>): Problem | undefined {
  const { version, $cstNode } = document.parseResult.value;
  if (version === undefined || Number(version) <= VERSION) return undefined;
  const uri = document.uri.toString();
  const description = `this file is written for version ${version} of the language; this program knows version ${VERSION}, so it is not judged: update Fettle`;
  const place = GrammarUtils.findNodeForProperty($cstNode, 'version');
  return problem(NEWER_VERSION, description, { uri, start: place?.offset ?? 0, end: place?.end ?? version.length });
}
