/**
 * Who is called what, where, and who depends on whom.
 *
 * A folder is a namespace. Names are kept by folder, so that looking one up costs one look into a map, and dependencies are kept both ways,
 * so that an edit finds its dependents without asking every document of the workspace.
 */
import {
  type AstNode,
  type AstNodeDescription,
  CstUtils,
  DefaultIndexManager,
  type LangiumDocument,
  type ReferenceDescription,
  type Stream,
  stream,
  type URI,
  UriUtils,
} from 'langium';
import {
  type File,
  isLog,
  isNamed,
  isObserved,
  isPart,
  isProperty,
  isRows,
  type Named,
  type Part,
} from '../grammar/generated/ast.ts';
import { documentOf, fileOf } from '../syntax/nodes.ts';
import { nameText } from '../syntax/source.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { isBuiltIn } from './built-in-words.ts';
import { keyOf, LIBRARY_SCHEME, pathMention, placesOf } from './keys.ts';
import { FettleReference } from './reference.ts';

/** A part under its name, in the file that declares it. */
export interface Entry {
  readonly name: string;
  readonly kind: Kind;
  readonly part: Part;
  readonly file: string;
  readonly folder: string;
  readonly description: AstNodeDescription;
}

interface Folder {
  readonly files: Set<string>;
  readonly names: Map<string, Entry[]>;
  /** The names of each kind, so that the few stands among thousands of builds are found without looking at the builds. */
  readonly namesByKind: Map<Kind, Set<string>>;
  /** The names of builds on which something was observed. */
  readonly observed: Set<string>;
}

export class FettleIndex extends DefaultIndexManager {
  private readonly entries = new Map<string, Entry[]>();
  private readonly folders = new Map<string, Folder>();
  private readonly indexed = new Map<string, LangiumDocument>();
  /** By document: the documents it refers to, and the other way round. */
  private readonly targets = new Map<string, Set<string>>();
  private readonly sources = new Map<string, Set<string>>();
  /** By document with a test stand: the documents of what it measured, which depend on it. */
  private readonly measured = new Map<string, Set<string>>();
  /** By document: every name in it, resolved or not; and the other way round. */
  private readonly mentioned = new Map<string, Set<string>>();
  private readonly mentions = new Map<string, Set<string>>();
  /** What documents declared when dependents were last notified: kind and name of each part, in order. */
  private readonly stale = new Map<string, string[] | undefined>();
  /** Every name declared in them, before or since. */
  private readonly touched = new Map<string, Set<string>>();
  /** By name that refers to nothing: the documents that contain it. Their findings name what else has that name, and where. */
  private readonly asked = new Map<string, Set<string>>();
  /** Documents with such a name, by document. */
  private readonly asking = new Map<string, Set<string>>();
  /** Documents with a `use` line that opens nothing. */
  private readonly lost = new Set<string>();
  /** By document: whether its parts are only copied, as far as requested. */
  private readonly copied = new Map<string, Map<Part, boolean>>();
  /** Documents whose parts others began or ceased to name. */
  private readonly named = new Set<string>();

  // ---- names ----

  /** Parts of that name in a folder, in order of file and line. */
  inFolder(folder: string, name: string): readonly Entry[] {
    return this.folders.get(folder)?.names.get(name) ?? [];
  }

  inFile(file: string, name: string): readonly Entry[] {
    return this.entries.get(file)?.filter((entry) => entry.name === name) ?? [];
  }

  /** Parts of that name anywhere in the workspace. */
  everywhere(name: string): Entry[] {
    return [...this.folders.values()].flatMap((folder) => folder.names.get(name) ?? []).sort(byPlace);
  }

  *partsOfFolder(folder: string, kinds?: readonly Kind[]): Iterable<Entry> {
    const { names, namesByKind } = this.folders.get(folder) ?? { names: new Map(), namesByKind: new Map() };
    const wanted = kinds ? new Set(kinds.flatMap((kind) => [...(namesByKind.get(kind) ?? [])])) : names.keys();
    for (const name of wanted) {
      for (const entry of names.get(name) ?? []) if (kinds?.includes(entry.kind) ?? true) yield entry;
    }
  }

