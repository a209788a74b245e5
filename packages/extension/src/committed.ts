import { commands, type Disposable, EventEmitter, Uri, ViewColumn, window, workspace } from 'vscode';
import { type BaseLanguageClient, RequestType } from 'vscode-languageclient';
import { fieldsOf } from './sheet/messages.ts';

export const COMPARE_COMMITTED = 'fettle.compareCommitted';
const SCHEME = 'fettle-review';

const request = new RequestType<{ uri?: string }, { markdown: string }, void>('fettle/review');

/** Pages that tell what the saved files make of each build beside the last commit, as Markdown beside the text; each save renews them. */
export function provideComparisons(client: BaseLanguageClient): Disposable[] {
  const pages = new Map<string, Uri>();
  const changed = new EventEmitter<Uri>();
  return [
    changed,
    commands.registerCommand(COMPARE_COMMITTED, async (asked: unknown) => {
      const page = pageOf(fileOf(asked));
      // A page that is open shows what it showed; the person asks because something is new.
      if (pages.has(page.toString())) changed.fire(page);
      const beside = { viewColumn: ViewColumn.Beside, preview: true };
      await commands.executeCommand('vscode.openWith', page, 'vscode.markdown.preview.editor', beside);
    }),
    workspace.registerTextDocumentContentProvider(SCHEME, {
      onDidChange: changed.event,
      async provideTextDocumentContent(page) {
        pages.set(page.toString(), page);
        return comparisonOn(page, client);
      },
    }),
    workspace.onDidCloseTextDocument(({ uri }) => pages.delete(uri.toString())),
    workspace.onDidSaveTextDocument(({ languageId }) => {
      if (languageId === 'fettle') for (const page of pages.values()) changed.fire(page);
    }),
  ];
}

async function comparisonOn(page: Uri, client: BaseLanguageClient): Promise<string> {
  try {
    const { markdown } = await client.sendRequest(request, page.query === '' ? {} : { uri: page.query });
    return markdown;
  } catch (error) {
    return `# Nothing to compare\n\n${error instanceof Error ? error.message : error}\n`;
  }
}

/** What the lens names, else the file in front: it tells which repository is meant. */
function fileOf(asked: unknown): string | undefined {
  const { uri } = fieldsOf(asked);
  if (typeof uri === 'string') return uri;
  const document = window.activeTextEditor?.document;
  return document?.languageId === 'fettle' ? document.uri.toString() : undefined;
}

/** The path is what the tab shows; one page for all files of a workspace folder. */
function pageOf(file: string | undefined): Uri {
  const folder = file === undefined ? undefined : workspace.getWorkspaceFolder(Uri.parse(file, true));
  const about = folder?.uri.toString() ?? file;
  return Uri.from({
    scheme: SCHEME,
    path: '/Since the last commit.md',
    ...(about !== undefined && { query: about }),
  });
}
