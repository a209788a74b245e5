import { Uri, type Webview } from 'vscode';

/** Where everything lies that a view may load. */
export const viewRoot = (extensionUri: Uri): Uri => Uri.joinPath(extensionUri, 'dist', 'view');

/** The page before anything is shown. Only our own files run or style it; it loads nothing else from anywhere. */
export function shellOf(webview: Webview, extensionUri: Uri, about: string): string {
  const file = (name: string) => webview.asWebviewUri(Uri.joinPath(viewRoot(extensionUri), name)).toString();
  const policy = `default-src 'none'; style-src ${webview.cspSource}; script-src ${webview.cspSource}`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Fettle, ${about}</title>
<link rel="stylesheet" href="${file('sheet.css')}">
</head>
<body>
<div id="told" class="unseen" role="status" aria-live="polite"></div>
<p id="note" hidden></p>
<p id="busy" hidden><span></span> <button type="button">Stop</button></p>
<main id="sheet"><p class="quiet">Waiting for the figures …</p></main>
<script src="${file('sheet.js')}"></script>
</body>
</html>
`;
}
