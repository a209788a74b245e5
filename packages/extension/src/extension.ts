import { commands, type ExtensionContext, workspace } from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { openExamples } from './examples.ts';
import { answerFileRequests } from './file-requests.ts';
import { done, watchForFindings } from './first-steps.ts';
import { openNewBuild } from './new-build.ts';
import { CLIENT_COMMANDS, offerClientCommands } from './offered-commands.ts';
import { checkedFiles } from './rechecked.ts';
import { provideReferencePages } from './reference-pages.ts';
import { StatusItem } from './status.ts';
import { RequirementTests } from './testing/requirement-tests.ts';

let client: BaseLanguageClient | undefined;
/** Settles when the server has answered `initialize`, or could not. */
let starting: Promise<void> = Promise.resolve();

/**
 * Activation as both hosts share it. It does not wait for the server, which takes longer than all else: what is requested
 * meanwhile is sent when it is there, and when it cannot start the client reports it.
 * @param makeClient makes the client of one host: a process of its own on Node, a worker in a browser.
 */
export function activateWith(
  context: ExtensionContext,
  makeClient: (options: LanguageClientOptions) => BaseLanguageClient,
): void {
  const started = makeClient({
    documentSelector: sourceSchemes().map((scheme) => ({ scheme, language: 'fettle' })),
    // A function: at a restart the workspace may be trusted.
    initializationOptions: () => ({
      commands: CLIENT_COMMANDS,
      checked: true,
      git: workspace.isTrusted,
      reference: 'fettle-reference:/',
    }),
    middleware: {
      async provideHover(document, position, token, next) {
        const hover = await next(document, position, token);
        if (hover) void done('hover');
        return hover;
      },
    },
    markdown: { isTrusted: { enabledCommands: CLIENT_COMMANDS } },
  });
  client = started;
  const restart = async (): Promise<void> => {
    await deactivate();
    await start();
  };
  const start = (): Promise<void> => {
    starting = started
      .start()
      .catch((error) => started.error('The language server could not be started.', error, false));
    return starting;
  };
  answerFileRequests(started);
  const checked = checkedFiles(started);
  context.subscriptions.push(
    provideReferencePages(context.extensionUri),
    checked,
    new RequirementTests(started, checked),
    new StatusItem(started, checked),
    ...offerClientCommands(context, started, checked),
    watchForFindings(),
    commands.registerCommand('fettle.openExamples', () => openExamples(context)),
    commands.registerCommand('fettle.restart', restart),
    workspace.onDidGrantWorkspaceTrust(restart),
    commands.registerCommand('fettle.newBuild', () => openNewBuild(started)),
    commands.registerCommand('fettle.showOutput', () => started.outputChannel.show(true)),
  );
  void start();
}

export async function deactivate(): Promise<void> {
  await starting;
  if (client?.needsStop()) await client.stop();
}

/**
 * Where sources live. Not every scheme: the old side of a comparison (`git:` and its like) shows the same parts
 * a second time, and the server would report every one of them as declared twice.
 */
function sourceSchemes(): string[] {
  const folders = (workspace.workspaceFolders ?? []).map((folder) => folder.uri.scheme);
  return [...new Set(['file', 'untitled', 'vscode-vfs', 'vscode-remote', ...folders])];
}
