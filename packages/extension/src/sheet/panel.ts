import { commands, type Disposable, ViewColumn, type WebviewPanel, window } from 'vscode';
import {
  type BaseLanguageClient,
  ExecuteCommandRequest,
  type Location,
  LSPErrorCodes,
  ResponseError,
} from 'vscode-languageclient';
import { SHOW_EXPLANATION, type SheetTarget } from '../../../language/src/editor/requests/protocol.ts';
import { reasonOf } from '../error-reason.ts';
import { fileName, SheetFollower } from './follower.ts';
import type { ViewKind } from './view-kinds.ts';
import type { Followed } from './view-messages.ts';

/** The page of one subject next to its text. */
export class ViewPanel<About extends Followed> implements Disposable {
  readonly panel: WebviewPanel;
  readonly #client: BaseLanguageClient;
  readonly #follower: SheetFollower<About>;

  constructor(panel: WebviewPanel, subject: About, kind: ViewKind<About>, client: BaseLanguageClient) {
    this.panel = panel;
    this.#client = client;
    this.#follower = new SheetFollower(subject, {
      ...kind,
      request: (of, quick, running) => kind.request(client, of, quick, running),
      isOvertaken,
      isVisible: () => panel.visible,
      show: (message) => void panel.webview.postMessage(message),
      showTitle: (title) => {
        panel.title = title;
      },
      go: (target, of) => void this.#go(target, of),
    });
    panel.onDidDispose(() => this.#follower.forget());
    let wasVisible = panel.visible;
    panel.onDidChangeViewState(() => {
      if (panel.visible && !wasVisible) this.changed();
      wasVisible = panel.visible;
    });
    panel.webview.onDidReceiveMessage((message: unknown) => this.#follower.receive(message));
  }

  get subject(): About {
    return this.#follower.subject;
  }

  /** The file was checked anew, is gone, or has moved. */
  changed(subject?: About): void {
    this.#follower.changed(subject);
  }

  dispose(): void {
    this.panel.dispose();
  }

  async #go(target: SheetTarget, subject: About): Promise<void> {
    if ('result' in target) {
      await commands.executeCommand(SHOW_EXPLANATION, { ...subject, ...target }, this.#columnOfTexts);
    } else if ('row' in target) {
      await this.#take({ ...subject, ...target });
    } else {
      await this.#reveal(target);
    }
  }

  /** A row of a shortlist is written into its build, where one sees it. */
  async #take(row: object): Promise<void> {
    try {
      const request = { command: 'fettle.take', arguments: [row] };
      await this.#reveal((await this.#client.sendRequest(ExecuteCommandRequest.type, request)) as Location);
    } catch (error) {
      void window.showWarningMessage(`Nothing was taken: ${reasonOf(error)}.`);
    }
  }

  async #reveal(target: Location): Promise<void> {
    const { uri, range } = this.#client.protocol2CodeConverter.asLocation(target);
    const shown = window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri.toString());
    const viewColumn = shown?.viewColumn ?? this.#columnOfTexts;
    try {
      await window.showTextDocument(uri, { selection: range, viewColumn });
    } catch (error) {
      void window.showWarningMessage(`${fileName(target.uri)} cannot be opened: ${reasonOf(error)}`);
    }
  }

  /** Whatever is opened leaves the page in sight. */
  get #columnOfTexts(): ViewColumn {
    return this.panel.viewColumn === ViewColumn.One ? ViewColumn.Beside : ViewColumn.One;
  }
}

/** Something was typed meanwhile. */
function isOvertaken(error: unknown): boolean {
  const overtaken: readonly number[] = [
    LSPErrorCodes.RequestCancelled,
    LSPErrorCodes.ServerCancelled,
    LSPErrorCodes.ContentModified,
  ];
  return error instanceof ResponseError && overtaken.includes(error.code);
}
