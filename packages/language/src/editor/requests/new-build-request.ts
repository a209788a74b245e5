import { type LangiumDocuments, URI, UriUtils } from 'langium';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { keyOf } from '../../resolve/keys.ts';
import { type FirstBuild, firstBuild, problemsWith } from '../../starter/first-build.ts';
import { type Answers, QUESTIONS, type QuestionId } from '../../starter/questions.ts';
import { fileOf } from '../../syntax/nodes.ts';
import type { NewBuildFile, NewBuildQuestion } from './protocol.ts';

interface Answer {
  readonly questions: NewBuildQuestion[];
  readonly file?: NewBuildFile;
}

export function newBuildOf(params: unknown, documents: LangiumDocuments): Answer {
  const { folder, answers: given } = (params ?? {}) as { readonly folder?: unknown; readonly answers?: unknown };
  if (typeof given !== 'object' || given === null || (folder !== undefined && typeof folder !== 'string')) {
    throw new ResponseError(ErrorCodes.InvalidParams, 'the answers are missing: { folder?, answers }');
  }
  const answers = answersIn(given);
  const taken = folder === undefined ? new Set<string>() : namesIn(URI.parse(folder), documents);
  const problems = problemsWith(answers, taken);
  const build = firstBuild(answers, taken);
  return {
    questions: QUESTIONS.map(({ id, asks, description, example, usual }) => ({
      id,
      asks,
      description,
      example,
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

/** What the folder's own files declare. */
function namesIn(folder: URI, documents: LangiumDocuments): Set<string> {
  const key = keyOf(folder);
  const names = documents.all
    .filter(({ uri }) => keyOf(UriUtils.dirname(uri)) === key)
    .flatMap((document) => fileOf(document).parts.flatMap(({ name }) => name ?? []));
  return new Set(names);
}

function newFileOf({ fileName, text, look }: FirstBuild): NewBuildFile {
  const document = TextDocument.create('', 'fettle', 0, text);
  return {
    fileName,
    text,
    range: { start: document.positionAt(look.start), end: document.positionAt(look.end) },
  };
}
