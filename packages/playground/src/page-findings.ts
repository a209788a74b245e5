/** What the server finds: underlined, listed below the text, and with its fixes wherever it is read. */
import { forEachDiagnostic, linter, lintGutter, type Diagnostic as Mark, setDiagnostics } from '@codemirror/lint';
import { type LSPClient, LSPPlugin } from '@codemirror/lsp-client';
import { ChangeSet, type Extension } from '@codemirror/state';
import { type EditorView, hoverTooltip } from '@codemirror/view';
import type {
  CodeAction,
  Diagnostic,
  Hover,
  MarkupContent,
  Position,
  PublishDiagnosticsParams,
} from 'vscode-languageserver-protocol';
import { type Edits, offsetOf, positionOf } from './edits.ts';
import { byId, element } from './element.ts';
import { pagePath } from './paths.ts';
import { rendered } from './rendered-markdown.ts';
import type { PageWorkspace } from './workspace.ts';

const SEVERITIES = ['error', 'error', 'warning', 'info', 'hint'] as const;
const WORDS = ['', 'Error', 'Warning', 'Information', 'Hint'] as const;

/** Plain text: the page declares nothing else. */
const messageOf = ({ message }: Diagnostic): string => (typeof message === 'string' ? message : message.value);

/** A mark keeps the finding that it shows. */
interface FindingMark extends Mark {
  readonly finding: Diagnostic;
}

interface Places {
  readonly client: LSPClient;
  readonly workspace: PageWorkspace;
  readonly edits: Edits;
  readonly list: HTMLElement;
  readonly showPage: (id: string) => void;
  readonly goTo: (uri: string, line: number, character: number) => void;
  /** After findings of any file came or went. */
  readonly changed: () => void;
}

export class Findings {
  readonly #places: Places;
  readonly #byUri = new Map<string, readonly Diagnostic[]>();

  constructor(places: Places) {
    this.#places = places;
  }

  /**
   * A notification of the server. Findings of a text that it does not have any more are not shown: it has been sent a later one, and reports of
   * that as well.
   */
  take({ uri, version, diagnostics: findings }: PublishDiagnosticsParams): void {
    const { version: sent = version } = this.#places.workspace.getFile(uri) ?? {};
    if (version !== undefined && version !== sent) return;
    if (findings.length > 0) this.#byUri.set(uri, findings);
    else this.#byUri.delete(uri);
    if (uri === this.#places.workspace.shown?.uri) this.draw();
    this.#places.changed();
  }

  of(uri: string): readonly Diagnostic[] {
    return this.#byUri.get(uri) ?? [];
  }

  /** Marks and list for the file on screen. */
  draw(): void {
    const { shown, view } = this.#places.workspace;
    if (shown === undefined || view === null) return;
    const findings = [...this.of(shown.uri)].sort(
      (a, b) => (a.severity ?? 1) - (b.severity ?? 1) || a.range.start.line - b.range.start.line,
    );
    // What was typed since the server was sent the text moves the places.
    const unsent = LSPPlugin.get(view)?.unsyncedChanges ?? ChangeSet.empty(shown.doc.length);
    const { doc } = unsent.length === shown.doc.length ? shown : view.state;
    const placeOf = (position: Position, side: number) => {
      const at = offsetOf(doc, position);
      return doc === shown.doc ? unsent.mapPos(at, side) : at;
    };
    const marks = findings.map((finding): FindingMark => {
      const [from, to] = [placeOf(finding.range.start, 1), placeOf(finding.range.end, -1)];
      const severity = SEVERITIES[finding.severity ?? 1] ?? 'error';
      return { from, to: Math.max(to, from), severity, message: messageOf(finding), finding };
    });
    view.dispatch(setDiagnostics(view.state, marks));
    byId('found-count').textContent = findings.length > 0 ? `(${findings.length})` : '';
    this.#list.replaceChildren(...findings.map((finding) => this.#item(finding, shown.uri)));
    if (findings.length === 0) this.#list.append(element('li', { class: 'none' }, 'No findings in this file.'));
  }

  get #list(): HTMLElement {
    return this.#places.list;
  }

