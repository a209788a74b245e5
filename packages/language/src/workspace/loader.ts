/**
 * Reads files, one by one and at once: a bad file costs its own message, never another file. (Reading two thousand small files one after the
 * other takes 30 ms, asking for all of them at the same time 250.)
 */

import {
  type FileSystemNode,
  type FileSystemProvider,
  type LangiumDocument,
  type LangiumDocumentFactory,
  type LangiumDocuments,
  type LangiumSharedCoreServices,
  type TextDocumentProvider,
  type URI,
  UriUtils,
} from 'langium';
import { MAX_CHARACTERS } from '../grammar/guard.ts';
import { isFolderAt, type KnowingFileSystem } from '../resolve/file-systems.ts';
import { keyOf, LIBRARY_SCHEME, placesOf } from '../resolve/keys.ts';
import { MAX_BYTES } from '../resolve/openings.ts';
import { WorkspaceRoot } from '../resolve/workspace-root.ts';
import { type FileDocument, fileDocument, fileOf } from '../syntax/nodes.ts';
import { errorCodeOf, messageOf } from '../syntax/thrown.ts';

export interface UnreadFile {
  readonly uri: URI;
  /** One sentence, without the path. */
  readonly message: string;
}

export class Loader {
  /** What could not be read, by key. Gone when a later attempt succeeds. */
  readonly failures = new Map<string, UnreadFile>();
  readonly #files: FileSystemProvider;
  readonly #documents: () => LangiumDocuments;
  readonly #factory: () => LangiumDocumentFactory;
  /** Folders whose own files are all loaded. */
  readonly #listed = new Set<string>();
  readonly #textDocuments: () => TextDocumentProvider | undefined;
  readonly #root: WorkspaceRoot;
  #arrived: LangiumDocument[] = [];

  constructor(services: LangiumSharedCoreServices) {
    this.#files = services.workspace.FileSystemProvider;
    this.#documents = () => services.workspace.LangiumDocuments;
    this.#factory = () => services.workspace.LangiumDocumentFactory;
    this.#textDocuments = () => services.workspace.TextDocuments;
    this.#root = new WorkspaceRoot(this.#files, () => services.workspace.WorkspaceManager.workspaceFolders ?? []);
  }

  /** Documents that were loaded since the last call and are not built yet. */
  takeArrived(): LangiumDocument[] {
    const arrived = this.#arrived;
    this.#arrived = [];
    return arrived;
  }

  /** A file's text, as it is in the editor when it is open there; undefined, and a failure to show, when it has none that can be read. */
  read(uri: URI): string | undefined {
    const key = keyOf(uri);
    try {
      const text = this.#textDocuments()?.get(uri.toString())?.getText() ?? this.#readText(uri);
      this.failures.delete(key);
      return text;
    } catch (error) {
      this.failures.set(key, {
        uri,
        message: readingFailure(error, 'it went while it was being read, or is a link to nothing'),
      });
      return undefined;
    }
  }

