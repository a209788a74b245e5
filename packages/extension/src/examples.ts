import { commands, type ExtensionContext, Uri, window, workspace } from 'vscode';
import { reasonOf } from './error-reason.ts';
import { unusedUri } from './unused-uri.ts';

const FOLDER = 'roof-survey';

/** Copies the examples that are packed into the extension to where the person wants them, and opens the copy. */
export async function openExamples({ extensionUri }: ExtensionContext): Promise<void> {
  const open = workspace.workspaceFolders?.[0]?.uri;
  const [into] =
    (await window.showOpenDialog({
      title: 'Choose a folder for the examples',
      openLabel: 'Copy the Examples Here',
      canSelectFiles: false,
      canSelectFolders: true,
      ...(open && { defaultUri: open }),
    })) ?? [];
  if (into === undefined) return;
  const folder = await unusedUri(into, FOLDER);
  try {
    await copyExamples(extensionUri, folder);
  } catch (error) {
    void window.showErrorMessage(`The examples could not be copied: ${reasonOf(error)}`);
    return;
  }
  // What is open stays open.
  await commands.executeCommand('vscode.openFolder', folder, { forceNewWindow: open !== undefined });
}

async function copyExamples(extensionUri: Uri, folder: Uri): Promise<void> {
  const packed = await workspace.fs.readFile(Uri.joinPath(extensionUri, 'dist', 'examples.json'));
  const texts = JSON.parse(new TextDecoder().decode(packed)) as Record<string, string>;
  for (const [path, text] of Object.entries(texts)) {
    await workspace.fs.writeFile(Uri.joinPath(folder, ...path.split('/')), new TextEncoder().encode(text));
  }
}
