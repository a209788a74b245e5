import { commands, type Disposable, EventEmitter, Uri, ViewColumn, workspace } from 'vscode';
import { type BaseLanguageClient, ExecuteCommandRequest } from 'vscode-languageclient';
import type { CheckedFiles } from './checked.ts';
import { asSubject, fieldsOf } from './sheet/messages.ts';

export const SHOW_EXPLANATION = 'fettle.showExplanation';
const SCHEME = 'fettle-explanation';

interface Explained {
  readonly uri: string;
  readonly build: string;
  readonly pack?: string;
  readonly result: string;
}

/** Pages that tell how a result came about, as Markdown beside the text; each follows what is typed. */
export function provideExplanations(client: BaseLanguageClient, checked: CheckedFiles): Disposable[] {
  const pages = new Map<string, Uri>();
  const changed = new EventEmitter<Uri>();
  return [
    changed,
    commands.registerCommand(SHOW_EXPLANATION, async (asked: unknown, column: unknown) => {
      const explained = asExplained(asked);
      if (explained === undefined) return;
      const place = { viewColumn: typeof column === 'number' ? column : ViewColumn.Beside, preview: true };
      await commands.executeCommand('vscode.openWith', pageOf(explained), 'vscode.markdown.preview.editor', place);
    }),
    workspace.registerTextDocumentContentProvider(SCHEME, {
      onDidChange: changed.event,
      async provideTextDocumentContent(page) {
        const explained = explainedOn(page);
        if (explained === undefined) return '# No such page\n';
        pages.set(page.toString(), page);
        return explanationOf(explained, client);
      },
    }),
    workspace.onDidCloseTextDocument(({ uri }) => pages.delete(uri.toString())),
    checked.onDidCheck((uris) => {
      for (const page of pages.values()) if (uris.has(explainedOn(page)?.uri ?? '')) changed.fire(page);
    }),
  ];
}

async function explanationOf(explained: Explained, client: BaseLanguageClient): Promise<string> {
  try {
    const asked = { command: 'fettle.explain', arguments: [explained] };
    return String(await client.sendRequest(ExecuteCommandRequest.type, asked));
  } catch (error) {
    return `# Nothing to explain\n\n${error instanceof Error ? error.message : error}\n`;
  }
}

/** The path is what the tab shows. */
function pageOf(explained: Explained): Uri {
  const { build, pack, result } = explained;
  const on = pack === undefined ? '' : ` on ${pack}`;
  return Uri.from({ scheme: SCHEME, path: `/${result} of ${build}${on}.md`, query: JSON.stringify(explained) });
}

function explainedOn(page: Uri): Explained | undefined {
  try {
    return asExplained(JSON.parse(page.query));
  } catch {
    return undefined;
  }
}

function asExplained(value: unknown): Explained | undefined {
  const subject = asSubject(value);
  const { pack, result } = fieldsOf(value);
  if (subject === undefined || typeof result !== 'string') return undefined;
  return { ...subject, result, ...(typeof pack === 'string' && { pack }) };
}
