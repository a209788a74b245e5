import { Uri, type Webview } from 'vscode';
import { shellPage } from './shell-page.ts';

/** Where everything lies that a view may load. */
export const viewRoot = (extensionUri: Uri): Uri => Uri.joinPath(extensionUri, 'dist', 'view');

/** The page before anything is shown. Only our own files run or style it; it loads nothing else from anywhere. */
export function shellOf(webview: Webview, extensionUri: Uri, about: string): string {
  const file = (name: string) => webview.asWebviewUri(Uri.joinPath(viewRoot(extensionUri), name)).toString();
  return shellPage({ style: file('sheet.css'), script: file('sheet.js') }, webview.cspSource, about);
}
