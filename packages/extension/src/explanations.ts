import { commands, type Disposable, Uri, ViewColumn } from 'vscode';
import { type BaseLanguageClient, ExecuteCommandRequest } from 'vscode-languageclient';
import type { CheckedFiles } from './checked.ts';
import { MarkdownPages } from './markdown-pages.ts';
import { reasonOf } from './reason.ts';
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
  const pages = new MarkdownPages(SCHEME, (page) => {
    const explained = explainedOn(page);
    return explained === undefined ? '# No such page\n' : explanationOf(explained, client);
  });
  return [
    pages,
    commands.registerCommand(SHOW_EXPLANATION, async (asked: unknown, column: unknown) => {
      const explained = asExplained(asked);
      if (explained === undefined) return;
      await pages.show(pageOf(explained), typeof column === 'number' ? column : ViewColumn.Beside);
    }),
    checked.onDidCheck((uris) => pages.renew((page) => uris.has(explainedOn(page)?.uri ?? ''))),
  ];
}

async function explanationOf(explained: Explained, client: BaseLanguageClient): Promise<string> {
  try {
    const asked = { command: 'fettle.explain', arguments: [explained] };
    return String(await client.sendRequest(ExecuteCommandRequest.type, asked));
  } catch (error) {
    return `# Nothing to explain\n\n${reasonOf(error)}\n`;
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
