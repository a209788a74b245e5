/**
 * A case of one file: a text with marks in it, and what it becomes.
 *
 *     pack Odd { capacity: 480 mah }
 *     //                       ^^^ error unknown-unit: no unit mah
 *
 * A line of `//` and carets is about the line above it, at the columns of its carets; `//<<<` marks the first three. It is taken out before
 * the text is read. Behind the text, `--- file NAME` begins another file of the folder, with marks of its own, `--- after NAME` the text
 * after a mark of that name, `--- after NAME in FILE` what another file is after it, `--- hover NAME` all that a hover shows. Of the person
 * `--- settings` has what is set in the section `fettle`, of the editor `--- client` its capabilities, feature by feature.
 */
import type { ClientCapabilities, Range } from 'vscode-languageserver-protocol/node';

/** The path of the text with the marks. */
export const PATH = 'case.fettle';

export const SEVERITIES = ['error', 'warning', 'information', 'hint'];

/** What is written half, to be completed, is no text to be judged: a mark of a finding in it fails. */
export const isJudged = (file: string): boolean => !/^(?:completion|shape)\//.test(file);

/** A range as people read it. */
export const at = ({ start, end }: Range): string =>
  `${start.line + 1}:${start.character + 1}-${end.line === start.line ? '' : `${end.line + 1}:`}${end.character + 1}`;

/** A line of a file, with the marks below it as they are written. */
interface Line {
  readonly text: string;
  readonly marks: { readonly mark: Mark; readonly written: string }[];
}

/** A piece of the file of a case, with its first line, which the marked text does not have. */
type Section = { readonly title: string; readonly text: string } & (
  | { readonly kind: 'file'; readonly path: string; readonly lines: readonly Line[] }
  | { readonly kind: 'after'; readonly name: string; readonly path: string }
  | { readonly kind: 'hover'; readonly name: string }
  | { readonly kind: 'settings' | 'client' }
);

export interface Mark {
  /** Of the file that it is in. */
  readonly path: string;
  readonly range: Range;
  /** `error`, `hover`, `completes` … */
  readonly verb: string;
  readonly words: string;
}

export interface Case {
  readonly text: string;
  readonly marks: readonly Mark[];
  /** Besides that text. */
  readonly files: ReadonlyMap<string, string>;
  /** By the name of a mark: each file that it changes, with the text after it. */
  readonly after: ReadonlyMap<string, ReadonlyMap<string, string>>;
  /** By the name of a mark. */
  readonly hovers: ReadonlyMap<string, string>;
  readonly settings: object;
  readonly client: ClientCapabilities;
  readonly sections: readonly Section[];
}

/** What would have to be written otherwise for a case to hold. */
export interface Renewal {
  /** Marks with other words; none of what is not there. */
  readonly words: Map<Mark, string | undefined>;
  readonly added: Mark[];
  /** By the name of a mark: each file that it changes. */
  readonly after: Map<string, ReadonlyMap<string, string>>;
  readonly hovers: Map<string, string>;
}

const MARK = /^\s*\/\/(?:(?<first><+)|\s*(?<carets>\^+))\s*(?<verb>\S+)\s*(?<words>.*)$/;
/** A title of a fix may have “in” in it as well. */
const SECTION =
  /^--- (?:file (?<file>.+)|hover (?<hover>.+)|after (?<name>.+?)(?: in (?<path>\S+\.fettle))?|(?<option>settings|client))$/;

function linesOf(path: string, source: string): Line[] {
  const lines: Line[] = [];
  for (const written of source.split('\n')) {
    const { first, carets, verb = '', words = '' } = MARK.exec(written)?.groups ?? {};
    if (first === undefined && carets === undefined) {
      lines.push({ text: written, marks: [] });
      continue;
    }
    const line = lines.length - 1;
    const start = first === undefined ? written.indexOf('^') : 0;
    const end = start + (first ?? carets ?? '').length;
    const range = { start: { line, character: start }, end: { line, character: end } };
    const above = lines.at(-1);
    if (!above) throw new Error(`${path} begins with a mark`);
    above.marks.push({ mark: { path, range, verb, words: words.trim() }, written });
  }
  return lines;
}

function sectionOf(source: string): Section {
  const [title = ''] = source.split('\n', 1);
  const text = source.slice(title.length + 1);
  const { file, hover, name, path = PATH, option } = SECTION.exec(title)?.groups ?? {};
  if (file !== undefined) return { kind: 'file', title, text, path: file, lines: linesOf(file, text) };
  if (hover !== undefined) return { kind: 'hover', title, text, name: hover };
  if (name !== undefined) return { kind: 'after', title, text, name, path };
  if (option === 'settings' || option === 'client') return { kind: option, title, text };
  throw new Error(`no section: ${title}`);
}

