import { FileType, Uri, workspace } from 'vscode';
import { type BaseLanguageClient, LSPErrorCodes, ResponseError } from 'vscode-languageclient';
import { listFilesRequest, readFileRequest } from '../../language/src/editor/requests/protocol.ts';
import { isRead } from '../../language/src/resolve/read-files.ts';
import { reasonOf } from './error-reason.ts';

/**
 * A server in a browser cannot read a disk, nor can one on Node read a virtual workspace: it requests them from the editor.
 * Both requests take and give URIs as text.
 */

export function answerFileRequests(client: BaseLanguageClient): void {
  client.onRequest(readFileRequest, async ({ uri }) => {
    try {
      const bytes = await workspace.fs.readFile(Uri.parse(uri, true));
      return { text: new TextDecoder('utf-8').decode(bytes) };
    } catch (error) {
      return new ResponseError(LSPErrorCodes.RequestFailed, `cannot read ${uri}: ${reasonOf(error)}`);
    }
  });
  client.onRequest(listFilesRequest, async ({ folder }) => {
    try {
      return { uris: (await sourcesBelow(Uri.parse(folder, true))).map((uri) => uri.toString()) };
    } catch (error) {
      return new ResponseError(LSPErrorCodes.RequestFailed, `cannot list ${folder}: ${reasonOf(error)}`);
    }
  });
}

/** All texts of the language below a folder, and tables that they may read rows from. Hidden folders and `node_modules` are left out, as they are on Node. */
async function sourcesBelow(folder: Uri): Promise<Uri[]> {
  const found: Uri[] = [];
  for (const [name, type] of await workspace.fs.readDirectory(folder)) {
    const uri = Uri.joinPath(folder, name);
    const isLink = (type & FileType.SymbolicLink) !== 0;
    if (type & FileType.Directory) {
      // A link to a folder may lead back to where we are.
      if (!isLink && !name.startsWith('.') && name !== 'node_modules') found.push(...(await sourcesBelow(uri)));
    } else if (isRead(name)) {
      found.push(uri);
    }
  }
  return found;
}
