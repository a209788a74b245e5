/** The page to try the language on: puts editor, findings, sheet, files and links together. */
import { LSPClient } from '@codemirror/lsp-client';
import type { Extension } from '@codemirror/state';
import { EditorView } from '@codemirror/view';
import { strToU8, zipSync } from 'fflate';
import type { PublishDiagnosticsParams } from 'vscode-languageserver-protocol';
import { offerKeys, offerViews } from './buttons.ts';
import { stateOf } from './editor.ts';
import { Edits, offsetOf } from './edits.ts';
import { byId, element } from './element.ts';
import { colour } from './highlight.ts';
import { changesIn, linkOf } from './link.ts';
import { type LinkContent, PageFiles } from './page-files.ts';
import { Findings } from './page-findings.ts';
import { Sheet } from './page-sheet.ts';
import { byName, isPath, pagePath, pageUri, ROOT } from './paths.ts';
import { editsOf } from './rename-part.ts';
import { rendered, sanitized } from './rendered-markdown.ts';
import { Tabs } from './tabs.ts';
import { answersFrom, workerTransport } from './transport.ts';
import { PageWorkspace } from './workspace.ts';

const FIRST = 'builds/spire.fettle';
const EMPTY_BUILD = '// Type `build` or `motor` and press Ctrl-Space: the language offers the rest.\n';
/** Without a key for so long, what was typed goes to the server. */
const PAUSE_MS = 60;
/** And then into the address. */
const REST_MS = 600;

const status = byId('status');
const announce = (text: string): void => {
  status.textContent = text;
};

async function start(): Promise<void> {
  // The worker reads its own script while the page reads the examples.
  const worker = new Worker('server.js');
  worker.addEventListener('error', () =>
    announce('The language server stopped. Load the page again; your text is in the address.'),
  );
  const examples = new Map<string, string>(Object.entries(await (await fetch('examples.json')).json()));
  let changes: LinkContent | undefined;
  let problem = '';
  try {
    changes = await changesIn(location.hash);
  } catch (error) {
    problem = `${(error as Error).message} The examples are shown instead.`;
  }
  const page = new Page(new PageFiles(examples, changes), worker, [...examples.keys()]);
  await page.open(changes?.open ?? firstOf(page.files));
  announce(problem);
}

const firstOf = (files: PageFiles): string => (files.has(FIRST) ? FIRST : (files.paths[0] ?? ''));

class Page {
  readonly files: PageFiles;
  readonly #examples: readonly string[];
  readonly #client: LSPClient;
  readonly #workspace: PageWorkspace;
  readonly #view: EditorView;
  readonly #edits: Edits;
  readonly #findings: Findings;
  readonly #sheet: Sheet;
  readonly #tabs: Tabs;
  #pause: ReturnType<typeof setTimeout> | undefined;
  #rest: ReturnType<typeof setTimeout> | undefined;

