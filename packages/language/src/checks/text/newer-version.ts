/** A first line that states a version of the language which this program does not know. */
import { GrammarUtils } from 'langium';
import type { FileDocument } from '../../syntax/nodes.ts';
import type { Problem } from '../../syntax/problem.ts';
import { problem } from './problem-words.ts';
import type { TextCheck } from './text-check.ts';

export const NEWER_VERSION: TextCheck = {
  id: 'newer-version',
  severity: 'error',
  findInText: newerVersion,
  page: {
    title: 'Written for a newer version of the language',
    cause:
      'The first line states a version that this program does not know. Its other lines may mean something else there, so no slip of the text is reported: the file is not judged.',
    criterion: 'Read from the text alone.',
    standing: 'The language.',
    remedy: 'Update Fettle. If the number is a slip, write `fettle 1`.',
    fixes: [],
    fails: `fettle 2
item Tape {
  mass: 1 g
}`,
    passes: `fettle 1
item Tape {
  mass: 1 g
}`,
  },
};

/** The version of the language that this program knows. */
const VERSION = 1;

/** Where it is found nothing else is reported. */
function newerVersion(document: FileDocument): Problem[] {
  const { version, $cstNode } = document.parseResult.value;
  if (version === undefined || Number(version) <= VERSION) return [];
  const uri = document.uri.toString();
  const description = `this file is written for version ${version} of the language; this program knows version ${VERSION}, so it is not judged: update Fettle`;
  const place = GrammarUtils.findNodeForProperty($cstNode, 'version');
  const written = { uri, start: place?.offset ?? 0, end: place?.end ?? version.length };
  return [problem('newer-version', description, written)];
}
