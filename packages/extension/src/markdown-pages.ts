import { commands, type Disposable, EventEmitter, type Uri, type ViewColumn, workspace } from 'vscode';

/** Read-only Markdown pages under a scheme of their own, shown as previews and renewed when what they report has changed. */
export class MarkdownPages implements Disposable {
  readonly #open = new Map<string, Uri>();
  readonly #changed = new EventEmitter<Uri>();
  readonly #disposables: readonly Disposable[];

  /** @param write a page's text; one that cannot be written gives the reason */
  constructor(scheme: string, write: (page: Uri) => string | Promise<string>) {
    this.#disposables = [
      this.#changed,
      workspace.registerTextDocumentContentProvider(scheme, {
        onDidChange: this.#changed.event,
        provideTextDocumentContent: (page) => {
          this.#open.set(page.toString(), page);
          return write(page);
        },
      }),
      workspace.onDidCloseTextDocument(({ uri }) => this.#open.delete(uri.toString())),
    ];
  }

  async show(page: Uri, viewColumn: ViewColumn): Promise<void> {
    await commands.executeCommand('vscode.openWith', page, 'vscode.markdown.preview.editor', {
      viewColumn,
      preview: true,
    });
  }

  /** Of the pages that are open. */
  renew(isMeant: (page: Uri) => boolean): void {
    for (const page of this.#open.values()) if (isMeant(page)) this.#changed.fire(page);
  }

  dispose(): void {
    for (const one of this.#disposables) one.dispose();
  }
}
