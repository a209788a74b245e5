import { commands, type Disposable, ViewColumn, type WebviewPanel, window } from 'vscode';
import { type BaseLanguageClient, type Location, LSPErrorCodes, ResponseError } from 'vscode-languageclient';
import { type SheetTarget, sheetRequest } from '../../../language/src/editor/requests/protocol.ts';
import { SHOW_EXPLANATION } from '../explanations.ts';
import { reasonOf } from '../reason.ts';
import { fileName, SheetFollower } from './follower.ts';
import type { Subject } from './messages.ts';

/** The sheet of one build next to its text. */
export class SheetPanel implements Disposable {
  readonly panel: WebviewPanel;
  readonly #client: BaseLanguageClient;
  readonly #follower: SheetFollower;

  constructor(panel: WebviewPanel, subject: Subject, client: BaseLanguageClient) {
    this.panel = panel;
    this.#client = client;
    this.#follower = new SheetFollower(subject, {
      request: (of, quick) => client.sendRequest(sheetRequest, { ...of, quick }),
      isOvertaken,
      isVisible: () => panel.visible,
      show: (message) => void panel.webview.postMessage(message),
      showTitle: (title) => {
        panel.title = title;
      },
      go: (target, of) => void this.#go(target, of),
    });
    panel.onDidDispose(() => this.#follower.forget());
    panel.onDidChangeViewState(() => this.changed());
    panel.webview.onDidReceiveMessage((message: unknown) => this.#follower.receive(message));
  }

  get subject(): Subject {
    return this.#follower.subject;
  }

  /** The file was checked anew, is gone, or has moved. */
  changed(subject?: Subject): void {
    this.#follower.changed(subject);
  }

  dispose(): void {
    this.panel.dispose();
  }

  async #go(target: SheetTarget, subject: Subject): Promise<void> {
    if ('result' in target) {
      await commands.executeCommand(SHOW_EXPLANATION, { ...subject, ...target }, this.#columnOfTexts);
      return;
    }
    try {
      await this.#reveal(target);
    } catch (error) {
      void window.showWarningMessage(`${fileName(target.uri)} cannot be opened: ${reasonOf(error)}`);
    }
  }

  async #reveal(target: Location): Promise<void> {
    const { uri, range } = this.#client.protocol2CodeConverter.asLocation(target);
    const shown = window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri.toString());
    await window.showTextDocument(uri, { selection: range, viewColumn: shown?.viewColumn ?? this.#columnOfTexts });
  }

  /** Whatever is opened leaves the sheet in sight. */
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
