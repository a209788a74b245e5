/** Refactorings as a client takes them. */
import {
  type ClientCapabilities,
  type CodeAction,
  CodeActionRequest,
  CodeActionResolveRequest,
  TextDocumentEdit,
  type TextEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Session } from './session.ts';

export const RESOLVING: ClientCapabilities = {
  workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } },
  textDocument: {
    publishDiagnostics: { versionSupport: true },
    codeAction: {
      dataSupport: true,
      resolveSupport: { properties: ['edit'] },
      codeActionLiteralSupport: { codeActionKind: { valueSet: [] } },
    },
  },
};

export type Files = Readonly<Record<string, string>>;

/** Refactorings at a piece of an open text, or from its beginning to the end of another piece. */
export async function offered(session: Session, path: string, from: string, to?: string): Promise<CodeAction[]> {
  const document = session.document(path);
  const begin = document.positionAt(document.getText().indexOf(from));
  const end = to === undefined ? begin : session.behind(path, to);
  const actions = await session.connection.sendRequest(CodeActionRequest.type, {
    textDocument: { uri: session.uri(path) },
    range: { start: begin, end },
    context: { diagnostics: [], only: ['refactor'] },
  });
  return actions as CodeAction[];
}

export const titled = (actions: readonly CodeAction[], title: RegExp | string): CodeAction => {
  const found = actions.find((action) => action.title.match(title));
  if (found === undefined)
    throw new Error(`${title} is not offered, but ${actions.map((one) => one.title).join(', ')}`);
  return found;
};

/** The texts of all files once it is taken. */
export async function taken(session: Session, files: Files, action: CodeAction): Promise<Record<string, string>> {
  const { edit } = action.edit ? action : await session.connection.sendRequest(CodeActionResolveRequest.type, action);
  const texts: Record<string, string> = { ...files };
  for (const change of edit?.documentChanges ?? []) {
    if (!TextDocumentEdit.is(change)) {
      if (change.kind !== 'create') throw new Error(change.kind);
      texts[change.uri.slice(session.uri('').length).replace(/^\//, '')] = '';
      continue;
    }
    const path = Object.keys(texts).find((one) => session.uri(one) === change.textDocument.uri) ?? '';
    texts[path] = TextDocument.applyEdits(
      TextDocument.create('', '', 0, texts[path] ?? ''),
      change.edits as TextEdit[],
    );
  }
  return texts;
}
