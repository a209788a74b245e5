import { commands, type Disposable, Uri, ViewColumn, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { COMPARE_COMMITTED, reviewRequest } from '../../language/src/editor/requests/protocol.ts';
import { reasonOf } from './error-reason.ts';
import { MarkdownPages } from './markdown-pages.ts';
import { fieldsOf } from './sheet/view-messages.ts';

const SCHEME = 'fettle-review';

/** Pages that compare each build of the saved files with the last commit, as Markdown next to the text; each save renews them. */
export function provideComparisons(client: BaseLanguageClient): Disposable[] {
  const pages = new MarkdownPages(SCHEME, (page) => comparisonOn(page, client));
  return [
    pages,
    commands.registerCommand(COMPARE_COMMITTED, async (requested: unknown) => {
      const page = pageOf(fileOf(requested));
      // A page that is open shows an earlier answer; a new request means that something is new.
      pages.renew((one) => one.toString() === page.toString());
      await pages.show(page, ViewColumn.Beside);
    }),
    workspace.onDidSaveTextDocument(({ languageId }) => {
      if (languageId === 'fettle') pages.renew(() => true);
    }),
  ];
}

async function comparisonOn(page: Uri, client: BaseLanguageClient): Promise<string> {
  try {
    const { markdown } = await client.sendRequest(reviewRequest, page.query === '' ? {} : { uri: page.query });
    return markdown;
  } catch (error) {
    return `# Nothing to compare\n\n${reasonOf(error)}\n`;
  }
}

/** What the lens names, else the file in front: it determines the repository. */
function fileOf(requested: unknown): string | undefined {
  const { uri } = fieldsOf(requested);
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
