/**
 * Who depends on whom: dependencies are kept both ways, so that an edit finds its dependents without asking every document of the
 * workspace.
 */
import {
  type AstNode,
  CstUtils,
  type LangiumDocument,
  type ReferenceDescription,
  type Stream,
  stream,
  type URI,
  UriUtils,
} from 'langium';
import { type File, isLog, isObservedNode, isPartNode, isRows, type PartNode } from '../grammar/generated/ast.ts';
import { documentOf, fileOf } from '../syntax/nodes.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { isBuiltIn } from './built-in-words.ts';
import { FolderNames } from './folder-names.ts';
import { folderOfFile, keyOf, LIBRARY_SCHEME, pathMention, placeOfPath, placesOf } from './keys.ts';
import { type Declared, declaredMoreOften, isObservedBuild, propellersOf, signature } from './part-signature.ts';
import { FettleReference } from './reference.ts';
import { addTo, reachedBy, removeFrom } from './set-maps.ts';

export class FettleIndex extends FolderNames {
  /** By document: the documents it refers to, and the other way round. */
  readonly #targets = new Map<string, Set<string>>();
  readonly #sources = new Map<string, Set<string>>();
  /** By document with a test stand: the documents of what it measured, which depend on it. */
  readonly #measured = new Map<string, Set<string>>();
  /** By document: every name in it, resolved or not; and the other way round. */
  readonly #mentioned = new Map<string, Set<string>>();
  readonly #mentions = new Map<string, Set<string>>();
  /** By document: names of motors, propellers and packs in it, and those that refer to nothing. */
  readonly #taught = new Map<string, Set<string>>();
  /** What documents declared when dependents were last notified: kind and name of each part, in order. */
  readonly #stale = new Map<string, Declared[] | undefined>();
  /** Every name declared in them, before or since. */
  readonly #touched = new Map<string, Set<string>>();
  /** By name that refers to nothing: the documents that contain it. Their findings name what else has that name, and where. */
  readonly #asked = new Map<string, Set<string>>();
  /** Documents with such a name, by document. */
  readonly #asking = new Map<string, Set<string>>();
  /** Documents with a `use` line that opens nothing. */
  readonly #lost = new Set<string>();
  /** By document: whether its parts are only copied, as far as requested. */
  readonly #copied = new Map<string, Map<PartNode, boolean>>();
  /** Documents whose parts others began or ceased to name. */
  readonly #named = new Set<string>();