  /** Builds of a folder on which something was observed. */
  *observedInFolder(folder: string): Iterable<Entry> {
    const { names, observed } = this.folders.get(folder) ?? { names: new Map(), observed: [] };
    for (const name of observed)
      for (const entry of names.get(name) ?? []) if (isObservedBuild(entry.part)) yield entry;
  }

  *partsOfFile(file: string, kinds?: readonly Kind[]): Iterable<Entry> {
    for (const entry of this.entries.get(file) ?? []) if (kinds?.includes(entry.kind) ?? true) yield entry;
  }

  /** Every part of the workspace and the library. */
  *all(): Iterable<Entry> {
    for (const entries of this.entries.values()) yield* entries;
  }

  /** A document whose names are known. */
  documentOf(file: string): LangiumDocument | undefined {
    return this.indexed.get(file);
  }

  hasFile(file: string): boolean {
    return this.entries.has(file);
  }

  hasFolder(folder: string): boolean {
    return this.folders.has(folder);
  }

  filesOf(folder: string): ReadonlySet<string> {
    return this.folders.get(folder)?.files ?? new Set();
  }

  knownFolders(): Iterable<string> {
    return this.folders.keys();
  }

  knownFiles(): Iterable<string> {
    return this.entries.keys();
  }

  override async updateContent(document: LangiumDocument): Promise<void> {
    const file = document.uri.toString();
    this.removeContent(document.uri);
    const folderKey = keyOf(UriUtils.dirname(document.uri));
    const folder = this.folders.get(folderKey) ?? {
      files: new Set(),
      names: new Map(),
      namesByKind: new Map(),
      observed: new Set(),
    };
    this.folders.set(folderKey, folder);
    folder.files.add(file);

    const { AstNodeDescriptionProvider } = this.serviceRegistry.getServices(document.uri).workspace;
    const entries: Entry[] = [];
    for (const part of fileOf(document).parts ?? []) {
      if (!part.name) continue;
      const { name, kind } = part;
      const description = AstNodeDescriptionProvider.createDescription(part, name, document);
      const entry: Entry = { name, kind, part, file, folder: folderKey, description };
      entries.push(entry);
      const sameName = [...(folder.names.get(name) ?? []), entry];
      folder.names.set(name, sameName.sort(byPlace));
      addTo(folder.namesByKind, kind, name);
      if (isObservedBuild(part)) folder.observed.add(name);
    }
    this.entries.set(file, entries);
    for (const { name } of entries) addTo(this.touched, file, name);
    this.indexed.set(file, document);
    this.symbolIndex.set(
      file,
      entries.map((entry) => entry.description),
    );
  }

  override removeContent(uri: URI): void {
    const file = uri.toString();
    const entries = this.entries.get(file);
    if (!this.stale.has(file)) this.stale.set(file, entries && signature(entries));
    for (const { name } of entries ?? []) addTo(this.touched, file, name);
    super.removeContent(uri);
    const folderKey = keyOf(UriUtils.dirname(uri));
    const folder = this.folders.get(folderKey);
    if (!folder || !entries) return;
    this.entries.delete(file);
    this.indexed.delete(file);
    folder.files.delete(file);
    for (const { name, kind } of entries) {
      const rest = folder.names.get(name)?.filter((entry) => entry.file !== file) ?? [];
      if (!rest.some((entry) => entry.kind === kind)) removeFrom(folder.namesByKind, kind, name);
      if (!rest.some(({ part }) => isObservedBuild(part))) folder.observed.delete(name);
      if (rest.length > 0) folder.names.set(name, rest);
      else folder.names.delete(name);
    }
    if (folder.files.size === 0) this.folders.delete(folderKey);
  }

  /**
   * Documents that may read otherwise since the last call, because of what was declared or taken away in others: a name may be found at
   * last, hidden by a nearer one, or found twice; a finding may name a part that moved, or one that is likelier to have been meant.
   */
  takeAffected(): Set<string> {
    const affected = new Set<string>();
    for (const [file, before] of this.stale) {
      const entries = this.entries.get(file);
      const declared = difference(before ?? [], entries ? signature(entries) : []);
      const cameOrWent = (before === undefined) !== (entries === undefined);
      for (const document of this.affectedBy(file, declared, cameOrWent)) affected.add(document);
    }
    this.stale.clear();
    this.touched.clear();
    return affected;
  }

