/** The workspace with other texts in some of its files, read in services of its own: what is tried is never written. */
import { type Cancellation, interruptAndCheck, URI } from 'langium';
import { LIBRARY_SCHEME } from '../resolve/keys.ts';
import { type FileDocument, fileDocument } from '../syntax/nodes.ts';
import { createFettleServices } from '../workspace/services.ts';
import type { ReadingServices } from './trial.ts';
import { withTexts } from './with-texts.ts';

/** New texts by file; of files that exist and of some that do not yet. */
export type NewTexts = ReadonlyMap<string, string>;

/** Documents before and after, by file: those with a new text, and all that depend on them. */
export interface Rewritten {
  readonly before: ReadonlyMap<string, FileDocument>;
  readonly after: ReadonlyMap<string, FileDocument>;
}

/** @param files those that are read again; all that depend on the new texts where nothing is stated */
export async function rewritten(
  { shared }: ReadingServices,
  texts: NewTexts,
  cancellation: Cancellation.CancellationToken,
  files?: Iterable<string>,
): Promise<Rewritten> {
  const { LangiumDocuments, FileSystemProvider, WorkspaceManager } = shared.workspace;
  const index = shared.workspace.IndexManager;
  const reached = [...new Set(files ?? [...texts.keys(), ...index.dependentsOf(texts.keys())])].filter(
    (file) => !file.startsWith(`${LIBRARY_SCHEME}:`),
  );
  const textOf = (uri: URI): string | undefined =>
    texts.get(uri.toString()) ?? LangiumDocuments.getDocument(uri)?.textDocument.getText();
  const tried = createFettleServices({ fileSystemProvider: () => withTexts(FileSystemProvider, textOf) });
  const workspaceFolders = [...(WorkspaceManager.workspaceFolders ?? [])];
  const { workspace } = tried.shared;
  workspace.WorkspaceManager.initialize({ capabilities: {}, processId: null, rootUri: null, workspaceFolders });
  const after = new Map<string, FileDocument>();
  for (const file of reached) {
    await interruptAndCheck(cancellation);
    const document = workspace.Loader.file(URI.parse(file));
    if (document) after.set(file, fileDocument(document));
  }
  await workspace.DocumentBuilder.build([...after.values()], { validation: false }, cancellation);
  const before = new Map<string, FileDocument>();
  for (const file of reached) {
    const document = LangiumDocuments.getDocument(URI.parse(file));
    if (document) before.set(file, fileDocument(document));
  }
  return { before, after };
}
