/** What the `use` lines of a file open: a folder, a file, a package of parts, or nothing. */
import {
  EmptyFileSystemProvider,
  type FileSystemProvider,
  type LangiumDocument,
  type URI,
  UriUtils,
  type WorkspaceFolder,
} from 'langium';
import type { UseNode } from '../grammar/generated/ast.ts';
import { MAX_CHARACTERS } from '../grammar/guard.ts';
import { remembered } from '../syntax/memory.ts';
import { fileOf } from '../syntax/nodes.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { type AbleFileSystem, isFolderAt } from './file-systems.ts';
import type { PartEntry } from './folder-names.ts';
import { keyOf, placeOfPath, placesOf } from './keys.ts';
import type { FettleIndex } from './name-index.ts';
import { WorkspaceRoot } from './workspace-root.ts';

export interface Opening {
  readonly use: UseNode;
  readonly path: string;
  /** Key of the folder whose files are opened … */
  readonly folder?: string;
  /** … or of the one file. */
  readonly file?: string;
  /** There is nothing to open: no such path, no readable Fettle file in it. */
  readonly failed?: Failed;
}

/** UTF-8 takes at most three bytes for a UTF-16 unit. */
export const MAX_BYTES = MAX_CHARACTERS * 3;

export type FileText =
  | { readonly text: string }
  | { readonly failed: 'missing' | 'unreadable' | 'unknown' }
  /** It lies outside of the workspace, by its path or through a link: whether it exists is not even checked. */
  | { readonly failed: 'outside'; readonly root: string };

/** A file that is there. */
export interface Located {
  readonly file: URI;
  /** Bytes, or characters. */
  readonly size: number;
  readonly version: string;
}

type Failed =
  | 'missing'
  | 'unreadable'
  | 'empty'
  /** A link leads out of the workspace. */
  | 'outside'
  /** The text exists nowhere yet from where a path could lead. */
  | 'unseen';

/** Of a text that was never saved. */
const UNSAVED = 'untitled';

/** Bytes, or characters, in which a long file is read. */
const PIECE = 32 * 1024;

function* slicesOf(text: string): Iterable<string> {
  for (let at = 0; at < text.length; at += PIECE) yield text.slice(at, at + PIECE);
}

export class Openings {
  readonly #index: FettleIndex;
  readonly #files: AbleFileSystem;
  readonly #root: WorkspaceRoot;

  /** @param folders that are open in an editor */
  constructor(index: FettleIndex, files: FileSystemProvider, folders: () => readonly WorkspaceFolder[] = () => []) {
    this.#index = index;
    this.#files = files;
    this.#root = new WorkspaceRoot(files, folders);
  }

  /** Whether a document is one of the workspace's, by its URI. */
  isThere(document: string): boolean {
    return this.#index.hasFile(document);
  }