  override async updateContent(document: LangiumDocument): Promise<void> {
    await super.updateContent(document);
    const file = document.uri.toString();
    for (const { name } of this.entriesOf(file) ?? []) addTo(this.#touched, file, name);
  }

  override removeContent(uri: URI): void {
    const file = uri.toString();
    const entries = this.entriesOf(file);
    if (!this.#stale.has(file)) this.#stale.set(file, entries && signature(entries));
    for (const { name } of entries ?? []) addTo(this.#touched, file, name);
    super.removeContent(uri);
  }

  /**
   * Documents that may read otherwise since the last call, because of what was declared or taken away in others: a name may be found at
   * last, hidden by a nearer one, or found twice; a finding may name a part that moved, or one that is likelier to have been meant.
   */
  takeAffected(): Set<string> {
    const affected = new Set<string>();
    for (const [file, before] of this.#stale) {
      const entries = this.entriesOf(file);
      const declared = declaredMoreOften(before ?? [], entries ? signature(entries) : []);
      const cameOrWent = (before === undefined) !== (entries === undefined);
      for (const document of this.#affectedBy(file, declared, cameOrWent)) affected.add(document);
    }
    this.#stale.clear();
    this.#touched.clear();
    return affected;
  }

  /** @param declared what came, went or changed its kind in a file */
  *#affectedBy(file: string, declared: readonly Declared[], cameOrWent: boolean): Iterable<string> {
    const folder = folderOfFile(file);
    for (const name of this.#touched.get(file) ?? []) {
      yield* this.#asked.get(name) ?? [];
      for (const twin of this.inFolder(folder, name)) yield twin.file;
    }
    yield* this.mentioning(declared.flatMap((one) => (one.of === 'observed' ? [] : one.name)));
    if (declared.length > 0) {
      for (const document of this.#asking.keys()) if (this.#sees(document, file)) yield document;
    }
    if (cameOrWent) yield* this.#lost;
    // A stand counts for whoever opens its folder, without being named.
    if (cameOrWent || declared.some((one) => one.of === 'part' && one.kind === 'bench'))
      yield* this.mentioning([pathMention(file), pathMention(folder)]);
    // Builds learn from observations that they see.
    if (declared.some((one) => one.of === 'observed')) yield* this.#seeing(file);
  }

  /** Documents of a file's folder, and those that open it. */
  *#seeing(file: string): Iterable<string> {
    const folder = folderOfFile(file);
    yield* this.filesOf(folder);
    yield* this.mentioning([pathMention(file), pathMention(folder)]);
  }

  /** In its own folder, or in what it opens. */
  #sees(document: string, file: string): boolean {
    const folder = folderOfFile(file);
    const mentioned = this.#mentioned.get(document);
    return (
      folderOfFile(document) === folder ||
      mentioned?.has(pathMention(file)) === true ||
      mentioned?.has(pathMention(folder)) === true
    );
  }

  /** Documents with a `use` line that opens nothing. */
  get astray(): ReadonlySet<string> {
    return this.#lost;
  }

  /** Documents that read one of these paths, or something below it, or could not find what they wanted to open. */
  reading(paths: readonly string[]): Set<string> {
    if (paths.length === 0) return new Set();
    const mentions = paths.map(pathMention);
    const documents = new Set([...this.mentioning(mentions), ...this.#lost]);
    for (const [name, sources] of this.#mentions)
      if (mentions.some((mention) => name.startsWith(`${mention}/`))) for (const one of sources) documents.add(one);
    return documents;
  }

  // ---- dependencies ----

  override async updateReferences(document: LangiumDocument): Promise<void> {
    this.removeReferences(document.uri);
    const source = document.uri.toString();
    const targets = new Set<string>();
    const names = new Set<string>();
    const taught = new Set<string>();
    const isLibrary = document.uri.scheme === LIBRARY_SCHEME;
    for (const reference of document.references) {
      if (!(reference instanceof FettleReference)) continue;
      const description = reference.$nodeDescription;
      if (description?.node && isBuiltIn(description.node)) continue;
      names.add(reference.$refText);
      const part = description?.node;
      if (!part || (isPartNode(part) && TEACHING.has(part.kind))) taught.add(reference.$refText);
      if (!description && !isLibrary) {
        addTo(this.#asked, reference.$refText, source);
        addTo(this.#asking, source, reference.$refText);
      }
      const target = description?.documentUri.toString();
      if (target && target !== source) targets.add(target);
    }
    for (const mention of this.#fileMentions(document)) names.add(mention);
    // The library sees nothing but itself.
    if (isLibrary) names.clear();
    if (this.#isLost(document)) this.#lost.add(source);
    this.#targets.set(source, targets);
    for (const target of targets) {
      addTo(this.#sources, target, source);
      this.#named.add(target);
    }
    const measured = isLibrary ? [] : measuredIn(fileOf(document));
    this.#measured.set(source, new Set(measured.filter((target) => target !== source)));
    for (const target of this.#measured.get(source) ?? []) addTo(this.#sources, source, target);
    this.#mentioned.set(source, names);
    this.#taught.set(source, taught);
    for (const name of names) addTo(this.#mentions, name, source);
  }

  override removeReferences(uri: URI): void {
    const source = uri.toString();
    for (const target of this.#targets.get(source) ?? []) removeFrom(this.#sources, target, source);
    for (const target of this.#targets.get(source) ?? []) this.#named.add(target);
    for (const name of this.#asking.get(source) ?? []) removeFrom(this.#asked, name, source);
    for (const name of this.#mentioned.get(source) ?? []) removeFrom(this.#mentions, name, source);
    for (const target of this.#measured.get(source) ?? []) removeFrom(this.#sources, source, target);
    this.#measured.delete(source);
    this.#targets.delete(source);
    this.#mentioned.delete(source);
    this.#taught.delete(source);
    this.#asking.delete(source);
    this.#lost.delete(source);
    this.#copied.delete(source);
    this.#named.add(source);
  }

  /**
   * Whether others are like a part and nobody uses it as it is: then it may be incomplete. Who names it is known only when all documents
   * are linked; `takeRenamed` reports when the answer has changed since.
   */
  isOnlyCopied(part: PartNode, file: string): boolean {
    const isCopied = this.#onlyCopies(part, file);
    const answers = this.#copied.get(file) ?? new Map<PartNode, boolean>();
    this.#copied.set(file, answers.set(part, isCopied));
    return isCopied;
  }

  #onlyCopies(part: PartNode, file: string): boolean {
    const references = this.referencesTo(part, file);
    return references.length > 0 && references.every(({ container }) => isPartNode(container.$container));
  }

  /** Documents with a part that `isOnlyCopied` answers otherwise for than it did. */
  takeRenamed(): string[] {
    const changed = [...this.#named].filter((file) =>
      [...(this.#copied.get(file) ?? [])].some(([part, before]) => this.#onlyCopies(part, file) !== before),
    );
    this.#named.clear();
    return changed;
  }

  #isLost(document: LangiumDocument): boolean {
    return fileOf(document).uses.some(
      ({ path }) =>
        path !== undefined &&
        ![...placesOf(document.uri, path)].map(keyOf).some((place) => this.hasFile(place) || this.hasFolder(place)),
    );
  }

  /** Names a document declares, and files and folders it names in `use`, `rows … from` and `log … from`. */
  *#fileMentions(document: LangiumDocument): Iterable<string> {
    const file = fileOf(document);
    for (const use of file.uses ?? []) {
      if (use.path) for (const place of placesOf(document.uri, use.path)) yield pathMention(place);
    }
    for (const part of file.parts ?? []) {
      if (part.name) yield part.name;
      for (const line of part.lines) {
        const tables = isObservedNode(line) ? line.lines : [line];
        for (const table of tables)
          if ((isRows(table) || isLog(table)) && table.file) yield pathMention(placeOfPath(document.uri, table.file));
      }
    }
  }

  /**
   * Whether what is found in a document, or in those it refers to, depends on files that none of them opens: on who uses a part, where a
   * name is declared that is not in scope, and what else a path could have meant. Known once their problems were read.
   */
  dependsOnAll(source: string): boolean {
    return [source, ...this.dependenciesOf(source)].some(
      (file) => this.#copied.has(file) || this.#asking.has(file) || this.#lost.has(file),
    );
  }

  /** Documents that contain one of these names. */
  mentioning(names: Iterable<string>): Set<string> {
    const documents = new Set<string>();
    for (const name of names) for (const document of this.#mentions.get(name) ?? []) documents.add(document);
    return documents;
  }

  /** Documents that refer to one of these directly or through others: a build's numbers depend on the parts of its parts. */
  dependentsOf(changed: Iterable<string>): Set<string> {
    const starts = new Set(changed);
    const reached = reachedBy(this.#sources, starts);
    // Builds on which something was observed rest on what changed: so does what others learn from them.
    const teaching = [...reached].filter((file) => this.entriesOf(file)?.some(({ part }) => isObservedBuild(part)));
    if (teaching.length === 0) return reached;
    const taught = this.#taughtBy(teaching, starts);
    return new Set([...reached, ...taught, ...reachedBy(this.#sources, taught)]);
  }

  /** Documents that see one with something observed, and may share a motor, a propeller or a pack with it: that name the same one. */
  #taughtBy(teaching: readonly string[], changed: ReadonlySet<string>): Set<string> {
    const known = new Map<string, ReadonlySet<string> | undefined>();
    const wordsOf = (file: string) => {
      if (!known.has(file)) known.set(file, this.#buildWords(file, changed));
      return known.get(file);
    };
    const taught = new Set<string>();
    for (const file of teaching) {
      const words = wordsOf(file);
      const names = words && [...words];
      for (const document of this.#seeing(file)) {
        const others = taught.has(document) ? undefined : wordsOf(document);
        if (!names || !others || names.some((name) => others.has(name))) taught.add(document);
      }
    }
    return taught;
  }

  /** Of a document and those whose builds its own are like, names of what observations are about; undefined while they are open. */
  #buildWords(file: string, changed: ReadonlySet<string>): ReadonlySet<string> | undefined {
    const words = new Set<string>();
    for (const one of new Set([file, ...this.dependenciesOf(file)])) {
      if (one !== file && !this.entriesOf(one)?.some(({ kind }) => kind === 'build')) continue;
      const taught = this.#taught.get(one);
      if (!taught || changed.has(one)) return undefined;
      for (const word of taught) words.add(word);
    }
    return words;
  }

  /** Documents that one refers to, directly or through others. */
  dependenciesOf(source: string): Set<string> {
    return reachedBy(this.#targets, [source]);
  }

  override isAffected(document: LangiumDocument, changedUris: Set<string>): boolean {
    return this.dependentsOf(changedUris).has(document.uri.toString());
  }

  /** References to a node; only documents that refer to its document are searched. */
  referencesTo(target: AstNode, file: string): FettleReference[] {
    const found: FettleReference[] = [];
    for (const source of [file, ...(this.#sources.get(file) ?? [])]) {
      for (const reference of this.documentOf(source)?.references ?? []) {
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

const TEACHING: ReadonlySet<Kind> = new Set(['motor', 'propeller', 'pack']);

/** Documents of the propellers on a file's test stands. */
function measuredIn(file: File): string[] {
  return file.parts.flatMap(propellersOf).flatMap((named) => {
    const { $nodeDescription } = named.tail.at(-1) ?? named.head;
    return $nodeDescription ? [$nodeDescription.documentUri.toString()] : [];
  });
}
