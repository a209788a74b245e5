/**
 * A case of one file: a text with marks in it, and what it becomes.
 *
 *     pack Odd { capacity: 480 mah }
 *     //                       ^^^ error unknown-unit: no unit mah
 *
 * A line of `//` and carets is about the line above it, at the columns of its carets; `//<<<` marks the first three. It is taken out before
 * the text is read. Behind the text, `--- file NAME` begins another file of the folder, `--- after NAME` the text after a mark of that name.
 */
import type { Range } from 'vscode-languageserver-protocol/node';

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
  readonly after: ReadonlyMap<string, string>;
}

const MARK = /^\s*\/\/(?:(?<first><+)|\s*(?<carets>\^+))\s*(?<verb>\S+)\s*(?<words>.*)$/;

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
  const titled = sections.map((section) => {
    const [, kind = '', name = '', text = ''] = /^--- (file|after) (.*)\n([\s\S]*)$/.exec(section) ?? [];
    if (kind === '') throw new Error(`no section: ${section.split('\n')[0]}`);
    return { kind, name, text };
  });
  const of = (kind: string) => new Map(titled.flatMap((one) => (one.kind === kind ? [[one.name, one.text]] : [])));
  if (marks.length === 0 && !/^\/\/ nothing is found$/m.test(main)) throw new Error('a case without a mark');
  return { text: lines.join('\n'), marks, files: of('file'), after: of('after') };
}
