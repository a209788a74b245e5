/** Keys of files and folders in maps, and the places that a path may mean. */
import { type URI, UriUtils } from 'langium';

export const LIBRARY_SCHEME = 'fettle-library';

/** The folder of the parts that are shipped with the language. */
export const LIBRARY_FOLDER = `${LIBRARY_SCHEME}:/parts`;

/** A folder's or file's key: its URI without a slash at the end. */
export function keyOf(uri: URI | string): string {
  const text = uri.toString();
  return text.endsWith('/') ? text.slice(0, -1) : text;
}

/** The folder of a file. @param uri as text */
export const folderOfFile = (uri: string): string => uri.slice(0, uri.lastIndexOf('/'));

/** A word under which documents register to be checked again when that file or folder is created, deleted or (rows of a bench) changes. */
export function pathMention(uri: URI | string): string {
  return `path ${keyOf(uri)}`;
}

/** What a path means in a file. */
export const placeOfPath = (file: URI, path: string): URI => UriUtils.resolvePath(UriUtils.dirname(file), path);

/**
 * Places that the path of a `use` may mean, likeliest first: what any path means there, and, where it does not begin with a dot or a slash, in the
 * `node_modules` folders above the file.
 */
export function* placesOf(file: URI, path: string): Iterable<URI> {
  let folder = UriUtils.dirname(file);
  yield asFolder(placeOfPath(file, path));
  if (/^[./\\]/.test(path)) return;
  for (;;) {
    yield asFolder(UriUtils.joinPath(folder, 'node_modules', path));
    const parent = UriUtils.dirname(folder);
    if (parent.path === folder.path) return;
    folder = parent;
  }
}

/** A folder is the same with and without a slash behind it. */
export const withoutSlash = (path: string): string => (path.endsWith('/') ? path.slice(0, -1) : path);

const asFolder = (uri: URI): URI => (uri.path.length > 1 ? uri.with({ path: withoutSlash(uri.path) }) : uri);
