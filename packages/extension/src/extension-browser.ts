import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { activateWith, deactivate } from './extension.ts';

export { deactivate };

export function activate(context: ExtensionContext): void {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'server.js').toString(true);
  let worker: Worker | undefined;
  const startWorker = async () => {
    worker?.terminate();
    worker = new Worker(script);
    return worker;
  };
  activateWith(context, (options) => new LanguageClient('fettle', 'Fettle', startWorker, options));
}
