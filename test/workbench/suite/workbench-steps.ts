import * as vscode from 'vscode';
import { expectDefined } from './suite-runner.ts';

const WAIT_LIMIT_MS = 45_000;

export function fileUri(path: string): vscode.Uri {
  const folder = expectDefined(vscode.workspace.workspaceFolders?.[0], 'a workspace folder');
  return vscode.Uri.joinPath(folder.uri, path);
}

export async function open(path: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(fileUri(path));
  await vscode.window.showTextDocument(document);
  return document;
}

/** In the first column, so that it covers no page next to it. */
export async function openAtLeft(path: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(fileUri(path));
  await vscode.window.showTextDocument(document, vscode.ViewColumn.One);
  return document;
}

/** The position of the first character of a text that is in the document exactly once. */
export function positionOf(document: vscode.TextDocument, text: string): vscode.Position {
  const all = document.getText();
  const offset = all.indexOf(text);
  if (offset < 0 || all.indexOf(text, offset + 1) >= 0)
    throw new Error(`'${text}' is not exactly once in ${document.uri}`);
  return document.positionAt(offset);
}

/** Types over a text that is in the document exactly once. */
export async function replace(document: vscode.TextDocument, old: string, replacement: string): Promise<void> {
  const start = positionOf(document, old);
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, new vscode.Range(start, start.translate(0, old.length)), replacement);
  await vscode.workspace.applyEdit(edit);
}

/** What the editor shows as findings, from top to bottom, one line each: `error motor-overvoltage at «pack: Mast950_5S»`. */
export function findings(document: vscode.TextDocument): string[] {
  return vscode.languages
    .getDiagnostics(document.uri)
    .sort((a, b) => a.range.start.compareTo(b.range.start))
    .map((d) => `${severityName(d)} ${codeOf(d)} at «${document.getText(d.range)}»`);
}

export function codeOf(diagnostic: vscode.Diagnostic): string {
  const { code } = diagnostic;
  return String(typeof code === 'object' ? code.value : code);
}

/** The quick fixes offered at a range, each with its edit. */
export function quickFixes(document: vscode.TextDocument, range: vscode.Range): Promise<vscode.CodeAction[]> {
  return until('quick fixes are offered', async () => {
    try {
      return await vscode.commands.executeCommand<vscode.CodeAction[]>(
        'vscode.executeCodeActionProvider',
        document.uri,
        range,
        vscode.CodeActionKind.QuickFix.value,
        100,
      );
    } catch {
      // The workbench cancels the request when any other extension registers a provider meanwhile.
      return undefined;
    }
  });
}

function severityName(diagnostic: vscode.Diagnostic): string {
  return ['error', 'warning', 'information', 'hint'][diagnostic.severity] ?? 'unknown';
}

/** Waits until the condition holds, looking ten times per second. */
export async function until<T>(what: string, look: () => Promise<T | undefined>): Promise<T> {
  const limit = Date.now() + WAIT_LIMIT_MS;
  for (;;) {
    const found = await look();
    if (found !== undefined) return found;
    if (Date.now() > limit) throw new Error(`waited in vain until ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
