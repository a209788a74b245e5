/** A workspace in memory: files by path, edits, and what is wrong with the names in a file. */
import { type FileSystemNode, type FileSystemProvider, type LangiumDocument, URI, UriUtils } from 'langium';
import { referenceProblems } from '../../packages/language/src/checks/text/name-problems.ts';
import type { File, PartNode, Target } from '../../packages/language/src/grammar/generated/ast.ts';
import { referencesIn } from '../../packages/language/src/resolve/linker.ts';
import type { FettleReference } from '../../packages/language/src/resolve/reference.ts';
import type { Problem, ProblemFix } from '../../packages/language/src/syntax/problem.ts';
import { createFettleServices, type Services } from '../../packages/language/src/workspace/services.ts';

export const uriOf = (path: string): URI => URI.parse(`file:///home/${path}`);

export class MemoryFiles implements FileSystemProvider {
  readonly texts = new Map<string, string>();
  readonly unreadable = new Set<string>();

  statSync(uri: URI): FileSystemNode {
    if (this.texts.has(uri.path)) return { uri, isFile: true, isDirectory: false };
    if ([...this.texts.keys()].some((path) => path.startsWith(`${uri.path.replace(/\/$/, '')}/`)))
      return { uri, isFile: false, isDirectory: true };
    throw Object.assign(new Error('not there'), { code: 'ENOENT' });
  }

  readBinarySync(uri: URI): Uint8Array {
    const text = this.texts.get(uri.path);
    if (this.unreadable.has(uri.path)) throw Object.assign(new Error('no permission'), { code: 'EACCES' });
    if (text === undefined) throw Object.assign(new Error('not there'), { code: 'ENOENT' });
    return new TextEncoder().encode(text);
  }

  readDirectorySync(uri: URI): FileSystemNode[] {
    const start = `${uri.path.replace(/\/$/, '')}/`;
    const names = new Set<string>();
    for (const path of this.texts.keys())
      if (path.startsWith(start)) names.add(path.slice(start.length).split('/')[0] ?? '');
    return [...names].map((name) => this.statSync(UriUtils.joinPath(uri, name)));
  }

  existsSync(uri: URI): boolean {
    try {
      return Boolean(this.statSync(uri));
    } catch {
      return false;
    }
  }

  readFileSync(uri: URI): string {
    return new TextDecoder().decode(this.readBinarySync(uri));
  }

  stat = async (uri: URI): Promise<FileSystemNode> => this.statSync(uri);
  exists = async (uri: URI): Promise<boolean> => this.existsSync(uri);
  readBinary = async (uri: URI): Promise<Uint8Array> => this.readBinarySync(uri);
  readFile = async (uri: URI): Promise<string> => this.readFileSync(uri);
  readDirectory = async (uri: URI): Promise<FileSystemNode[]> => this.readDirectorySync(uri);
}

export class Workspace {
  readonly files = new MemoryFiles();
  readonly services: Services = createFettleServices({ fileSystemProvider: () => this.files });

  /** Files that are all there from the beginning. */
  static async of(texts: Readonly<Record<string, string>>): Promise<Workspace> {
    const workspace = new Workspace();
    for (const [path, text] of Object.entries(texts)) workspace.files.texts.set(uriOf(path).path, text);
    await workspace.services.shared.workspace.WorkspaceManager.initializeWorkspace([
      { uri: uriOf('').toString(), name: 'home' },
    ]);
    return workspace;
  }

  /** Other files in place of all that are there. Those that stay as they are, and name nothing that changes, are not read again. */
  async replace(texts: Readonly<Record<string, string>>): Promise<void> {
    const before = new Map(this.files.texts);
    this.files.texts.clear();
    for (const [path, text] of Object.entries(texts)) this.files.texts.set(uriOf(path).path, text);
    const changed = Object.entries(texts).flatMap(([path, text]) => {
      const uri = uriOf(path);
      return before.get(uri.path) === text ? [] : [uri];
    });
    const gone = [...before.keys()].filter((path) => !this.files.texts.has(path)).map((path) => URI.file(path));
    await this.services.shared.workspace.DocumentBuilder.update(changed, gone);
  }

  get work() {
    const { parsed, linked, validated } = this.services.shared.workspace.DocumentBuilder.work;
    return { parsed, linked, validated };
  }

  document(path: string): LangiumDocument<File> {
    const document = this.services.shared.workspace.LangiumDocuments.getDocument(uriOf(path));
    if (!document) throw new Error(`no document ${path}`);
    return document as LangiumDocument<File>;
  }

  async edit(path: string, text: string): Promise<void> {
    this.files.texts.set(uriOf(path).path, text);
    await this.services.shared.workspace.DocumentBuilder.update([uriOf(path)], []);
  }

  async remove(path: string): Promise<void> {
    for (const known of [...this.files.texts.keys()])
      if (known.startsWith(uriOf(path).path)) this.files.texts.delete(known);
    await this.services.shared.workspace.DocumentBuilder.update([], [uriOf(path)]);
  }

  problems(path: string): Problem[] {
    return referenceProblems(this.document(path));
  }

  /** `id: message`, the text it points at in front. */
  reported(path: string): string[] {
    const text = this.document(path).textDocument.getText();
    return this.problems(path).map(
      ({ id, message, place }) => `${text.slice(place.start, place.end)} | ${id}: ${message}`,
    );
  }

  /** The text after a fix. */
  fixed(path: string, fix: ProblemFix | undefined): string {
    let text = this.document(path).textDocument.getText();
    for (const { place, newText } of fix?.edits ?? [])
      text = text.slice(0, place.start) + newText + text.slice(place.end);
    return text;
  }

  /** What each name of a file represents, in the order of the text: `Board32.video -> parts/boards.fettle Board32, video`. */
  meanings(path: string): string[] {
    const holders = new Map<unknown, FettleReference[]>();
    for (const reference of referencesIn(this.document(path).parseResult.value)) {
      holders.set(reference.container, [...(holders.get(reference.container) ?? []), reference]);
    }
    return [...holders.values()].map((references) => {
      const name = references.map((reference) => reference.$refText).join('.');
      return `${name} -> ${references.map((reference) => this.#describe(reference.ref as Target | undefined)).join('.')}`;
    });
  }

  #describe(target: Target | undefined): string {
    if (!target) return '?';
    if (target.$type === 'Word') return `"${target.name}"`;
    const where = target.$document ?? this.#rootOf(target);
    return `${target.$type.replace(/Node$/, '').toLowerCase()} ${'name' in target ? target.name : ''} in ${where}`;
  }

  #rootOf(node: Target): string {
    let root: { $container?: unknown; $document?: LangiumDocument } = node;
    while (root.$container) root = root.$container as typeof root;
    return (root.$document?.uri.path ?? '').replace('/home/', '');
  }

  part(path: string, name: string): PartNode {
    const part = this.document(path).parseResult.value.parts.find((candidate) => candidate.name === name);
    if (!part) throw new Error(`no part ${name} in ${path}`);
    return part;
  }
}