function sectionsOf(source: string): Section[] {
  const [text = '', ...others] = source.split(/^(?=--- )/m);
  const main = { kind: 'file', title: '', text, path: PATH, lines: linesOf(PATH, text) } as const;
  const sections = [main, ...others.map(sectionOf)];
  const titles = [`--- file ${PATH}`, ...sections.slice(1).map(({ title }) => title)];
  const twice = titles.find((title, i) => titles.indexOf(title) !== i);
  if (twice !== undefined) throw new Error(`twice: ${twice}`);
  return sections;
}

/** Of a mark whose text is in a section. */
export const nameOf = ({ words }: Mark): string => words.replace(/^(?:only|=) /, '');

export function readCase(source: string): Case {
  const sections = sectionsOf(source);
  const files = new Map<string, string>();
  const marks: Mark[] = [];
  const after = new Map<string, Map<string, string>>();
  const hovers = new Map<string, string>();
  const options: { settings: object; client: ClientCapabilities } = { settings: {}, client: {} };
  for (const section of sections) {
    if (section.kind === 'file') {
      files.set(section.path, section.lines.map(({ text }) => text).join('\n'));
      marks.push(...section.lines.flatMap((line) => line.marks.map(({ mark }) => mark)));
    } else if (section.kind === 'after') {
      after.set(section.name, (after.get(section.name) ?? new Map<string, string>()).set(section.path, section.text));
    } else if (section.kind === 'hover') {
      hovers.set(section.name, section.text);
    } else {
      options[section.kind] = JSON.parse(section.text);
    }
  }
  const names = new Set(marks.map(nameOf));
  for (const name of [...after.keys(), ...hovers.keys()])
    if (!names.has(name)) throw new Error(`no mark has the name of the section: ${name}`);
  const text = files.get(PATH) ?? '';
  files.delete(PATH);
  return { text, marks, files, after, hovers, ...options, sections };
}

/** A mark as a line of a file. */
function asWritten({ range: { start, end }, verb, words }: Mark): string {
  const length = end.character - start.character;
  if (start.line !== end.line || length === 0 || start.character === 1)
    throw new Error(`no mark is about ${start.line + 1}:${start.character + 1}-${end.line + 1}:${end.character + 1}`);
  const place =
    start.character === 0 ? `//${'<'.repeat(length)}` : `${'//'.padEnd(start.character)}${'^'.repeat(length)}`;
  return `${place} ${verb} ${words}`;
}

/** The file of a case, with what has to be written otherwise and nothing else of it changed. */
export function renewed({ sections }: Case, { words, added, after, hovers }: Renewal): string {
  const markedText = (path: string, lines: readonly Line[]): string =>
    lines
      .flatMap(({ text, marks }, line) => [
        text,
        ...added.filter((one) => one.path === path && one.range.start.line === line).map(asWritten),
        ...marks.flatMap(({ mark, written }) => {
          if (!words.has(mark)) return [written];
          const other = words.get(mark);
          return other === undefined ? [] : [asWritten({ ...mark, words: other })];
        }),
      ])
      .join('\n');
  const ofName = (name: string) =>
    [...(after.get(name) ?? [])].map(([path, text]) => ({
      title: `--- after ${name}${path === PATH ? '' : ` in ${path}`}`,
      text,
    }));
  const written = sections.map((section) => {
    const { kind, title, text } = section;
    if (kind === 'file') return { title, text: markedText(section.path, section.lines) };
    if (kind === 'hover') return { title, text: hovers.get(section.name) ?? text };
    if (kind !== 'after' || !after.has(section.name)) return { title, text };
    return ofName(section.name).find((one) => one.title === title) ?? { title, text: undefined };
  });
  const isMissing = ({ title }: { readonly title: string }) => !written.some((one) => one.title === title);
  const missing = [
    ...[...after.keys()].flatMap(ofName),
    ...[...hovers].map(([name, text]) => ({ title: `--- hover ${name}`, text })),
  ].filter(isMissing);
  return [...written, ...missing].reduce((before, { title, text }) => {
    if (text === undefined) return before;
    const end = before === '' || before.endsWith('\n') ? '' : '\n';
    return title === '' ? text : `${before}${end}${title}\n${text}`;
  }, '');
}
