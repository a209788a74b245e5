/** Loads what the command is pointed at. */
import { relative, resolve } from 'node:path';
import { URI } from 'langium';
import type { FileDocument } from '../syntax/nodes.ts';
import { type Loader, readingFailure } from './loader.ts';
import type { Services } from './services.ts';

export interface LoadFailure {
  readonly uri: string;
  /** As given, or from where the command runs. */
  readonly path: string;
  /** One sentence that gives the reason, without the path. */
  readonly message: string;
}

/** Files that paths lead to, in order of their paths. */
export interface Listed {
  readonly files: readonly URI[];
  readonly failures: readonly LoadFailure[];
}

export interface Loaded {
  /** The files that were requested, in order of their paths; linked, and so are the files they need. */
  readonly documents: readonly FileDocument[];
  /** What could not be read, also of the files they need, in order of the paths. The others are loaded nevertheless. */
  readonly failures: readonly LoadFailure[];
}

/**
 * Loads files and folders (with their subfolders, without `node_modules` and hidden ones), and what these need to be understood: the files in their
 * folders and what their `use` lines open. Takes services that have a file system.
 */
export async function loadPaths(services: Services, paths: readonly string[]): Promise<Loaded> {
  return loadListed(services, listFiles(services, paths));
}

/** The same of what was listed before. */
export async function loadListed(services: Services, listed: Listed): Promise<Loaded> {
  const { documents, failures } = await loadFiles(services, listed.files);
  return { documents, failures: eachOnce([...listed.failures, ...failures]) };
}

export function listFiles({ shared }: Services, paths: readonly string[]): Listed {
  const { Loader, WorkspaceManager, FileSystemProvider } = shared.workspace;
  const files = new Map<string, URI>();
  const failures: LoadFailure[] = [];
  for (const path of paths) {
    const uri = URI.file(resolve(path));
    const fail = (message: string) => failures.push({ uri: uri.toString(), path, message });
    try {
      if (FileSystemProvider.statSync(uri).isDirectory) {
        for (const file of WorkspaceManager.filesBelow(uri)) files.set(file.toString(), file);
      } else if (uri.path.endsWith('.fettle')) {
        files.set(uri.toString(), uri);
      } else {
        fail('this is not a .fettle file');
      }
    } catch (error) {
      fail(readingFailure(error, 'there is no such file or folder'));
    }
  }
  return { files: [...files.values()].sort(byPath), failures: [...failures, ...failuresOf(Loader)] };
}

/** Loads files, and what they need to be understood. */
export async function loadFiles({ shared }: Services, files: readonly URI[]): Promise<Loaded> {
  const { Loader, DocumentBuilder } = shared.workspace;
  const documents = files.flatMap((uri) => Loader.file(uri) ?? []);
  // Names are linked; the framework's diagnostics are not used.
  await DocumentBuilder.build(documents, { validation: false });
  return { documents, failures: eachOnce(failuresOf(Loader)) };
}

/** The last report about a file is the valid one. */
export function eachOnce(failures: readonly LoadFailure[]): LoadFailure[] {
  const last = new Map(failures.map((failure) => [failure.uri, failure]));
  return [...last.values()].sort((left, right) => (left.path < right.path ? -1 : 1));
}

const failuresOf = ({ failures }: Loader): LoadFailure[] =>
  [...failures.values()].map(({ uri, message }) => ({
    uri: uri.toString(),
    path: relative(process.cwd(), uri.fsPath) || '.',
    message,
  }));

const byPath = (left: URI, right: URI): number => (left.path < right.path ? -1 : 1);
