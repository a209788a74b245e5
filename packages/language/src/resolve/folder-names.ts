/** A folder is a namespace. Names are kept by folder, so that looking one up costs one look into a map. */
import { type AstNodeDescription, DefaultIndexManager, type LangiumDocument, type URI, UriUtils } from 'langium';
import type { PartNode } from '../grammar/generated/ast.ts';
import { type FileDocument, fileDocument, fileOf } from '../syntax/nodes.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { keyOf } from './keys.ts';
import { isObservedBuild } from './part-signature.ts';
import { addTo, removeFrom } from './set-maps.ts';

/** A part under its name, in the file that declares it. */
export interface PartEntry {
  readonly name: string;
  readonly kind: Kind;
  readonly part: PartNode;
  readonly file: string;
  readonly folder: string;
  readonly description: AstNodeDescription;
}

interface Folder {
  readonly files: Set<string>;
  readonly names: Map<string, PartEntry[]>;
  /** The names of each kind, so that the few stands among thousands of builds are found without looking at the builds. */
  readonly namesByKind: Map<Kind, Set<string>>;
  /** The names of builds on which something was observed. */
  readonly observed: Set<string>;
}

/** Who is called what, and where. */
export class FolderNames extends DefaultIndexManager {
  readonly #entries = new Map<string, PartEntry[]>();
  readonly #folders = new Map<string, Folder>();
  readonly #indexed = new Map<string, LangiumDocument>();

  /** Parts of that name in a folder, in order of file and line. */
  inFolder(folder: string, name: string): readonly PartEntry[] {
    return this.#folders.get(folder)?.names.get(name) ?? [];
  }

  inFile(file: string, name: string): readonly PartEntry[] {
    return this.#entries.get(file)?.filter((entry) => entry.name === name) ?? [];
  }

  /** Parts of that name anywhere in the workspace. */
  everywhere(name: string): PartEntry[] {
    return [...this.#folders.values()].flatMap((folder) => folder.names.get(name) ?? []).sort(byEntryPlace);
  }

  *partsOfFolder(folder: string, kinds?: readonly Kind[]): Iterable<PartEntry> {
    const { names, namesByKind } = this.#folders.get(folder) ?? { names: new Map(), namesByKind: new Map() };
    const wanted = kinds ? new Set(kinds.flatMap((kind) => [...(namesByKind.get(kind) ?? [])])) : names.keys();
    for (const name of wanted) {
      for (const entry of names.get(name) ?? []) if (kinds?.includes(entry.kind) ?? true) yield entry;
    }
  }

  /** Builds of a folder on which something was observed. */
  *observedInFolder(folder: string): Iterable<PartEntry> {
    const { names, observed } = this.#folders.get(folder) ?? { names: new Map(), observed: [] };
    for (const name of observed)
      for (const entry of names.get(name) ?? []) if (isObservedBuild(entry.part)) yield entry;
  }

  *partsOfFile(file: string, kinds?: readonly Kind[]): Iterable<PartEntry> {
    for (const entry of this.#entries.get(file) ?? []) if (kinds?.includes(entry.kind) ?? true) yield entry;
  }

  /** Every part of the workspace and the library. */
  *all(): Iterable<PartEntry> {
    for (const entries of this.#entries.values()) yield* entries;
  }

  /** A document whose names are known. */
  documentOf(file: string): FileDocument | undefined {
    const document = this.#indexed.get(file);
    return document && fileDocument(document);
  }

  hasFile(file: string): boolean {
    return this.#entries.has(file);
  }

  hasFolder(folder: string): boolean {
    return this.#folders.has(folder);
  }

  filesOf(folder: string): ReadonlySet<string> {
    return this.#folders.get(folder)?.files ?? new Set();
  }

  knownFolders(): Iterable<string> {
    return this.#folders.keys();
  }

  knownFiles(): Iterable<string> {
    return this.#entries.keys();
  }

  /** What a file declares, in order; undefined for a file that is not there. */
  entriesOf(file: string): readonly PartEntry[] | undefined {
    return this.#entries.get(file);
  }

  override async updateContent(document: LangiumDocument): Promise<void> {
    const file = document.uri.toString();
    this.removeContent(document.uri);
    const folderKey = keyOf(UriUtils.dirname(document.uri));
    const folder = this.#folders.get(folderKey) ?? {
      files: new Set(),
      names: new Map(),
      namesByKind: new Map(),
      observed: new Set(),
    };
    this.#folders.set(folderKey, folder);
    folder.files.add(file);

    const { AstNodeDescriptionProvider } = this.serviceRegistry.getServices(document.uri).workspace;
    const entries: PartEntry[] = [];
    for (const part of fileOf(document).parts ?? []) {
      if (!part.name) continue;
      const { name, kind } = part;
      const description = AstNodeDescriptionProvider.createDescription(part, name, document);
      const entry: PartEntry = { name, kind, part, file, folder: folderKey, description };
      entries.push(entry);
      const sameName = [...(folder.names.get(name) ?? []), entry];
      folder.names.set(name, sameName.sort(byEntryPlace));
      addTo(folder.namesByKind, kind, name);
      if (isObservedBuild(part)) folder.observed.add(name);
    }
    this.#entries.set(file, entries);
    this.#indexed.set(file, document);
    this.symbolIndex.set(
      file,
      entries.map((entry) => entry.description),
    );
  }

  override removeContent(uri: URI): void {
    const file = uri.toString();
    const entries = this.#entries.get(file);
    super.removeContent(uri);
    const folderKey = keyOf(UriUtils.dirname(uri));
    const folder = this.#folders.get(folderKey);
    if (!folder || !entries) return;
    this.#entries.delete(file);
    this.#indexed.delete(file);
    folder.files.delete(file);
    for (const { name, kind } of entries) {
      const rest = folder.names.get(name)?.filter((entry) => entry.file !== file) ?? [];
      if (!rest.some((entry) => entry.kind === kind)) removeFrom(folder.namesByKind, kind, name);
      if (!rest.some(({ part }) => isObservedBuild(part))) folder.observed.delete(name);
      if (rest.length > 0) folder.names.set(name, rest);
      else folder.names.delete(name);
    }
    if (folder.files.size === 0) this.#folders.delete(folderKey);
  }
}

export function byEntryPlace(left: PartEntry, right: PartEntry): number {
  if (left.file !== right.file) return left.file < right.file ? -1 : 1;
  return (left.part.$cstNode?.offset ?? 0) - (right.part.$cstNode?.offset ?? 0);
}
