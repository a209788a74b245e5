/** Answers from what was checked, once it has been. */

import { DocumentState, isOperationCancelled, URI } from 'langium';
import type { CancellationToken } from 'vscode-languageserver';
import { ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import { type CheckedBuild, checkDocument } from '../../checks/run.ts';
import { readDocument } from '../../checks/text/read-document.ts';
import { type FileDocument, fileDocument } from '../../syntax/nodes.ts';
import { membersOf } from '../../units/lookup-table.ts';
import type { FettleSharedServices } from '../../workspace/workspace-module.ts';

/** Waits for what was typed before to be checked, then runs its query while nothing changes. */
export async function whenChecked<T>(
  services: FettleSharedServices,
  cancellation: CancellationToken,
  ask: () => T,
): Promise<T> {
  const { WorkspaceManager, DocumentBuilder, WorkspaceLock } = services.workspace;
  try {
    await WorkspaceManager.ready;
    await DocumentBuilder.waitUntil(DocumentState.Validated, cancellation);
    return await WorkspaceLock.read(ask);
  } catch (error) {
    // Uncaught it would look like a defect to the client.
    throw isOperationCancelled(error) ? new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled') : error;
  }
}

/** The file that a request is about. */
export function documentAt(services: FettleSharedServices, uri: unknown): FileDocument {
  if (typeof uri !== 'string') throw new ResponseError(ErrorCodes.InvalidParams, 'the file is missing: { uri }');
  const document = services.workspace.LangiumDocuments.getDocument(URI.parse(uri));
  return document ? fileDocument(document) : refuse(`no such Fettle file: ${uri}`);
}

export function buildIn(document: FileDocument, name: string): CheckedBuild {
  const { builds } = checkDocument(readDocument(document));
  return (
    builds.find(({ build }) => build.name === name) ?? refuse(`no build ${name} in ${document.uri.toString(true)}`)
  );
}

/** Arguments of a command that is about a build. */
export function namesBuild(value: unknown): value is { readonly uri: string; readonly build: string } {
  const { uri, build } = membersOf(value);
  return typeof uri === 'string' && typeof build === 'string';
}

export function refuse(problem: string): never {
  throw new ResponseError(LSPErrorCodes.RequestFailed, problem);
}
