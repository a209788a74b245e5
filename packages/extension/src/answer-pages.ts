import { commands, type Disposable, Uri, ViewColumn } from 'vscode';
import { type BaseLanguageClient, ExecuteCommandRequest } from 'vscode-languageclient';
import { reasonOf } from './error-reason.ts';
import { MarkdownPages } from './markdown-pages.ts';
import type { CheckedFiles } from './rechecked.ts';

/** Pages that show what a command of the server answers about a build. */
/** In which file it is: what is typed there renews the page. */
interface InFile {
  readonly uri: string;
}

export interface AnswerPages<Asked extends InFile> {
  readonly scheme: string;
  /** Shows a page. */
  readonly command: string;
  /** Of the server. */
  readonly ask: string;
  /** What a lens, a link or a person names; undefined where nothing is to be shown. */
  readonly meant: (requested: unknown) => Asked | undefined | Promise<Asked | undefined>;
  /** What a page contains, if it is one of these. */
  readonly read: (value: unknown) => Asked | undefined;
  /** What the tab shows. */
  readonly title: (requested: Asked) => string;
  /** Above the reason why there is no answer. */
  readonly otherwise: string;
}

/** As Markdown next to the text; each page follows what is typed. */
export function provideAnswerPages<Asked extends InFile>(
  { scheme, command, ask, meant, read, title, otherwise }: AnswerPages<Asked>,
  client: BaseLanguageClient,
  checked: CheckedFiles,
): Disposable[] {
  const requiredOn = (page: Uri): Asked | undefined => {
    try {
      return read(JSON.parse(page.query));
    } catch {
      return undefined;
    }
  };
  const pages = new MarkdownPages(scheme, async (page) => {
    const requested = requiredOn(page);
    if (requested === undefined) return '# No such page\n';
    try {
      return String(await client.sendRequest(ExecuteCommandRequest.type, { command: ask, arguments: [requested] }));
    } catch (error) {
      return `# ${otherwise}\n\n${reasonOf(error)}\n`;
    }
  });
  return [
    pages,
    commands.registerCommand(command, async (given: unknown, column: unknown) => {
      const requested = await meant(given);
      if (requested === undefined) return;
      const page = Uri.from({ scheme, path: `/${title(requested)}.md`, query: JSON.stringify(requested) });
      await pages.show(page, typeof column === 'number' ? column : ViewColumn.Beside);
    }),
    checked.onDidCheck((uris) => pages.renew((page) => uris.has(requiredOn(page)?.uri ?? ''))),
  ];
}
