import { commands, type Disposable, Uri, ViewColumn, type WebviewPanel, window } from 'vscode';
import { type BaseLanguageClient, type Location, LSPErrorCodes, ResponseError } from 'vscode-languageclient';
import { SHOW_EXPLANATION } from '../explanations.ts';
import { type SheetAnswer, type SheetSection, type SheetTarget, sheetRequest } from '../protocol.ts';
import { reasonOf } from '../reason.ts';
import { renamedTo } from './follow.ts';
import { fromView, type ShowMessage, type Subject } from './messages.ts';

/** Without a key for so long, what was typed is drawn; and then, after a longer rest, what takes a search. */
const PAUSE_MS = 120;
const REST_MS = 700;
/** The sections that always tell how the file is now, also while the figures are those from before. */
const ALWAYS_FRESH: ReadonlySet<string> = new Set(['head', 'findings']);

/** The sheet of one build beside its text. */
export class SheetPanel implements Disposable {
  readonly panel: WebviewPanel;
  private readonly client: BaseLanguageClient;
  private current: Subject;
  private sections: readonly SheetSection[] = [];
  /** The file's builds when the sheet was drawn last. */
  private builds: readonly string[] = [];
  private note: string | undefined;
  private latest = 0;
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(panel: WebviewPanel, subject: Subject, client: BaseLanguageClient) {
    this.panel = panel;
    this.client = client;
    this.current = subject;
    panel.onDidDispose(() => this.forget());
    panel.onDidChangeViewState(() => this.changed());
    panel.webview.onDidReceiveMessage((message: unknown) => this.receive(message));
  }

  get subject(): Subject {
    return this.current;
  }

  /** The file was checked anew, is gone, or has moved. */
  changed(subject: Subject = this.current): void {
    this.current = subject;
    this.latest++;
    // A hidden sheet is drawn when it comes back.
    if (this.panel.visible) this.after(PAUSE_MS, () => this.refresh(true));
  }

  dispose(): void {
    this.panel.dispose();
  }

  private forget(): void {
    clearTimeout(this.timer);
    // Equal to nothing: an answer that still arrives is dropped.
    this.latest = Number.NaN;
  }

  private after(milliseconds: number, act: () => Promise<void>): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void act(), milliseconds);
  }

  /** @param quick what has to be searched for comes after a rest. */
  private async refresh(quick: boolean): Promise<void> {
    const request = ++this.latest;
    try {
      const answer = await this.client.sendRequest(sheetRequest, { ...this.current, quick });
      if (request !== this.latest) return;
      this.take(answer);
      if (quick) this.after(REST_MS, () => this.refresh(false));
    } catch (error) {
      if (request !== this.latest) return;
      if (isOvertaken(error)) this.after(REST_MS, () => this.refresh(quick));
      else this.stay(`The sheet cannot be updated: ${reasonOf(error)}.`);
    }
  }

  private take({ sheet, builds }: SheetAnswer): void {
    const { build } = this.current;
    if (sheet === undefined) {
      const name = renamedTo(build, this.builds, builds);
      if (name !== undefined) this.changed({ ...this.current, build: name });
      else this.stay(`${fileName(this.current.uri)} has no build ${build} now.`);
      return;
    }
    this.builds = builds;
    this.panel.title = sheet.title ?? sheet.build;
    const hasFigures = this.sections.some(({ id }) => !ALWAYS_FRESH.has(id));
    if (sheet.isComplete || !hasFigures) {
      this.sections = sheet.sections;
      this.show();
    } else {
      const fresh = sheet.sections.filter(({ id }) => ALWAYS_FRESH.has(id));
      this.sections = [...fresh, ...this.sections.filter(({ id }) => !ALWAYS_FRESH.has(id))];
      this.show('A line cannot be read yet. The figures are those of the last complete text.');
    }
  }

  private stay(why: string): void {
    this.show(this.sections.length > 0 ? `${why} The figures are those of the last complete text.` : why);
  }

  private show(note?: string): void {
    this.note = note;
    const message: ShowMessage = {
      type: 'show',
      subject: this.current,
      sections: this.sections.map(({ id, html }) => ({ id, html })),
      ...(note !== undefined && { note }),
    };
    void this.panel.webview.postMessage(message);
  }

  private receive(message: unknown): void {
    const received = fromView(message);
    if (received?.type === 'ready') {
      if (this.sections.length > 0) this.show(this.note);
      this.after(0, () => this.refresh(true));
    } else if (received?.type === 'go') {
      const { targets } = this.sections.find(({ id }) => id === received.section) ?? {};
      const target = targets?.[received.target];
      if (target !== undefined) void this.go(target);
    }
  }

  private async go(target: SheetTarget): Promise<void> {
    if ('result' in target) {
      await commands.executeCommand(SHOW_EXPLANATION, { ...this.current, ...target }, this.columnOfTexts);
      return;
    }
    try {
      await this.reveal(target);
    } catch (error) {
      void window.showWarningMessage(`${fileName(target.uri)} cannot be opened: ${reasonOf(error)}`);
    }
  }

  private async reveal(target: Location): Promise<void> {
    const { uri, range } = this.client.protocol2CodeConverter.asLocation(target);
    const shown = window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri.toString());
    await window.showTextDocument(uri, { selection: range, viewColumn: shown?.viewColumn ?? this.columnOfTexts });
  }

  /** Whatever is opened leaves the sheet in sight. */
  private get columnOfTexts(): ViewColumn {
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

const fileName = (uri: string): string => Uri.parse(uri).path.split('/').at(-1) ?? uri;
