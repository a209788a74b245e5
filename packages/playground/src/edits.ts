/** Changes that the server works out: fixes, renames. They may concern files that are not open. */
import type { LSPClient } from '@codemirror/lsp-client';
import { type ChangeSpec, Text } from '@codemirror/state';
import type { Position, TextEdit, WorkspaceEdit } from 'vscode-languageserver-protocol';
import type { PageFiles } from './page-files.ts';
import { pagePath, pageUri } from './paths.ts';
import type { PageWorkspace } from './workspace.ts';

export function offsetOf(doc: Text, { line, character }: Position): number {
  if (line >= doc.lines) return doc.length;
  const { from, to } = doc.line(line + 1);
  return Math.min(from + character, to);
}

export function positionOf(doc: Text, offset: number): Position {
  const line = doc.lineAt(offset);
  return { line: line.number - 1, character: offset - line.from };
}

const changesOf = (doc: Text, edits: readonly TextEdit[]): ChangeSpec[] =>
  edits.map(({ range, newText }) => ({
    from: offsetOf(doc, range.start),
    to: offsetOf(doc, range.end),
    insert: newText,
  }));

export class Edits {
  readonly #client: LSPClient;
  readonly #workspace: PageWorkspace;
  readonly #files: PageFiles;
  readonly #changed: () => void;

  /** @param changed after files that are not on screen got another text */
  constructor(client: LSPClient, workspace: PageWorkspace, files: PageFiles, changed: () => void) {
    this.#client = client;
    this.#workspace = workspace;
    this.#files = files;
    this.#changed = changed;
  }

  /** Of an edit that is requested now: whether the texts that it is about are still as they are. */
  aboutTextsNow(): (edit: WorkspaceEdit) => boolean {
    const then = new Map(this.#files.paths.map((path) => [pageUri(path), this.#textOf(pageUri(path))]));
    return ({ changes = {} }) => Object.keys(changes).every((uri) => this.#textOf(uri) === then.get(uri));
  }

  #textOf(uri: string): string | undefined {
    const file = this.#workspace.getFile(uri);
    const path = pagePath(uri);
    if (file !== null) return (file.getView()?.state ?? file.state).doc.toString();
    return path === undefined ? undefined : this.#files.text(path);
  }

  apply({ changes = {} }: WorkspaceEdit, userEvent: string): void {
    for (const [uri, edits] of Object.entries(changes)) {
      const file = this.#workspace.getFile(uri);
      const path = pagePath(uri);
      if (file !== null) {
        const doc = file.getView()?.state.doc ?? file.state.doc;
        this.#workspace.updateFile(uri, { changes: changesOf(doc, edits), userEvent });
        if (path !== undefined) this.#files.set(path, (file.getView()?.state ?? file.state).doc.toString());
      } else if (path !== undefined && this.#files.has(path)) {
        this.#applyUnseen(uri, path, edits);
      }
    }
    this.#client.sync();
    this.#changed();
  }

  /** In a file that is not open: the server gets its new text. */
  #applyUnseen(uri: string, path: string, edits: readonly TextEdit[]): void {
    let doc = Text.of((this.#files.text(path) ?? '').split(/\r\n?|\n/));
    const places = edits
      .map((edit) => ({ from: offsetOf(doc, edit.range.start), to: offsetOf(doc, edit.range.end), text: edit.newText }))
      .sort((a, b) => b.from - a.from);
    for (const { from, to, text } of places) doc = doc.replace(from, to, Text.of(text.split('\n')));
    this.#files.set(path, doc.toString());
    this.notify(uri, 2);
  }

  /** @param type 1 for a file that is new, 2 for another text, 3 for one that is gone */
  notify(uri: string, type: 1 | 2 | 3): void {
    this.#client.notification('workspace/didChangeWatchedFiles', { changes: [{ uri, type }] });
  }
}
