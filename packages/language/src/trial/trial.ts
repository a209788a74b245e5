/**
 * Builds that are in no file: a document is read again with lines behind its text, in services of its own. What is computed of them is what
 * would be computed if somebody wrote those lines.
 */
import type { LangiumDocument } from 'langium';
import type { PartNode } from '../grammar/generated/ast.ts';
import { type FileDocument, fileDocument } from '../syntax/nodes.ts';
import { createFettleServices, type Services } from '../workspace/services.ts';
import { withTexts } from './with-texts.ts';

/** Behind the name of what is tried: a letter that nobody types. */
export const TRIED = 'ʹ';

/** As people read it: without what marks it as tried. */
export const withoutTrialMarks = (text: string): string => text.replace(/ʹ+[a-z]*\d*/gu, '');

/** What a document is read with: all of it that is needed here. */
export type ReadingServices = Pick<Services, 'shared'>;

export interface Trial {
  readonly services: Services;
  readonly document: FileDocument;
  /** Where the added lines begin. */
  readonly from: number;
}

/** Reads a document with text behind its own; the files around it as they are known to the services, saved or not. */
export async function withAppended(
  services: ReadingServices,
  document: LangiumDocument,
  appended: string,
): Promise<Trial> {
  const own = document.uri.toString();
  const { LangiumDocuments, FileSystemProvider } = services.shared.workspace;
  const before = `${document.textDocument.getText()}\n`;
  const files = withTexts(FileSystemProvider, (uri) => {
    if (uri.toString() === own) return before + appended;
    return LangiumDocuments.getDocument(uri)?.textDocument.getText();
  });
  const tried = createFettleServices({ fileSystemProvider: () => files });
  const { WorkspaceManager, Loader, DocumentBuilder } = tried.shared.workspace;
  const workspaceFolders = [...(services.shared.workspace.WorkspaceManager.workspaceFolders ?? [])];
  WorkspaceManager.initialize({ capabilities: {}, processId: null, rootUri: null, workspaceFolders });
  const read = Loader.file(document.uri);
  if (!read) throw new Error(Loader.failures.get(own)?.message ?? `${own} cannot be read`);
  await DocumentBuilder.build([read], { validation: false });
  return { services: tried, document: read, from: before.length };
}

export const partOfKindNamed = (document: LangiumDocument, kind: string, name: string): PartNode | undefined =>
  fileDocument(document).parseResult.value.parts.find((part) => part.kind === kind && part.name === name);
