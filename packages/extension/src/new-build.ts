import { Range, Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type NewBuildFile, newBuildRequest } from '../../language/src/editor/requests/protocol.ts';
import { done } from './first-steps.ts';
import { unusedUri } from './unused-uri.ts';

/**
 * Prompts for nine numbers, one box each, and opens the first build that they make: its name, a default, is selected to be typed over. The
 * server judges and writes; here it is only shown.
 */
export async function openNewBuild(client: BaseLanguageClient): Promise<void> {
  const folder = folderForNew();
  const ask = (answers: Record<string, string>) =>
    client.sendRequest(newBuildRequest, { ...(folder && { folder: folder.toString() }), answers });

  const answers: Record<string, string> = {};
  const { questions } = await ask(answers);
  const required = questions.filter(({ usual }) => usual === undefined);
  for (const [i, { id, asks, description, example }] of required.entries()) {
    const answer = await window.showInputBox({
      title: `New build: ${asks} (${i + 1} of ${required.length})`,
      prompt: description,
      placeHolder: example,
      ignoreFocusOut: true,
      validateInput: async (typed) => {
        const judged = await ask({ ...answers, [id]: typed });
        return judged.questions.find((one) => one.id === id)?.problem;
      },
    });
    if (answer === undefined) return;
    answers[id] = answer;
  }
  const { file } = await ask(answers);
  if (file === undefined) return;
  await open(file, folder);
  await done('newBuild');
}

/** Where the file in front lies; else the workspace's first folder. */
function folderForNew(): Uri | undefined {
  const uri = window.activeTextEditor?.document.uri;
  if (uri?.path.endsWith('.fettle') && workspace.getWorkspaceFolder(uri)) return Uri.joinPath(uri, '..');
  return workspace.workspaceFolders?.[0]?.uri;
}

async function open(file: NewBuildFile, folder: Uri | undefined): Promise<void> {
  const document = folder
    ? await workspace.openTextDocument(await written(file, folder))
    : await workspace.openTextDocument({ language: 'fettle', content: file.text });
  const { start, end } = file.range;
  await window.showTextDocument(document, {
    selection: new Range(start.line, start.character, end.line, end.character),
  });
}

/** Never over a file that is there. */
async function written({ fileName, text }: NewBuildFile, folder: Uri): Promise<Uri> {
  const uri = await unusedUri(folder, fileName);
  await workspace.fs.writeFile(uri, new TextEncoder().encode(text));
  return uri;
}