  /** @param declared what came, went or changed its kind in a file */
  private *affectedBy(file: string, declared: readonly string[], cameOrWent: boolean): Iterable<string> {
    const folder = file.slice(0, file.lastIndexOf('/'));
    for (const name of this.touched.get(file) ?? []) {
      yield* this.asked.get(name) ?? [];
      for (const twin of this.inFolder(folder, name)) yield twin.file;
    }
    yield* this.mentioning(declared.map((one) => one.slice(one.indexOf(' ') + 1)));
    if (declared.length > 0) {
      for (const document of this.asking.keys()) if (this.sees(document, file)) yield document;
    }
    if (cameOrWent) yield* this.lost;
    // A stand counts for whoever opens its folder, without being named.
    if (cameOrWent || declared.some((one) => one.startsWith('bench ')))
      yield* this.mentioning([pathMention(file), pathMention(folder)]);
    // What was observed teaches the builds that see it.
    if (declared.some((one) => one.startsWith(OBSERVED))) yield* this.seeing(file);
  }

  /** Documents of a file's folder, and those that open it. */
  private *seeing(file: string): Iterable<string> {
    const folder = file.slice(0, file.lastIndexOf('/'));
    yield* this.folders.get(folder)?.files ?? [];
    yield* this.mentioning([pathMention(file), pathMention(folder)]);
  }

  /** In its own folder, or in what it opens. */
  private sees(document: string, file: string): boolean {
    const folder = file.slice(0, file.lastIndexOf('/'));
    const mentioned = this.mentioned.get(document);
    return (
      document.slice(0, document.lastIndexOf('/')) === folder ||
      mentioned?.has(pathMention(file)) === true ||
      mentioned?.has(pathMention(folder)) === true
    );
  }

  /** Documents with a `use` line that opens nothing. */
  get astray(): ReadonlySet<string> {
    return this.lost;
  }

  /** Documents that read one of these paths, or something below it, or could not find what they wanted to open. */
  reading(paths: readonly string[]): Set<string> {
    if (paths.length === 0) return new Set();
    const mentions = paths.map(pathMention);
    const documents = new Set([...this.mentioning(mentions), ...this.lost]);
    for (const [name, sources] of this.mentions)
      if (mentions.some((mention) => name.startsWith(`${mention}/`))) for (const one of sources) documents.add(one);
    return documents;
  }

  // ---- dependencies ----

  override async updateReferences(document: LangiumDocument): Promise<void> {
    this.removeReferences(document.uri);
    const source = document.uri.toString();
    const targets = new Set<string>();
    const names = new Set<string>();
    const isLibrary = document.uri.scheme === LIBRARY_SCHEME;
    for (const reference of document.references) {
      if (!(reference instanceof FettleReference)) continue;
      const description = reference.$nodeDescription;
      if (description?.node && isBuiltIn(description.node)) continue;
      names.add(reference.$refText);
      if (!description && !isLibrary) {
        addTo(this.asked, reference.$refText, source);
        addTo(this.asking, source, reference.$refText);
      }
      const target = description?.documentUri.toString();
      if (target && target !== source) targets.add(target);
    }
    for (const mention of this.fileMentions(document)) names.add(mention);
    // The library sees nothing but itself.
    if (isLibrary) names.clear();
    if (this.isLost(document)) this.lost.add(source);
    this.targets.set(source, targets);
    for (const target of targets) {
      addTo(this.sources, target, source);
      this.named.add(target);
    }
    const measured = isLibrary ? [] : measuredIn(fileOf(document));
    this.measured.set(source, new Set(measured.filter((target) => target !== source)));
    for (const target of this.measured.get(source) ?? []) addTo(this.sources, source, target);
    this.mentioned.set(source, names);
    for (const name of names) addTo(this.mentions, name, source);
  }

