import { type Disposable, type ExtensionContext, Uri, ViewColumn, type WebviewPanel, window, workspace } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import type { CheckedFiles } from '../checked.ts';
import { movedUri } from './follow.ts';
import { asSubject, fieldsOf, type Subject } from './messages.ts';
import { SheetPanel } from './panel.ts';
import { shellOf, viewRoot } from './shell.ts';

const VIEW_TYPE = 'fettle.sheet';

/** The sheets that are open, one per build. */
export class Sheets implements Disposable {
  readonly #extensionUri: Uri;
  readonly #client: BaseLanguageClient;
  readonly #panels = new Set<SheetPanel>();
  readonly #disposables: Disposable[];

  constructor({ extensionUri }: ExtensionContext, client: BaseLanguageClient, checked: CheckedFiles) {
    this.#extensionUri = extensionUri;
    this.#client = client;
    this.#disposables = [
      window.registerWebviewPanelSerializer(VIEW_TYPE, {
        deserializeWebviewPanel: async (panel, state: unknown) => this.#restore(panel, state),
      }),
      workspace.onDidRenameFiles(({ files }) => {
        for (const { oldUri, newUri } of files) this.#follow(oldUri.toString(), newUri.toString());
      }),
      checked.onDidCheck((uris) => this.#refresh(({ uri }) => uris.has(uri))),
      client.onDidChangeState(({ newState }) => {
        if (newState === State.Running) this.#refresh(() => true);
      }),
    ];
  }

  /** Next to the text; a sheet that is open already is shown. */
  open(subject: Subject): void {
    const open = [...this.#panels].find((one) => isSame(one.subject, subject));
    if (open !== undefined) {
      open.panel.reveal(undefined, true);
      return;
    }
    const place = { viewColumn: ViewColumn.Beside, preserveFocus: true };
    this.#keep(window.createWebviewPanel(VIEW_TYPE, subject.build, place, { enableFindWidget: true }), subject);
  }

  dispose(): void {
    for (const one of [...this.#panels, ...this.#disposables]) one.dispose();
  }

  /** After the window was loaded anew. */
  #restore(panel: WebviewPanel, state: unknown): void {
    const subject = asSubject(fieldsOf(state).subject);
    if (subject === undefined) panel.dispose();
    else this.#keep(panel, subject);
  }

  #keep(panel: WebviewPanel, subject: Subject): void {
    const icon = (theme: string) => Uri.joinPath(this.#extensionUri, 'images', `file-${theme}.svg`);
    panel.iconPath = { light: icon('light'), dark: icon('dark') };
    panel.webview.options = { enableScripts: true, localResourceRoots: [viewRoot(this.#extensionUri)] };
    const sheet = new SheetPanel(panel, subject, this.#client);
    this.#panels.add(sheet);
    panel.onDidDispose(() => this.#panels.delete(sheet));
    panel.webview.html = shellOf(panel.webview, this.#extensionUri);
  }

  #refresh(isMeant: (subject: Subject) => boolean): void {
    for (const sheet of this.#panels) if (isMeant(sheet.subject)) sheet.changed();
  }

  #follow(from: string, to: string): void {
    for (const sheet of this.#panels) {
      const uri = movedUri(sheet.subject.uri, from, to);
      if (uri !== undefined) sheet.changed({ ...sheet.subject, uri });
    }
  }
}

const isSame = (one: Subject, other: Subject): boolean => one.uri === other.uri && one.build === other.build;
