/** Names of files as the page shows them (`builds/spire.fettle`), and as the server knows them. */

/** The folder that all files of the page are in. It exists on no disk. */
export const ROOT = 'file:///craft';

/** Longest name of a file, with its folders. */
const LONGEST = 120;

export const pageUri = (path: string): string => `${ROOT}/${path.split('/').map(encodeURIComponent).join('/')}`;

/** Undefined for a file that is not of the page. */
export function pagePath(uri: string): string | undefined {
  if (!uri.startsWith(`${ROOT}/`)) return undefined;
  try {
    return decodeURIComponent(uri.slice(ROOT.length + 1));
  } catch {
    return undefined;
  }
}

/** A name that a file of the page can have: below the folder, without a way out of it, of a kind that the language reads. */
export function isPath(path: unknown): path is string {
  return (
    typeof path === 'string' &&
    path.length <= LONGEST &&
    /^[^/\\:*?"<>|\p{Cc}]+(?:\/[^/\\:*?"<>|\p{Cc}]+)*\.(?:fettle|csv)$/u.test(path) &&
    path.split('/').every((part) => part !== '..' && part !== '.' && part.trim() === part)
  );
}

/** The text comes last in a list of files sorted by this when its name does. */
export const byName = (a: string, b: string): number => a.localeCompare(b, 'en');