  #item(finding: Diagnostic, uri: string): HTMLElement {
    const { start } = finding.range;
    const go = element('button', { class: 'small', type: 'button' }, `Line ${start.line + 1}`);
    go.addEventListener('click', () => this.#places.goTo(uri, start.line, start.character));
    const fix = element('button', { class: 'small', type: 'button' }, 'Fixes …');
    const item = element(
      'li',
      { class: `item ${SEVERITIES[finding.severity ?? 1] ?? 'error'}` },
      this.#words(finding),
      go,
      fix,
    );
    fix.addEventListener('click', async () => {
      fix.replaceWith(await this.#fixes(finding, uri, true));
    });
    return item;
  }

  /** Severity, message, what it means, related places. */
  #words(finding: Diagnostic): HTMLElement {
    const text = element('p', {});
    text.append(element('strong', {}, `${WORDS[finding.severity ?? 1] ?? 'Error'}: `), messageOf(finding), ' ');
    const id = String(finding.code ?? '');
    if (id !== '') {
      const what = element('button', { class: 'link', type: 'button', title: 'What this finding means' }, id);
      what.addEventListener('click', () => this.#places.showPage(`findings/${id}.md`));
      text.append(what);
    }
    const words = element('div', { class: 'words' }, text);
    for (const { location, message } of finding.relatedInformation ?? []) {
      const { line, character } = location.range.start;
      const where = `${pagePath(location.uri) ?? location.uri}, line ${line + 1}`;
      const go = element('button', { class: 'link', type: 'button' }, where);
      go.addEventListener('click', () => this.#places.goTo(location.uri, line, character));
      words.append(element('p', { class: 'related' }, `${message}: `, go));
    }
    return words;
  }

  /** Buttons, one per fix. @param states that there are none, where nobody would see it otherwise */
  async #fixes(finding: Diagnostic, uri: string, description: boolean): Promise<HTMLElement> {
    const { client, edits } = this.#places;
    client.sync();
    const isStillSo = edits.aboutTextsNow();
    const box = element('div', { class: 'fixes' });
    let actions: readonly CodeAction[];
    try {
      const context = { diagnostics: [finding], only: ['quickfix'] };
      const params = { textDocument: { uri }, range: finding.range, context };
      actions = (await client.request<object, CodeAction[] | null>('textDocument/codeAction', params)) ?? [];
    } catch {
      actions = [];
    }
    const own = actions.filter(
      ({ edit, disabled, diagnostics = [] }) =>
        edit !== undefined &&
        disabled === undefined &&
        diagnostics.some(({ code, message }) => code === finding.code && message === finding.message),
    );
    for (const { title, edit } of own) {
      const button = element('button', { type: 'button' }, title);
      button.addEventListener('click', async () => {
        // What is still a fix of the text as it is now is shown instead.
        if (edit === undefined || !isStillSo(edit)) box.replaceWith(await this.#fixes(finding, uri, true));
        else edits.apply(edit, 'fix');
        this.#places.workspace.view?.focus();
      });
      box.append(button);
    }
    if (own.length === 0 && description)
      box.append(element('span', { class: 'none' }, 'No fix is known; the message states what to change.'));
    return box;
  }

  /** Marks, gutter, and one box at the pointer: findings with their fixes above what the server explains. */
  get extension(): Extension {
    const none = { tooltipFilter: () => [] };
    return [
      linter(null, none),
      lintGutter(none),
      hoverTooltip(
        async (view, at) => {
          const uri = this.#places.workspace.shown?.uri;
          if (uri === undefined) return null;
          const found: FindingMark[] = [];
          forEachDiagnostic(view.state, (mark, from, to) => {
            if (from <= at && at <= to) found.push(mark as FindingMark);
          });
          const [explained, ...fixes] = await Promise.all([
            this.#hover(view, at, uri),
            ...found.map(({ finding }) => this.#fixes(finding, uri, false)),
          ]);
          if (explained === undefined && found.length === 0) return null;
          return {
            pos: at,
            above: true,
            create: () => {
              const dom = element('div', { class: 'pointed' });
              found.forEach(({ finding, severity }, index) => {
                dom.append(element('div', { class: `finding ${severity}` }, this.#words(finding), fixes[index] ?? ''));
              });
              if (explained !== undefined) dom.append(rendered(explained));
              return { dom };
            },
          };
        },
        { hideOn: (transaction) => transaction.docChanged },
      ),
    ];
  }

  async #hover(view: EditorView, at: number, uri: string): Promise<string | undefined> {
    const { client } = this.#places;
    client.sync();
    try {
      const params = { textDocument: { uri }, position: positionOf(view.state.doc, at) };
      const answer = await client.request<object, Hover | null>('textDocument/hover', params);
      return (answer?.contents as MarkupContent | undefined)?.value;
    } catch {
      return undefined;
    }
  }
}