  #readText(uri: URI): string {
    // What is found in a file is quoted: a link must not bring in what is no Fettle text.
    if (knowing(this.#files)?.realSync(uri).path.endsWith('.fettle') === false) throw new LinkedElsewhere();
    const left = this.#root.leftBy(uri, uri);
    if (left) throw new LinkedOutside(left);
    const size = knowing(this.#files)?.sizeSync(uri) ?? 0;
    if (size > MAX_BYTES) throw new TooLarge(size);
    const bytes = this.#files.readBinarySync(uri);
    if (bytes.includes(0)) throw new NotText();
    let text: string;
    try {
      text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    } catch {
      throw new NotText();
    }
    if (text.length > MAX_CHARACTERS) throw new TooLarge(bytes.length);
    return text;
  }

  /** The document of a file, read when it is not yet known; undefined when it cannot be read. */
  file(uri: URI): FileDocument | undefined {
    const known = this.#documents().getDocument(uri);
    if (known) return fileDocument(known);
    const text = this.read(uri);
    if (text === undefined) return undefined;
    try {
      const document = this.#factory().fromString(text, uri);
      this.#documents().addDocument(document);
      this.#arrived.push(document);
      return fileDocument(document);
    } catch (error) {
      const message = `it cannot be parsed, which is a mistake of ours (${messageOf(error)})`;
      this.failures.set(keyOf(uri), { uri, message });
      return undefined;
    }
  }

  /** Fettle files in a folder, its subfolders included; not in hidden folders or `node_modules`. Each folder once, however it is reached. */
  *filesBelow(folder: URI, isWanted: (entry: FileSystemNode) => boolean): Iterable<URI> {
    const seen = new Set<string>();
    const queue = [folder];
    for (let next = queue.shift(); next; next = queue.shift()) {
      const real = keyOf(knowing(this.#files)?.realSync(next) ?? next);
      if (seen.has(real)) continue;
      seen.add(real);
      const entries = this.#list(next).filter(isWanted);
      yield* entries.filter((entry) => entry.isFile).map((entry) => entry.uri);
      // Links to folders wait until the end: a folder is known by its own path when it has one here.
      const folders = entries.filter((entry) => entry.isDirectory);
      queue.unshift(...folders.filter((entry) => !isLink(entry)).map((entry) => entry.uri));
      queue.push(...folders.filter(isLink).map((entry) => entry.uri));
    }
  }

  #list(folder: URI): FileSystemNode[] {
    try {
      const entries = this.#files.readDirectorySync(folder);
      this.failures.delete(keyOf(folder));
      return entries.sort((left, right) => (left.uri.path < right.uri.path ? -1 : 1));
    } catch (error) {
      this.failures.set(keyOf(folder), { uri: folder, message: readingFailure(error, 'this folder is not there') });
      return [];
    }
  }

  /** Loads what a document needs to be understood: the files of its folder and what its `use` lines open, and what these need. */
  context(document: LangiumDocument): void {
    const queue = [document];
    for (let next = queue.pop(); next; next = queue.pop()) {
      if (next.uri.scheme === LIBRARY_SCHEME) continue;
      const fresh = this.#folder(UriUtils.dirname(next.uri));
      for (const { path } of fileOf(next).uses ?? []) {
        if (path) fresh.push(...this.#opened(next.uri, path));
      }
      queue.push(...fresh);
    }
  }

  /** The files of a folder that were not there before. */
  #folder(folder: URI): LangiumDocument[] {
    if (this.#listed.has(keyOf(folder))) return [];
    if (!this.#files.existsSync(folder)) return [];
    this.#listed.add(keyOf(folder));
    return this.#list(folder)
      .filter((entry) => entry.isFile && entry.uri.path.endsWith('.fettle'))
      .flatMap((entry) => this.#fresh(entry.uri));
  }

  #opened(from: URI, path: string): LangiumDocument[] {
    for (const place of placesOf(from, path)) {
      if (this.#documents().hasDocument(place) || this.#listed.has(keyOf(place))) return [];
      if (!this.#files.existsSync(place)) continue;
      if (this.#root.leftBy(from, place)) return [];
      return isFolderAt(this.#files, place) ? this.#folder(place) : this.#fresh(place);
    }
    return [];
  }

  #fresh(uri: URI): LangiumDocument[] {
    if (this.#documents().hasDocument(uri) || !uri.path.endsWith('.fettle')) return [];
    const document = this.file(uri);
    return document ? [document] : [];
  }
}

class NotText extends Error {}

class LinkedElsewhere extends Error {}

class LinkedOutside extends Error {
  readonly root: URI;

  constructor(root: URI) {
    super();
    this.root = root;
  }
}

class TooLarge extends Error {
  readonly bytes: number;

  constructor(bytes: number) {
    super();
    this.bytes = bytes;
  }
}

/** Why reading failed, in a sentence. `absent` is the sentence for what is not there. */
export function readingFailure(error: unknown, absent: string): string {
  if (error instanceof NotText) return 'this is not a text file; if it is one, save it as UTF-8';
  if (error instanceof LinkedElsewhere) return 'this is a link to something that is no .fettle file';
  if (error instanceof LinkedOutside)
    return `a link leads out of the workspace (${error.root.fsPath}): what is there is not read; put a copy of it inside`;
  if (error instanceof TooLarge) {
    const megabytes = (error.bytes / 1e6).toFixed(error.bytes < 1e7 ? 1 : 0);
    return `this file is too large (${megabytes} MB); at most ${MAX_CHARACTERS / 1e6} million characters are read`;
  }
  const code = errorCodeOf(error);
  if (code === 'ENOENT' || code === 'ENOTDIR') return absent;
  if (code === 'EACCES' || code === 'EPERM') return 'there is no permission to read it';
  if (code === 'ELOOP') return 'its links lead in a circle';
  if (code === 'EISDIR') return 'this is a folder with the name of a file';
  return `it cannot be read (${messageOf(error)})`;
}

function knowing(files: FileSystemProvider): KnowingFileSystem | undefined {
  return 'realSync' in files ? (files as KnowingFileSystem) : undefined;
}

function isLink(entry: FileSystemNode): boolean {
  return 'isLink' in entry && entry.isLink === true;
}
