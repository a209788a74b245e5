/** What builds are read from: texts of the language, and the tables that these name, of rows and of logs. */

const ENDINGS = ['.fettle', '.csv', '.tsv'] as const;

/** By its name. A table under another ending is read as well, but nobody reports that it changed. */
export const isRead = (path: string): boolean => ENDINGS.some((ending) => path.endsWith(ending));

/** The same as a glob pattern of the Language Server Protocol. */
export const READ_FILES = `**/*{${ENDINGS.join(',')}}`;
