/** Before files or folders are renamed or moved: the edits that keep what `use` lines and rows of a stand open, and what names mean. */

import { AstUtils, GrammarUtils, URI, UriUtils } from 'langium';
import type { FileOperationHandler } from 'langium/lsp';
import type { FileOperationOptions, RenameFilesParams } from 'vscode-languageserver-protocol';
import type { TextEdit, WorkspaceEdit } from 'vscode-languageserver-types';
import { isLog, isNamedNode, isPartNode, isRows, isUseNode, type PartNode } from '../grammar/generated/ast.ts';
import { keyOf, LIBRARY_SCHEME, placeOfPath, withoutSlash } from '../resolve/keys.ts';
import { READ_FILES } from '../resolve/read-files.ts';
import { addUse, pathTo } from '../resolve/use-lines.ts';
import { type FileDocument, fileDocument } from '../syntax/nodes.ts';
import { placeOpened } from './engine/documents-opened.ts';
import type { EngineServices } from './engine/editor-services.ts';
import { toTextEdits } from './place-ranges.ts';

/** Where a file will be. */
type Moved = (uri: URI) => URI;

export class FileMoves implements FileOperationHandler {
  readonly fileOperationOptions: FileOperationOptions = {
    willRename: {
      filters: [{ pattern: { glob: READ_FILES, matches: 'file' } }, { pattern: { glob: '**/*', matches: 'folder' } }],
    },
  };
  readonly #workspace: EngineServices['workspace'];

  constructor(services: EngineServices) {
    this.#workspace = services.workspace;
  }

  async willRenameFiles({ files }: RenameFilesParams): Promise<WorkspaceEdit | null> {
    await this.#workspace.WorkspaceManager.ready;
    return this.#workspace.WorkspaceLock.read(() => this.#editsFor(files));
  }

  #editsFor(files: RenameFilesParams['files']): WorkspaceEdit | null {
    const moves = files.map(({ oldUri, newUri }) => [canonicalUri(oldUri), canonicalUri(newUri)] as const);
    const moved: Moved = (uri) => {
      const text = uri.toString();
      const move = moves.find(([from]) => text === from || text.startsWith(`${from}/`));
      return move === undefined ? uri : URI.parse(move[1] + text.slice(move[0].length));
    };
    const documentChanges = this.#workspace.LangiumDocuments.all
      .filter(({ uri }) => uri.scheme !== LIBRARY_SCHEME)
      .map((document) => ({
        textDocument: {
          uri: this.#workspace.TextDocuments.spellingOf(document.uri),
          version: this.#workspace.TextDocuments.versionOf(document),
        },
        edits: editsOf(fileDocument(document), moved),
      }))
      .filter(({ edits }) => edits.length > 0)
      .toArray();
    return documentChanges.length === 0 ? null : { documentChanges };
  }
}

function editsOf(document: FileDocument, moved: Moved): TextEdit[] {
  const here = moved(document.uri);
  const opened: URI[] = [];
  const edits: TextEdit[] = [];
  for (const { written, range, target } of pathsIn(document)) {
    const newTarget = moved(target);
    opened.push(newTarget);
    // What lies in a package is found from anywhere below the folder that contains it.
    const means = (file: URI, place: URI) => keyOf(placeOfPath(file, written)) === keyOf(place);
    if (means(document.uri, target) && !means(here, newTarget)) {
      edits.push({ range, newText: `"${pathTo(here, newTarget)}"` });
    }
  }
  const added = foldersToOpen(document, moved, opened).flatMap((folder) => addUse(document, folder, here).edits);
  return [...edits, ...toTextEdits(added, document)];
}

interface WrittenPath {
  readonly written: string;
  readonly range: TextEdit['range'];
  readonly target: URI;
}

/** Paths in a file, with the folder or file they represent now. */
function pathsIn(document: FileDocument): WrittenPath[] {
  const file = document.parseResult.value;
  const holders = [...file.uses, ...AstUtils.streamAllContents(file).filter((node) => isRows(node) || isLog(node))];
  return holders.flatMap((holder) => {
    const written = isUseNode(holder) ? holder.path : holder.file;
    const range = GrammarUtils.findNodeForProperty(holder.$cstNode, isUseNode(holder) ? 'path' : 'file')?.range;
    if (written === undefined || range === undefined) return [];
    const opened = isUseNode(holder) ? placeOpened(document, holder) : undefined;
    return [{ written, range, target: opened ?? placeOfPath(document.uri, written) }];
  });
}

/** Folders of parts that this file names and that a move takes out of its reach, or it out of theirs. */
function foldersToOpen(document: FileDocument, moved: Moved, opened: readonly URI[]): URI[] {
  const here = UriUtils.dirname(moved(document.uri));
  const folders = new Map<string, URI>();
  for (const part of partsNamedIn(document)) {
    const { uri } = AstUtils.getDocument(part);
    const folder = UriUtils.dirname(moved(uri));
    const isMoved = !UriUtils.equals(uri, moved(uri)) || !UriUtils.equals(document.uri, moved(document.uri));
    const inReach = [folder, moved(uri)].some((place) => opened.some((other) => UriUtils.equals(place, other)));
    if (uri.scheme !== LIBRARY_SCHEME && isMoved && !inReach && !UriUtils.equals(folder, here)) {
      folders.set(folder.toString(), folder);
    }
  }
  return [...folders.values()];
}

/** Parts called by their bare name; one called through the second name of a `use` goes with that line. */
function partsNamedIn(document: FileDocument): Set<PartNode> {
  const parts = new Set<PartNode>();
  for (const reference of document.references) {
    const target = 'ref' in reference ? reference.ref : undefined;
    const holder = reference.$refNode?.astNode;
    const isBare = isNamedNode(holder) && holder.head === reference;
    if (isBare && isPartNode(target) && AstUtils.getDocument(target) !== document) parts.add(target);
  }
  return parts;
}

const canonicalUri = (uri: string): string => URI.parse(withoutSlash(uri)).toString();