  constructor(files: PageFiles, worker: Worker, examples: readonly string[]) {
    this.files = files;
    this.#examples = examples;
    let workspace: PageWorkspace | undefined;
    this.#client = new LSPClient({
      rootUri: ROOT,
      timeout: 30_000,
      sanitizeHTML: sanitized,
      initializationOptions: {
        commands: ['fettle.showExplanation'],
        checked: true,
        git: false,
        reference: 'fettle-reference:/',
      },
      workspace: (client) => {
        workspace = new PageWorkspace(client);
        return workspace;
      },
      extensions: [
        {
          clientCapabilities: {
            textDocument: {
              publishDiagnostics: { relatedInformation: true, versionSupport: true, codeDescriptionSupport: true },
              codeAction: {
                codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } },
                disabledSupport: false,
              },
              semanticTokens: { requests: { full: true }, tokenTypes: [], tokenModifiers: [], formats: ['relative'] },
            },
            workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
          },
          notificationHandlers: {
            'textDocument/publishDiagnostics': (_client, reported: PublishDiagnosticsParams) => {
              this.#findings.take(reported);
              return true;
            },
            'fettle/checked': (_client, { uris }: { uris: string[] }) => {
              this.#sheet.checked(uris);
              return true;
            },
          },
        },
      ],
    });
    if (workspace === undefined) throw new Error('the client made no workspace');
    this.#workspace = workspace;
    const shadow = byId('editor').attachShadow({ mode: 'open' });
    this.#view = new EditorView({ parent: shadow, root: shadow });
    workspace.view = this.#view;
    workspace.display = (uri) => {
      const path = pagePath(uri);
      if (path === undefined || !this.files.has(path)) return null;
      this.show(path);
      return this.#view;
    };
    this.#edits = new Edits(this.#client, workspace, files, () => this.#after());
    this.#findings = new Findings({
      client: this.#client,
      workspace,
      edits: this.#edits,
      list: byId('findings'),
      showPage: (name) => void this.#showPage(name),
      goTo: (uri, line, character) => this.#goTo(uri, line, character),
      changed: () => this.#tabs.draw(),
    });
    this.#tabs = new Tabs({
      bar: byId('tabs'),
      workspace,
      findings: this.#findings,
      show: (path) => this.show(path),
      close: (path) => this.close(path),
    });
    this.#sheet = new Sheet({
      client: this.#client,
      frame: byId<HTMLIFrameElement>('sheet'),
      choice: byId<HTMLSelectElement>('build'),
      goTo: (uri, line, character) => this.#goTo(uri, line, character),
      explain: (asked) => void this.#explain(asked),
    });
    this.#client.connect(workerTransport(worker, answersFrom(files)));
    this.#offer();
    followLinks(this);
    shadow.addEventListener('click', (event) => this.followLink(event));
    byId('page').addEventListener('click', (event) => this.followLink(event));
  }

  async open(path: string): Promise<void> {
    await this.#client.initializing;
    this.show(this.files.has(path) ? path : firstOf(this.files));
  }

  /** Puts a file on screen, and opens it if it is not open. */
  show(path: string): void {
    const uri = pageUri(path);
    const open = this.#workspace.getFile(uri) ?? this.#opened(uri, path);
    if (open === undefined) return;
    this.#workspace.show(open);
    this.#findings.draw();
    this.#tabs.draw();
    this.#after();
    void this.#sheet.showFile(uri, this.#lineOfCursor);
  }

  close(path: string): void {
    const { files } = this.#workspace;
    const index = files.findIndex(({ uri }) => uri === pageUri(path));
    const next = files[index + 1] ?? files[index - 1];
    const nextPath = next && pagePath(next.uri);
    // The last one stays: a page without a text shows nothing.
    if (nextPath === undefined) return;
    this.#keepText();
    this.show(nextPath);
    this.#workspace.close(pageUri(path));
    // Until now the server had the texts of the start.
    this.#edits.notify(pageUri(path), 2);
    this.#tabs.draw();
  }

  add(path: string, text: string): void {
    const isNew = !this.files.has(path);
    const open = this.#workspace.getFile(pageUri(path));
    this.files.set(path, text);
    if (open === null) {
      this.#edits.notify(pageUri(path), isNew ? 1 : 2);
    } else {
      const { length } = (open.getView()?.state ?? open.state).doc;
      this.#workspace.updateFile(open.uri, { changes: { from: 0, to: length, insert: text } });
      this.#client.sync();
    }
    this.show(path);
  }

  /** Whether a link in Markdown was one of ours, and is followed. */
  followLink(event: Event): void {
    const link = event.composedPath().find((one) => one instanceof HTMLAnchorElement);
    const href = link?.getAttribute('href') ?? '';
    const [, asked] = /^command:fettle\.showExplanation\?(.*)$/.exec(href) ?? [];
    const [, page] = /^fettle-reference:\/+(.*)$/.exec(href) ?? [];
    if (asked === undefined && page === undefined) return;
    event.preventDefault();
    if (page !== undefined) void this.#showPage(page);
    else if (asked !== undefined) void this.#explain(JSON.parse(decodeURIComponent(asked))[0]);
  }

  #opened(uri: string, path: string) {
    const text = this.files.text(path);
    return text === undefined
      ? undefined
      : this.#workspace.open(uri, stateOf({ uri, text }, this.#client, this.#extensions));
  }

  get #extensions(): Extension {
    return [
      editsOf.of(this.#edits),
      this.#findings.extension,
      EditorView.updateListener.of((update) => {
        if (!update.docChanged) return;
        clearTimeout(this.#pause);
        this.#pause = setTimeout(() => this.#typed(), PAUSE_MS);
      }),
    ];
  }

  #typed(): void {
    this.#client.sync();
    this.#after();
    const { shown } = this.#workspace;
    if (shown !== undefined) void this.#sheet.showFile(shown.uri, this.#lineOfCursor);
  }

  /** Whatever follows a change, or another file on screen. */
  #after(): void {
    this.#keepText();
    const { shown } = this.#workspace;
    if (shown !== undefined) void colour(this.#view, this.#client, shown.uri).catch(() => undefined);
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => void this.#remember(), REST_MS);
  }

  #keepText(): void {
    const { shown } = this.#workspace;
    const path = shown && pagePath(shown.uri);
    if (path !== undefined) this.files.set(path, this.#view.state.doc.toString());
  }

  get #shownPath(): string | undefined {
    return this.#workspace.shown && pagePath(this.#workspace.shown.uri);
  }

  get #lineOfCursor(): number {
    const { doc, selection } = this.#view.state;
    return doc.lineAt(selection.main.head).number - 1;
  }

  /** The address has the text: loading the page again keeps it. */
  async #remember(): Promise<string | undefined> {
    const changes = this.files.changes(this.#shownPath);
    const isPlain = Object.keys(changes.files).length === 0 && (changes.open === undefined || changes.open === FIRST);
    const link = isPlain ? '#' : await linkOf(changes);
    if (link !== undefined) history.replaceState(null, '', isPlain ? location.pathname + location.search : link);
    return link;
  }

  #goTo(uri: string, line: number, character: number): void {
    const path = pagePath(uri);
    if (path === undefined) return;
    this.show(path);
    byId('views').querySelector<HTMLElement>('[data-view="text"]')?.click();
    const at = offsetOf(this.#view.state.doc, { line, character });
    this.#view.dispatch({ selection: { anchor: at }, effects: EditorView.scrollIntoView(at, { y: 'center' }) });
    this.#view.focus();
  }

  async #explain(asked: object): Promise<void> {
    try {
      const markdown = await this.#client.request<object, string>('workspace/executeCommand', {
        command: 'fettle.explain',
        arguments: [asked],
      });
      showDialog(markdown);
    } catch (error) {
      announce((error as Error).message);
    }
  }

  /** A page of the reference; read from next to this page when it is needed. */
  async #showPage(name: string): Promise<void> {
    if (!/^[\w-]+(?:\/[\w-]+)?\.md$/.test(name)) return;
    const answer = await fetch(`reference/${name}`).catch(() => undefined);
    if (answer?.ok) showDialog(await answer.text());
    else announce('This page of the reference cannot be read.');
  }

  /** What the bar above offers. */
  #offer(): void {
    const choice = byId<HTMLSelectElement>('examples');
    const groups = Map.groupBy([...this.#examples].sort(byName), (path) => path.split('/')[0] ?? '');
    for (const [folder, paths] of groups) {
      const options = paths.map((path) => element('option', { value: path }, path.slice(folder.length + 1)));
      choice.append(element('optgroup', { label: folder === 'broken' ? 'broken on purpose' : folder }, ...options));
    }
    choice.value = FIRST;
    choice.addEventListener('change', () => {
      if (this.files.has(choice.value)) this.show(choice.value);
      else announce('This example was taken out in the text that the address contains.');
    });
    byId('new').addEventListener('click', () => this.add(this.files.freeName('builds/mine.fettle'), EMPTY_BUILD));
    const chosen = byId<HTMLInputElement>('chosen');
    byId('load').addEventListener('click', () => chosen.click());
    chosen.addEventListener('change', () => void this.#take([...(chosen.files ?? [])]));
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => {
      event.preventDefault();
      void this.#take([...(event.dataTransfer?.files ?? [])]);
    });
    byId('zip').addEventListener('click', () => this.#download());
    byId('share').addEventListener('click', () => void this.#share());
    offerViews();
    offerKeys(this.#view);
  }

  /** Files of a reader's own. */
  async #take(chosen: readonly File[]): Promise<void> {
    const refused: string[] = [];
    for (const file of chosen) {
      if (!isPath(file.name) || file.size > 1_000_000) refused.push(file.name);
      else this.add(file.name, await file.text());
    }
    if (refused.length > 0) announce(`Only .fettle and .csv files up to 1 MB are read; not: ${refused.join(', ')}.`);
  }

  #download(): void {
    this.#keepText();
    const entries = this.files.paths.map((path) => [path, strToU8(this.files.text(path) ?? '')] as const);
    const url = URL.createObjectURL(new Blob([zipSync(Object.fromEntries(entries))], { type: 'application/zip' }));
    const link = element('a', { href: url, download: 'fettle.zip' });
    link.click();
    URL.revokeObjectURL(url);
    announce(`${entries.length} files are in fettle.zip.`);
  }

  async #share(): Promise<void> {
    this.#keepText();
    const link = await this.#remember();
    if (link === undefined) {
      announce('These texts are too long for a link. Download them instead.');
      return;
    }
    try {
      await navigator.clipboard.writeText(location.href);
      announce('The link is copied. It contains the text itself: whoever opens it sees what you see now.');
    } catch {
      announce('The link is in the address bar; copy it from there.');
    }
  }
}

function showDialog(markdown: string): void {
  const dialog = byId<HTMLDialogElement>('page');
  dialog.lastElementChild?.replaceChildren(rendered(markdown));
  if (!dialog.open) dialog.showModal();
  dialog.scrollTop = 0;
}

/** A link that somebody pastes into the address of this page. */
function followLinks(page: Page): void {
  addEventListener('hashchange', async () => {
    try {
      const changes = await changesIn(location.hash);
      if (changes === undefined) return;
      location.reload();
    } catch (error) {
      announce(`${(error as Error).message} ${page.files.paths.length} files are as they were.`);
    }
  });
}

start().catch((error: unknown) =>
  announce(`The page could not be started: ${error instanceof Error ? error.message : String(error)}`),
);
