import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith } from './extension.ts';

export { deactivate } from './extension.ts';

export function activate(context: ExtensionContext): void {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'server.js').fsPath;
  const server = { module, transport: TransportKind.ipc };
  activateWith(context, (options) => new LanguageClient('fettle', 'Fettle', server, options));
}
