import { type Disposable, StatusBarAlignment, type TextEditor, ThemeColor, window } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import {
  type BuildStatus,
  OPEN_SHEET,
  type StatusAnswer,
  statusRequest,
} from '../../language/src/editor/requests/protocol.ts';
import type { CheckedFiles } from './rechecked.ts';
import { buildAt } from './sheet/moved-subject.ts';

const ICONS: Readonly<Record<BuildStatus['worry'], string>> = {
  error: 'error',
  warning: 'warning',
  unjudged: 'question',
  none: 'check',
};

/** ms: a half-typed line is looked at again, for its end brings no check. */
const LOOK_AGAIN = 700;

/** In the status bar the verdict on the build at the cursor; it opens the sheet. Nothing while a line is half typed, and none for files without builds. */
export class StatusItem implements Disposable {
  readonly #client: BaseLanguageClient;
  readonly #item = window.createStatusBarItem('fettle.verdict', StatusBarAlignment.Left, 10);
  readonly #disposables: Disposable[];
  #known: { readonly uri: string; readonly answer: StatusAnswer } | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #shown = '';
  #latest = 0;

  constructor(client: BaseLanguageClient, checked: CheckedFiles) {
    this.#client = client;
    this.#item.name = 'Fettle';
    this.#disposables = [
      this.#item,
      checked.onDidCheck((uris) => {
        const uri = this.#uriInFront();
        if (uri !== undefined && uris.has(uri)) void this.#request();
      }),
      window.onDidChangeActiveTextEditor(() => void this.#request()),
      window.onDidChangeTextEditorSelection(({ textEditor }) => {
        if (textEditor === window.activeTextEditor) this.#show();
      }),
      client.onDidChangeState(({ newState }) => {
        if (newState === State.Running) void this.#request();
      }),
    ];
  }

  dispose(): void {
    clearTimeout(this.#timer);
    for (const one of this.#disposables) one.dispose();
  }

  #uriInFront(): string | undefined {
    const document = window.activeTextEditor?.document;
    return document?.languageId === 'fettle' ? this.#client.code2ProtocolConverter.asUri(document.uri) : undefined;
  }

  async #request(): Promise<void> {
    clearTimeout(this.#timer);
    const request = ++this.#latest;
    const uri = this.#uriInFront();
    this.#known = uri === this.#known?.uri ? this.#known : undefined;
    const answer = uri === undefined ? undefined : await this.#statusOf(uri);
    // Another file is in front by now, or this one was checked anew: that has its own answer.
    if (request !== this.#latest) return;
    this.#known = uri !== undefined && answer ? { uri, answer } : undefined;
    if (answer?.isBeingWritten) this.#timer = setTimeout(() => void this.#request(), LOOK_AGAIN);
    this.#show();
  }

  async #statusOf(uri: string): Promise<StatusAnswer | undefined> {
    if (this.#client.state !== State.Running) return undefined;
    try {
      return await this.#client.sendRequest(statusRequest, { uri });
    } catch {
      // A file that the server does not have (yet), or a request that the next key made void.
      return undefined;
    }
  }

  #show(): void {
    const editor = window.activeTextEditor;
    const status = editor && this.#statusAt(editor);
    const { uri } = this.#known ?? {};
    // Drawn anew only where it differs: a click on what is being replaced would be lost.
    const shown = JSON.stringify([uri, status]);
    if (shown === this.#shown) return;
    this.#shown = shown;
    if (status === undefined || uri === undefined) {
      this.#item.hide();
      return;
    }
    const { build, worry, text, details } = status;
    this.#item.text = `$(${ICONS[worry]}) ${build}: ${text}`;
    this.#item.tooltip = [build, ...details, 'Opens the build sheet.'].join('\n');
    this.#item.command = {
      title: 'open build sheet',
      command: OPEN_SHEET,
      arguments: [{ uri, build }],
    };
    this.#item.backgroundColor = worry === 'error' ? new ThemeColor('statusBarItem.errorBackground') : undefined;
    this.#item.show();
  }

  /** That of the build at the cursor, or the first one's above all of them. */
  #statusAt({ selection }: TextEditor): BuildStatus | undefined {
    const { uri, answer } = this.#known ?? {};
    if (answer === undefined || uri !== this.#uriInFront() || answer.isBeingWritten) return undefined;
    return buildAt(selection.active.line, answer.builds) ?? answer.builds[0];
  }
}
