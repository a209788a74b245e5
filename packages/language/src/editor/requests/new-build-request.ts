import { type LangiumDocuments, URI, UriUtils } from 'langium';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { keyOf } from '../../resolve/keys.ts';
import { type FirstBuild, type Folder, fileNameOf, firstBuild, problemsWith } from '../../starter/first-build.ts';
import { type Answers, exampleOf, QUESTIONS, type QuestionId } from '../../starter/questions.ts';
import { fileOf } from '../../syntax/nodes.ts';
import { membersOf } from '../../units/lookup-table.ts';
import type { NewBuildFile, NewBuildQuestion } from './protocol.ts';

interface Answer {
  readonly questions: NewBuildQuestion[];
  readonly file?: NewBuildFile;
}

export function newBuildOf(params: unknown, documents: LangiumDocuments): Answer {
  const { folder, answers: given } = membersOf(params);
  if (typeof given !== 'object' || given === null || (folder !== undefined && typeof folder !== 'string')) {
    throw new ResponseError(ErrorCodes.InvalidParams, 'the answers are missing: { folder?, answers }');
  }
  const answers = answersIn(given);
  const within = folder === undefined ? undefined : folderOf(URI.parse(folder), documents);
  const problems = problemsWith(answers, within);
  const build = firstBuild(answers, within);
  return {
    questions: QUESTIONS.map(({ id, asks, description, examples, usual }) => ({
      id,
      asks,
      description,
      example: exampleOf({ examples }),
      ...(usual !== undefined && { usual }),
      ...(problems[id] !== undefined && { problem: problems[id] }),
    })),
    ...(build && { file: newFileOf(build) }),
  };
}

function answersIn(given: object): Answers {
  const texts = new Map(Object.entries(given).filter(([, answer]) => typeof answer === 'string'));
  const known = QUESTIONS.flatMap(({ id }): [QuestionId, string][] => {
    const answer = texts.get(id);
    return answer === undefined ? [] : [[id, answer]];
  });
  return Object.fromEntries(known);
}

/** Its own files, and what they declare. */
function folderOf(uri: URI, documents: LangiumDocuments): Folder {
  const key = keyOf(uri);
  const own = documents.all.filter((document) => keyOf(UriUtils.dirname(document.uri)) === key).toArray();
  const files = new Set(own.map((document) => UriUtils.basename(document.uri)));
  return { parts: own.flatMap((document) => fileOf(document).parts), hasFile: (name) => files.has(fileNameOf(name)) };
}

function newFileOf({ fileName, text, look }: FirstBuild): NewBuildFile {
  const document = TextDocument.create('', 'fettle', 0, text);
  return {
    fileName,
    text,
    range: { start: document.positionAt(look.start), end: document.positionAt(look.end) },
  };
}
