/** Loads what the command is pointed at. */
import { relative, resolve } from 'node:path';
import { type LangiumDocument, URI } from 'langium';
import type { File } from '../grammar/generated/ast.ts';
import { reasonOf } from './references/loader.ts';
import type { Services } from './services.ts';

export interface LoadFailure {
  /** As given, or from where the command runs. */
  readonly path: string;
  /** One sentence that says why, without the path. */
  readonly message: string;
}

export interface Loaded {
  /** The files that were asked for, in order of their paths; linked, and so are the files they need. */
  readonly documents: readonly LangiumDocument<File>[];
  /** What could not be read, also of the files they need. The others are loaded nevertheless. */
  readonly failures: readonly LoadFailure[];
}

/**
 * Loads files and folders (with their subfolders, without `node_modules` and hidden ones), and what these need to be understood: the files beside
 * them and what their `use` lines open. Takes services that have a file system.
 */
export async function loadPaths({ shared }: Services, paths: readonly string[]): Promise<Loaded> {
  const { Loader, WorkspaceManager, DocumentBuilder, FileSystemProvider } = shared.workspace;
  const failures = new Map<string, LoadFailure>();
  const wanted = new Map<string, URI>();

  for (const path of paths) {
    const uri = URI.file(resolve(path));
    try {
      if (FileSystemProvider.statSync(uri).isDirectory) {
        for (const file of WorkspaceManager.filesBelow(uri)) wanted.set(file.toString(), file);
      } else if (uri.path.endsWith('.fettle')) {
        wanted.set(uri.toString(), uri);
      } else {
        failures.set(uri.toString(), { path, message: 'this is not a .fettle file' });
      }
    } catch (error) {
      failures.set(uri.toString(), { path, message: reasonOf(error, 'there is no such file or folder') });
    }
  }

  const documents = [...wanted.values()].flatMap(
    (uri) => (Loader.file(uri) as LangiumDocument<File> | undefined) ?? [],
  );
  // Names are linked; nobody asks for the framework's diagnostics.
  await DocumentBuilder.build(documents, { validation: false });

  for (const [key, { uri, message }] of Loader.failures) {
    failures.set(key, { path: relative(process.cwd(), uri.fsPath) || '.', message });
  }
  const byPath = (left: LangiumDocument, right: LangiumDocument) => (left.uri.path < right.uri.path ? -1 : 1);
  return { documents: documents.sort(byPath), failures: [...failures.values()] };
}
