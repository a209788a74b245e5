import { type TextDocument, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type BuildSummary, buildsRequest } from '../../../language/src/editor/requests/protocol.ts';
import { buildAt } from './follow.ts';
import { asSubject, type Subject } from './messages.ts';

/**
 * Whose sheet is meant: the build that a lens or link names; else that at the cursor, the only one of the file, or whichever is chosen.
 * @param requested `{ uri, build }`, or the file whose title bar was used, or nothing
 */
export async function subjectOf(requested: unknown, client: BaseLanguageClient): Promise<Subject | undefined> {
  const named = asSubject(requested);
  if (named !== undefined) return named;
  const document = await documentMeant(requested);
  const { builds } = await client.sendRequest(buildsRequest, {});
  const uri = document && client.code2ProtocolConverter.asUri(document.uri);
  const inFile = builds.filter((build) => build.uri === uri);
  // A file may be in two columns, each with its cursor.
  const editors = [window.activeTextEditor, ...window.visibleTextEditors];
  const editor = editors.find((one) => one?.document === document);
  const meant = inFile.length === 1 ? inFile[0] : editor && buildAt(editor.selection.active.line, inFile);
  const chosen = meant ?? (await choose(inFile.length > 0 ? inFile : builds));
  return chosen && { uri: chosen.uri, build: chosen.name };
}

async function documentMeant(requested: unknown): Promise<TextDocument | undefined> {
  return requested instanceof Uri ? workspace.openTextDocument(requested) : window.activeTextEditor?.document;
}

async function choose(builds: readonly BuildSummary[]): Promise<BuildSummary | undefined> {
  if (builds.length === 0) {
    void window.showInformationMessage('There is no build in this workspace yet.');
    return undefined;
  }
  const items = builds.map((build) => ({
    label: build.name,
    description: build.title ?? '',
    detail: workspace.asRelativePath(Uri.parse(build.uri)),
    build,
  }));
  const options = { placeHolder: 'Which build?', matchOnDescription: true, matchOnDetail: true };
  return (await window.showQuickPick(items, options))?.build;
}
