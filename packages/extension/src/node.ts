import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './extension.ts';

export { deactivate } from './extension.ts';

/**
 * Room for new objects, MB. The first look at a large workspace makes much that is soon gone: with the usual 16 the process ends a
 * quarter larger, and no sooner.
 */
const SMALL_NURSERY = '--max-semi-space-size=8';

export function activate(context: ExtensionContext): void {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'server.js').fsPath;
  const server = { module, transport: TransportKind.ipc, options: { execArgv: [SMALL_NURSERY] } };
  activateWith(context, (options) => new LanguageClient('fettle', 'Fettle', server, options));
}
