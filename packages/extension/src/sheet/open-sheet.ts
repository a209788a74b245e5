import { type TextDocument, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { buildsRequest, type ShortlistSummary } from '../../../language/src/editor/requests/protocol.ts';
import { buildAt } from './moved-subject.ts';
import { asShortlist, asSubject, type SheetSubject, type ShortlistSubject } from './view-messages.ts';

/**
 * Whose sheet is meant: the build that a lens or link names; else that at the cursor, the only one of the file, or whichever is chosen.
 * @param requested `{ uri, build }`, or the file whose title bar was used, or nothing
 */
export async function subjectMeant(requested: unknown, client: BaseLanguageClient): Promise<SheetSubject | undefined> {
  const named = asSubject(requested);
  if (named !== undefined) return named;
  const document = await documentMeant(requested);
  const { builds } = await client.sendRequest(buildsRequest, {});
  const chosen = await meantAmong(builds, document, client, 'build');
  return chosen && { uri: chosen.uri, build: chosen.name };
}

/** Which shortlist, in the same way. */
export async function shortlistMeant(
  requested: unknown,
  client: BaseLanguageClient,
): Promise<ShortlistSubject | undefined> {
  const named = asShortlist(requested);
  if (named !== undefined) return named;
  const document = await documentMeant(requested);
  const { shortlists } = await client.sendRequest(buildsRequest, {});
  const chosen = await meantAmong(shortlists, document, client, 'shortlist');
  return chosen && { uri: chosen.uri, shortlist: chosen.name };
}

async function meantAmong(
  all: readonly ShortlistSummary[],
  document: TextDocument | undefined,
  client: BaseLanguageClient,
  kind: string,
): Promise<ShortlistSummary | undefined> {
  const uri = document && client.code2ProtocolConverter.asUri(document.uri);
  const inFile = all.filter((one) => one.uri === uri);
  // A file may be in two columns, each with its cursor.
  const editors = [window.activeTextEditor, ...window.visibleTextEditors];
  const editor = editors.find((one) => one?.document === document);
  const meant = inFile.length === 1 ? inFile[0] : editor && buildAt(editor.selection.active.line, inFile);
  return meant ?? choose(inFile.length > 0 ? inFile : all, kind);
}

async function documentMeant(requested: unknown): Promise<TextDocument | undefined> {
  return requested instanceof Uri ? workspace.openTextDocument(requested) : window.activeTextEditor?.document;
}

async function choose(all: readonly ShortlistSummary[], kind: string): Promise<ShortlistSummary | undefined> {
  if (all.length === 0) {
    void window.showInformationMessage(`There is no ${kind} in this workspace yet.`);
    return undefined;
  }
  const items = all.map((one) => ({
    label: one.name,
    description: one.title ?? '',
    detail: workspace.asRelativePath(Uri.parse(one.uri)),
    one,
  }));
  const options = { placeHolder: `Which ${kind}?`, matchOnDescription: true, matchOnDetail: true };
  return (await window.showQuickPick(items, options))?.one;
}
