import { Uri, workspace } from 'vscode';

/** A name in a folder that nothing has yet: `attic.fettle`, else `attic-2.fettle`, and so on. */
export async function unusedUri(folder: Uri, name: string): Promise<Uri> {
  const [, stem = name, ending = ''] = /^(.+?)(\.[^.]+)?$/.exec(name) ?? [];
  let uri = Uri.joinPath(folder, name);
  for (let i = 2; await exists(uri); i++) uri = Uri.joinPath(folder, `${stem}-${i}${ending}`);
  return uri;
}

async function exists(uri: Uri): Promise<boolean> {
  try {
    await workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
