import { type Disposable, type ExtensionContext, Uri, ViewColumn, type WebviewPanel, window, workspace } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import type { CheckedFiles } from '../rechecked.ts';
import { movedUri } from './moved-subject.ts';
import { ViewPanel } from './panel.ts';
import { shellOf, viewRoot } from './shell.ts';
import type { ViewKind } from './view-kinds.ts';
import { type Followed, fieldsOf } from './view-messages.ts';

/** The views of a kind that are open, one per subject. */
export class Views<About extends Followed> implements Disposable {
  readonly #kind: ViewKind<About>;
  readonly #extensionUri: Uri;
  readonly #client: BaseLanguageClient;
  readonly #panels = new Set<ViewPanel<About>>();
  readonly #disposables: Disposable[];

  constructor(
    kind: ViewKind<About>,
    { extensionUri }: ExtensionContext,
    client: BaseLanguageClient,
    checked: CheckedFiles,
  ) {
    this.#kind = kind;
    this.#extensionUri = extensionUri;
    this.#client = client;
    this.#disposables = [
      window.registerWebviewPanelSerializer(kind.type, {
        deserializeWebviewPanel: async (panel, state: unknown) => this.#restore(panel, state),
      }),
      workspace.onDidRenameFiles(({ files }) => {
        for (const { oldUri, newUri } of files) this.#follow(oldUri.toString(), newUri.toString());
      }),
      checked.onDidCheck((uris) => this.#refresh((subject) => kind.isAbout(subject, uris))),
      client.onDidChangeState(({ newState }) => {
        if (newState === State.Running) this.#refresh(() => true);
      }),
    ];
  }

  /** Next to the text; a view that is open already is shown. */
  open(subject: About): void {
    const open = [...this.#panels].find((one) => this.#isSame(one.subject, subject));
    if (open !== undefined) {
      open.panel.reveal(undefined, true);
      return;
    }
    const place = { viewColumn: ViewColumn.Beside, preserveFocus: true };
    const title = this.#kind.nameOf(subject);
    this.#keep(window.createWebviewPanel(this.#kind.type, title, place, { enableFindWidget: true }), subject);
  }

  dispose(): void {
    for (const one of [...this.#panels, ...this.#disposables]) one.dispose();
  }

  /** After the window was loaded anew. */
  #restore(panel: WebviewPanel, state: unknown): void {
    const subject = this.#kind.read(fieldsOf(state).subject);
    if (subject === undefined) panel.dispose();
    else this.#keep(panel, subject);
  }

  #keep(panel: WebviewPanel, subject: About): void {
    const icon = (theme: string) => Uri.joinPath(this.#extensionUri, 'images', `file-${theme}.svg`);
    panel.iconPath = { light: icon('light'), dark: icon('dark') };
    panel.webview.options = { enableScripts: true, localResourceRoots: [viewRoot(this.#extensionUri)] };
    const view = new ViewPanel(panel, subject, this.#kind, this.#client);
    this.#panels.add(view);
    panel.onDidDispose(() => this.#panels.delete(view));
    panel.webview.html = shellOf(panel.webview, this.#extensionUri, this.#kind.kind);
  }

  #refresh(isMeant: (subject: About) => boolean): void {
    for (const view of this.#panels) if (isMeant(view.subject)) view.changed();
  }

  #follow(from: string, to: string): void {
    for (const view of this.#panels) {
      const uri = movedUri(view.subject.uri, from, to);
      if (uri !== undefined) view.changed({ ...view.subject, uri });
    }
  }

  #isSame(one: About, other: About): boolean {
    return one.uri === other.uri && this.#kind.nameOf(one) === this.#kind.nameOf(other);
  }
}
