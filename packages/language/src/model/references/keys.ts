/** Keys of files and folders in maps. */
import type { URI } from 'langium';

export const LIBRARY_SCHEME = 'fettle-library';

/** The folder of the parts that are shipped with the language. */
export const LIBRARY_FOLDER = `${LIBRARY_SCHEME}:/parts`;

/** A folder's or file's key: its URI without a slash at the end. */
export function keyOf(uri: URI | string): string {
  const text = uri.toString();
  return text.endsWith('/') ? text.slice(0, -1) : text;
}

/** A word under which documents ask to be looked at again when that file or folder comes, goes or (rows of a bench) changes. */
export function pathMention(uri: URI | string): string {
  return `path ${keyOf(uri)}`;
}