  readonly of = remembered((document: LangiumDocument): readonly Opening[] =>
    fileOf(document).uses.flatMap((use) => (use.path ? [this.#open(document.uri, use, use.path)] : [])),
  );

  /** Those whose names are used without anything before them. */
  unqualified(document: LangiumDocument): readonly Opening[] {
    return this.of(document).filter(({ use }) => !use.name);
  }

  forUse(document: LangiumDocument, use: UseNode): Opening | undefined {
    return this.of(document).find((opening) => opening.use === use);
  }

  /** Parts of a name in what is opened. */
  entries(opening: Opening, name: string): readonly PartEntry[] {
    if (opening.file) return this.#index.inFile(opening.file, name);
    return opening.folder ? this.#index.inFolder(opening.folder, name) : [];
  }

  /** Parts in what is opened, of some kinds or of all. */
  *allEntries(opening: Opening, kinds?: readonly Kind[]): Iterable<PartEntry> {
    if (opening.file) yield* this.#index.partsOfFile(opening.file, kinds);
    else if (opening.folder) yield* this.#index.partsOfFolder(opening.folder, kinds);
  }

  /** Folders and Fettle files in a folder, by name. */
  namesIn(folder: URI): string[] {
    try {
      const entries = this.#files.readDirectorySync(folder);
      const isWanted = (name: string, isDirectory: boolean) => isDirectory || name.endsWith('.fettle');
      return entries
        .map((entry) => ({ name: UriUtils.basename(entry.uri), isDirectory: entry.isDirectory }))
        .filter(
          ({ name, isDirectory }) => !name.startsWith('.') && name !== 'node_modules' && isWanted(name, isDirectory),
        )
        .map(({ name }) => name);
    } catch {
      return [];
    }
  }

  /** A file that is no Fettle text, by its path from the document; `unknown` where there is no file system, or it does not know. */
  readFile(document: LangiumDocument, path: string): FileText {
    const found = this.#find(document, path);
    if ('failed' in found) return found;
    try {
      const { sizeSync } = this.#files;
      if ((sizeSync?.call(this.#files, found.file) ?? 0) > MAX_BYTES) return { failed: 'unreadable' };
      const text = this.#files.readFileSync(found.file);
      return text.length > MAX_CHARACTERS || text.includes('\0') ? { failed: 'unreadable' } : { text };
    } catch {
      return { failed: 'unreadable' };
    }
  }

  /** The same without reading it. */
  locate(document: LangiumDocument, path: string): Located | Exclude<FileText, { text: string }> {
    const found = this.#find(document, path);
    if ('failed' in found) return found;
    const { file } = found;
    try {
      if (isFolderAt(this.#files, file)) return { failed: 'unreadable' };
      const { versionSync, sizeSync } = this.#files;
      if (versionSync && sizeSync)
        return { file, size: sizeSync.call(this.#files, file), version: versionSync.call(this.#files, file) };
      // In memory: the text is its own version.
      const text = this.#files.readFileSync(file);
      return { file, size: text.length, version: text };
    } catch {
      return { failed: 'unreadable' };
    }
  }

  *piecesOf(file: URI): Iterable<Uint8Array | string> {
    const { piecesSync } = this.#files;
    if (piecesSync) yield* piecesSync.call(this.#files, file, PIECE);
    else yield* slicesOf(this.#files.readFileSync(file));
  }

  async *piecesOfMeanwhile(file: URI): AsyncIterable<Uint8Array | string> {
    const { pieces } = this.#files;
    if (pieces) {
      yield* pieces.call(this.#files, file, PIECE);
      return;
    }
    for (const piece of slicesOf(this.#files.readFileSync(file))) {
      yield piece;
      await new Promise((resolve) => setTimeout(resolve));
    }
  }

  #find(document: LangiumDocument, path: string): { readonly file: URI } | Exclude<FileText, { text: string }> {
    const file = placeOfPath(document.uri, path);
    const { wouldKnow } = this.#files;
    const isAnswered =
      !(this.#files instanceof EmptyFileSystemProvider) && (wouldKnow?.call(this.#files, file) ?? true);
    if (!isAnswered) return { failed: 'unknown' };
    const root = this.#root.of(document.uri);
    if (!this.#root.isInside(root, file)) return { failed: 'outside', root: root.fsPath };
    try {
      return this.#files.existsSync(file) ? { file } : { failed: 'missing' };
    } catch {
      return { failed: 'unreadable' };
    }
  }

  #open(document: URI, use: UseNode, path: string): Opening {
    const isAnywhere = document.scheme !== UNSAVED;
    let failed: Failed = isAnywhere ? 'missing' : 'unseen';
    for (const place of placesOf(document, path)) {
      const key = keyOf(place);
      if (this.#index.hasFile(key)) return { use, path, file: key };
      if (this.#index.hasFolder(key)) return { use, path, folder: key };
      if (this.#files.existsSync(place)) {
        const isOutside = this.#root.leftBy(document, place) !== undefined;
        failed = isOutside ? 'outside' : isFolderAt(this.#files, place) ? 'empty' : 'unreadable';
        break;
      }
    }
    return { use, path, failed };
  }
}
