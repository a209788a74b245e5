/**
 * A case of one file: a text with marks in it, and what it becomes.
 *
 *     pack Odd { capacity: 480 mah }
 *     //                       ^^^ error unknown-unit: no unit mah
 *
 * A line of `//` and carets is about the line above it, at the columns of its carets; `//<<<` marks the first three. It is taken out before
 * the text is read. Behind the text, `--- file NAME` begins another file of the folder, `--- after NAME` the text after a mark of that name,
 * `--- after NAME in FILE` what another file is after it.
 */
import type { Range } from 'vscode-languageserver-protocol/node';

/** The path of the text with the marks. */
export const PATH = 'case.fettle';

export interface Mark {
  readonly range: Range;
  /** `error`, `hover`, `completes` … */
  readonly verb: string;
  readonly words: string;
}

export interface Case {
  readonly text: string;
  readonly marks: readonly Mark[];
  readonly files: ReadonlyMap<string, string>;
  /** By the name of a mark: each file that it changes, with the text after it. */
  readonly after: ReadonlyMap<string, ReadonlyMap<string, string>>;
}

const MARK = /^\s*\/\/(?:(?<first><+)|\s*(?<carets>\^+))\s*(?<verb>\S+)\s*(?<words>.*)$/;
/** A title of a fix may have “in” in it as well. */
const SECTION = /^--- (?:file (?<file>.+)|after (?<name>.+?)(?: in (?<path>\S+\.fettle))?)$/;

export function readCase(source: string): Case {
  const [main = '', ...sections] = source.split(/^(?=--- )/m);
  const lines: string[] = [];
  const marks: Mark[] = [];
  for (const line of main.split('\n')) {
    const { first, carets, verb = '', words = '' } = MARK.exec(line)?.groups ?? {};
    if (first === undefined && carets === undefined) {
      lines.push(line);
      continue;
    }
    const start = first === undefined ? line.indexOf('^') : 0;
    const place = (character: number) => ({ line: lines.length - 1, character });
    const range = { start: place(start), end: place(start + (first ?? carets ?? '').length) };
    marks.push({ range, verb, words: words.trim() });
  }
  const files = new Map<string, string>();
  const after = new Map<string, Map<string, string>>();
  const isMarked = (name: string) => marks.some(({ words }) => words.replace(/^only /, '') === name);
  for (const section of sections) {
    const [title = ''] = section.split('\n', 1);
    const { file, name = '', path = PATH } = SECTION.exec(title)?.groups ?? {};
    if (file === undefined && name === '') throw new Error(`no section: ${title}`);
    if (file === undefined && !isMarked(name)) throw new Error(`no mark has the name of the section: ${title}`);
    const texts = file === undefined ? (after.get(name) ?? new Map<string, string>()) : files;
    if (file === undefined) after.set(name, texts);
    if (texts.has(file ?? path)) throw new Error(`twice: ${title}`);
    texts.set(file ?? path, section.slice(title.length + 1));
  }
  if (marks.length === 0 && !/^\/\/ nothing is found$/m.test(main)) throw new Error('a case without a mark');
  return { text: lines.join('\n'), marks, files, after };
}
