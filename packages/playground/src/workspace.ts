/** The open files of the page, one editor for all of them: each file keeps its own text, cursor and history. */
import { type LSPClient, LSPPlugin, Workspace, type WorkspaceFile } from '@codemirror/lsp-client';
import { ChangeSet, type EditorState, type Text, type TransactionSpec } from '@codemirror/state';
import type { EditorView } from '@codemirror/view';

export class OpenFile implements WorkspaceFile {
  readonly uri: string;
  readonly languageId = 'fettle';
  version = 1;
  /** As the server knows it. */
  doc: Text;
  /** As it is; the one on screen is the editor's. */
  state: EditorState;
  /** Changes that the server does not know yet, made while the file was not on screen. */
  pending: ChangeSet;
  readonly #workspace: PageWorkspace;

  constructor(uri: string, state: EditorState, workspace: PageWorkspace) {
    this.uri = uri;
    this.state = state;
    this.doc = state.doc;
    this.pending = ChangeSet.empty(state.doc.length);
    this.#workspace = workspace;
  }

  getView(): EditorView | null {
    return this.#workspace.shown === this ? this.#workspace.view : null;
  }
}

export class PageWorkspace extends Workspace {
  files: OpenFile[] = [];
  shown: OpenFile | undefined;
  view: EditorView | null = null;
  /** Set by the page: opens a file of its own and puts it on screen. */
  display: (uri: string) => EditorView | null = () => null;

  constructor(client: LSPClient) {
    super(client);
  }

  override getFile(uri: string): OpenFile | null {
    return this.files.find((file) => file.uri === uri) ?? null;
  }

  syncFiles(): { file: OpenFile; prevDoc: Text; changes: ChangeSet }[] {
    return this.files.flatMap((file) => {
      const view = file.getView();
      const plugin = view && LSPPlugin.get(view);
      const changes = plugin?.uri === file.uri ? plugin.unsyncedChanges : file.pending;
      if (changes.empty) return [];
      const prevDoc = file.doc;
      file.doc = view?.state.doc ?? file.state.doc;
      file.version++;
      file.pending = ChangeSet.empty(file.doc.length);
      plugin?.clear();
      return [{ file, prevDoc, changes }];
    });
  }

  open(uri: string, state: EditorState): OpenFile {
    const file = new OpenFile(uri, state, this);
    this.files.push(file);
    this.client.didOpen(file);
    return file;
  }

  close(uri: string): void {
    this.files = this.files.filter((file) => file.uri !== uri);
    this.client.didClose(uri);
  }

  /** Puts an open file on screen. */
  show(file: OpenFile): void {
    if (this.view === null || this.shown === file) return;
    this.client.sync();
    if (this.shown !== undefined) this.shown.state = this.view.state;
    this.shown = file;
    this.view.setState(file.state);
  }

  override updateFile(uri: string, update: TransactionSpec): void {
    const file = this.getFile(uri);
    if (file === null) return;
    const view = file.getView();
    if (view !== null) {
      view.dispatch(update);
      return;
    }
    const { state, changes } = file.state.update(update);
    file.state = state;
    file.pending = file.pending.compose(changes);
  }

  override async displayFile(uri: string): Promise<EditorView | null> {
    return this.display(uri);
  }

  /** The editor that comes and goes with each file on screen: the file stays open. */
  openFile(): void {}
  closeFile(): void {}
}