  override removeReferences(uri: URI): void {
    const source = uri.toString();
    for (const target of this.targets.get(source) ?? []) removeFrom(this.sources, target, source);
    for (const target of this.targets.get(source) ?? []) this.named.add(target);
    for (const name of this.asking.get(source) ?? []) removeFrom(this.asked, name, source);
    for (const name of this.mentioned.get(source) ?? []) removeFrom(this.mentions, name, source);
    for (const target of this.measured.get(source) ?? []) removeFrom(this.sources, source, target);
    this.measured.delete(source);
    this.targets.delete(source);
    this.mentioned.delete(source);
    this.asking.delete(source);
    this.lost.delete(source);
    this.copied.delete(source);
    this.named.add(source);
  }

  /**
   * Whether others are like a part and nobody uses it as it is: then it may be incomplete. Who names it is known only when all documents
   * are linked; `takeRenamed` reports when the answer has changed since.
   */
  isOnlyCopied(part: Part, file: string): boolean {
    const isCopied = this.onlyCopies(part, file);
    const answers = this.copied.get(file) ?? new Map<Part, boolean>();
    this.copied.set(file, answers.set(part, isCopied));
    return isCopied;
  }

  private onlyCopies(part: Part, file: string): boolean {
    const references = this.referencesTo(part, file);
    return references.length > 0 && references.every(({ container }) => isPart(container.$container));
  }

  /** Documents with a part that `isOnlyCopied` answers otherwise for than it did. */
  takeRenamed(): string[] {
    const changed = [...this.named].filter((file) =>
      [...(this.copied.get(file) ?? [])].some(([part, before]) => this.onlyCopies(part, file) !== before),
    );
    this.named.clear();
    return changed;
  }

  private isLost(document: LangiumDocument): boolean {
    return fileOf(document).uses.some(
      ({ path }) =>
        path !== undefined &&
        ![...placesOf(document.uri, path)].map(keyOf).some((place) => this.hasFile(place) || this.hasFolder(place)),
    );
  }

  /** Names a document declares, and files and folders it names in `use`, `rows … from` and `log … from`. */
  private *fileMentions(document: LangiumDocument): Iterable<string> {
    const file = fileOf(document);
    const folder = UriUtils.dirname(document.uri);
    for (const use of file.uses ?? []) {
      if (use.path) for (const place of placesOf(document.uri, use.path)) yield pathMention(place);
    }
    for (const part of file.parts ?? []) {
      if (part.name) yield part.name;
      for (const line of part.lines) {
        const tables = isObserved(line) ? line.lines : [line];
        for (const table of tables)
          if ((isRows(table) || isLog(table)) && table.file)
            yield pathMention(UriUtils.resolvePath(folder, table.file));
      }
    }
  }

  /** Documents that contain one of these names. */
  mentioning(names: Iterable<string>): Set<string> {
    const documents = new Set<string>();
    for (const name of names) for (const document of this.mentions.get(name) ?? []) documents.add(document);
    return documents;
  }

  /** Documents that refer to one of these directly or through others: a build's numbers depend on the parts of its parts. */
  dependentsOf(changed: Iterable<string>): Set<string> {
    const reached = reachedBy(this.sources, changed);
    // Builds on which something was observed rest on what changed: so does what others learn from them.
    const taught = [...reached].filter((file) => this.entries.get(file)?.some(({ part }) => isObservedBuild(part)));
    if (taught.length === 0) return reached;
    const seeing = taught.flatMap((file) => [...this.seeing(file)]);
    return new Set([...reached, ...seeing, ...reachedBy(this.sources, seeing)]);
  }

  /** Documents that one refers to, directly or through others. */
  dependenciesOf(source: string): Set<string> {
    return reachedBy(this.targets, [source]);
  }

  override isAffected(document: LangiumDocument, changedUris: Set<string>): boolean {
    return this.dependentsOf(changedUris).has(document.uri.toString());
  }

  /** References to a node; only documents that refer to its document are searched. */
  referencesTo(target: AstNode, file: string): FettleReference[] {
    const found: FettleReference[] = [];
    for (const source of [file, ...(this.sources.get(file) ?? [])]) {
      for (const reference of this.indexed.get(source)?.references ?? []) {
        if (reference instanceof FettleReference && reference.ref === target) found.push(reference);
      }
    }
    return found;
  }

