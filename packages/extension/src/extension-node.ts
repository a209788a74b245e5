import { type ExtensionContext, Uri, workspace } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { activateWith, deactivate } from './extension.ts';

export { deactivate };

export function activate(context: ExtensionContext): void {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'server.js').fsPath;
  const folders = workspace.workspaceFolders ?? [];
  const isVirtual = folders.length > 0 && folders.every(({ uri }) => uri.scheme !== 'file');
  const server = { module, transport: TransportKind.ipc, args: isVirtual ? ['--client-files'] : [] };
  activateWith(context, (options) => new LanguageClient('fettle', 'Fettle', server, options));
}