  override findAllReferences(target: AstNode, targetPath: string): Stream<ReferenceDescription> {
    const targetUri = documentOf(target)?.uri;
    if (!targetUri) return stream([]);
    const descriptions: ReferenceDescription[] = [];
    for (const { $refNode: segment, container } of this.referencesTo(target, targetUri.toString())) {
      const sourceUri = documentOf(container)?.uri;
      if (!segment || !sourceUri) continue;
      const locator = this.serviceRegistry.getServices(sourceUri).workspace.AstNodeLocator;
      descriptions.push({
        sourceUri,
        sourcePath: locator.getAstNodePath(container),
        targetUri,
        targetPath,
        segment: CstUtils.toDocumentSegment(segment),
        local: UriUtils.equals(sourceUri, targetUri),
      });
    }
    return stream(descriptions);
  }
}

function reachedBy(steps: ReadonlyMap<string, ReadonlySet<string>>, starts: Iterable<string>): Set<string> {
  const reached = new Set<string>();
  const queue = [...starts];
  for (let from = queue.pop(); from !== undefined; from = queue.pop()) {
    for (const to of steps.get(from) ?? []) {
      if (reached.has(to)) continue;
      reached.add(to);
      queue.push(to);
    }
  }
  return reached;
}

export function byPlace(left: Entry, right: Entry): number {
  if (left.file !== right.file) return left.file < right.file ? -1 : 1;
  return (left.part.$cstNode?.offset ?? 0) - (right.part.$cstNode?.offset ?? 0);
}

function signature(entries: readonly Entry[]): string[] {
  return entries.flatMap(({ kind, name, part }) => [
    `${kind} ${name}`,
    ...measuredNames(part),
    ...(isObservedBuild(part) ? [`${OBSERVED}${withoutSpace(part)}`] : []),
  ]);
}

/** Begins the signature of a build on which something was observed: the whole of its text decides what others learn from it. */
const OBSERVED = 'observed ';

const withoutSpace = ({ $cstNode }: Part): string => $cstNode?.text.replace(/\s+/g, '') ?? '';

export const isObservedBuild = ({ kind, lines }: Part): boolean => kind === 'build' && lines.some(isObserved);

/** The names of propellers on a test stand. */
export function propellersOf(part: Part): Named[] {
  if (part.kind !== 'bench') return [];
  return part.lines
    .filter(isProperty)
    .flatMap(({ key, value }) => (key === 'propeller' && isNamed(value) ? [value] : []));
}

/** A test stand describes its propeller: with its rows, whoever names that propeller changes. */
function measuredNames(part: Part): string[] {
  const rows = withoutSpace(part);
  return propellersOf(part).map((named) => `${rows} ${nameText(named).split('.').at(-1)}`);
}

/** Documents of the propellers on a file's test stands. */
function measuredIn(file: File): string[] {
  return file.parts.flatMap(propellersOf).flatMap((named) => {
    const { $nodeDescription } = (named.tail.at(-1) ?? named.head) as FettleReference;
    return $nodeDescription ? [$nodeDescription.documentUri.toString()] : [];
  });
}

/** Declarations that one side has more often than the other: a second one of a name makes a duplicate. */
function difference(before: readonly string[], now: readonly string[]): string[] {
  const balance = new Map<string, number>();
  for (const declared of before) balance.set(declared, (balance.get(declared) ?? 0) - 1);
  for (const declared of now) balance.set(declared, (balance.get(declared) ?? 0) + 1);
  return [...balance].filter(([, count]) => count !== 0).map(([declared]) => declared);
}

function addTo<Key>(map: Map<Key, Set<string>>, key: Key, value: string): void {
  const set = map.get(key);
  if (set) set.add(value);
  else map.set(key, new Set([value]));
}

function removeFrom<Key>(map: Map<Key, Set<string>>, key: Key, value: string): void {
  const set = map.get(key);
  set?.delete(value);
  if (set?.size === 0) map.delete(key);
}
