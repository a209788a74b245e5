/** What a person does to a line of a finished file, key by key, at random. */

export interface PersonEdit {
  readonly what: string;
  /** The text after each key. */
  readonly steps: readonly string[];
  /** Texts among them that the person means: what is reported of these is true. */
  readonly meant: readonly string[];
}

type Draw = (count: number) => number;

/** Undefined where the text has no place for it. */
type Kind = (text: string, below: Draw) => PersonEdit | undefined;

const NUMBER = /(?<![\w.\d"-])\d+(?:\.\d+)?(?![\w"-])/g;
const UNIT = /(?<=\d ?)(?:mm|g|V|A|mAh|mohm|rpm\/V|%|W|s|min|S)(?![\w/])/g;
const VALUE = /(?<=: +)[^\s{}][^\n{}]*?(?= {2}|[ \t]*\n| })/g;
const NAME = /\b[A-Z]\w{3,}\b/g;

/** Comments are blanks. */
const codeOf = (text: string): string => text.replace(/\/\/.*/g, (comment) => ' '.repeat(comment.length));

function place(text: string, pattern: RegExp, below: Draw): { at: number; word: string } | undefined {
  const all = [...codeOf(text).matchAll(pattern)];
  const found = all[below(all.length)];
  return found && { at: found.index, word: found[0].trimEnd() };
}

/** As a keyboard gives them: an editor indents the next line with the key that begins it. */
const keysOf = (letters: string): string[] => letters.match(/\n *|[\s\S]/gu) ?? [];

function typedIn(text: string, at: number, letters: string): string[] {
  const keys = keysOf(letters);
  return keys.map((_, index) => text.slice(0, at) + keys.slice(0, index + 1).join('') + text.slice(at));
}

const removedFrom = (text: string, end: number, count: number): string[] =>
  Array.from({ length: count }, (_, index) => text.slice(0, end - index - 1) + text.slice(end));

const without = (text: string, at: number, word: string): string => text.slice(0, at) + text.slice(at + word.length);

/** Backspaced and typed. */
function retyped(text: string, at: number, word: string, other: string): PersonEdit {
  const steps = [...removedFrom(text, at + word.length, word.length), ...typedIn(without(text, at, word), at, other)];
  return { what: `${word} becomes ${other}`, steps, meant: [steps.at(-1) ?? text] };
}

function alike(number: string, below: Draw): string {
  const digits = number.split('.')[1]?.length ?? 0;
  return (Number(number) * (0.85 + below(31) / 100)).toFixed(digits);
}

const replacing =
  (pattern: RegExp, other: (word: string, below: Draw, text: string) => string): Kind =>
  (text, below) => {
    const found = place(text, pattern, below);
    return found && retyped(text, found.at, found.word, other(found.word, below, text));
  };

function lineIn(text: string, below: Draw): { at: number; line: string; indent: number } | undefined {
  const all = [...text.matchAll(/^ +[a-z_]+:[^{}\n]*$/gm)];
  const found = all[below(all.length)];
  return found && { at: found.index, line: found[0], indent: found[0].search(/\S/) };
}

const inLine =
  (edit: (text: string, at: number, line: string, indent: number, below: Draw) => PersonEdit): Kind =>
  (text, below) => {
    const found = lineIn(text, below);
    return found && edit(text, found.at, found.line, found.indent, below);
  };

const same = (word: string): string => word;

const BASIC = {
  'a number': replacing(NUMBER, alike),
  'a unit': replacing(UNIT, same),
  'a value': replacing(VALUE, same),
  'a name': replacing(NAME, same),
  'another name': replacing(NAME, (word, below, text) => {
    const all = text.match(NAME) ?? [];
    return all[below(all.length)] ?? word;
  }),
  'the end of a name': (text, below) => {
    const found = place(text, NAME, below);
    const count = 1 + below(3);
    return (
      found && retyped(text, found.at + found.word.length - count, found.word.slice(-count), found.word.slice(-count))
    );
  },
  'a selected value': (text, below) => {
    const found = place(text, VALUE, below);
    if (found === undefined) return undefined;
    return {
      what: found.word,
      steps: typedIn(without(text, found.at, found.word), found.at, found.word),
      meant: [text],
    };
  },
} satisfies Record<string, Kind>;

const BASICS = Object.values(BASIC) as Kind[];

export const PERSON_EDITS: Readonly<Record<string, Kind>> = {
  ...BASIC,
  'taken back key by key': (text, below) => {
    const edit = BASICS[below(BASICS.length)]?.(text, below);
    return (
      edit && {
        ...edit,
        steps: [...edit.steps, ...edit.steps.toReversed().slice(1), text],
        meant: [...edit.meant, text],
      }
    );
  },
  'taken back at once': (text, below) => {
    const edit = BASICS[below(BASICS.length)]?.(text, below);
    return edit && { ...edit, steps: [...edit.steps.slice(0, 1 + below(edit.steps.length)), text], meant: [text] };
  },
  'a line deleted and taken back': inLine((text, at, line) => {
    const gone = without(text, at, `${line}\n`);
    return { what: line, steps: [gone, text], meant: [gone, text] };
  }),
  'a line pasted twice': inLine((text, at, line) => {
    const twice = `${text.slice(0, at)}${line}\n${text.slice(at)}`;
    return { what: line, steps: [twice, text], meant: [twice, text] };
  }),
  'a comment': inLine((text, at, line, indent) => {
    const steps = typedIn(text, at + indent, '// ');
    return { what: line, steps: [...steps, ...steps.toReversed().slice(1), text], meant: [steps.at(-1) ?? text, text] };
  }),
  'a line typed anew': inLine((text, at, line, indent) => {
    const body = codeOf(line).trim();
    return retyped(text, at + indent, body, body);
  }),
  'a line above': inLine((text, at, line) => {
    const gone = without(text, at, `${line}\n`);
    return { what: line, steps: [gone, ...typedIn(gone, at - 1, `\n${line}`)], meant: [gone, text] };
  }),
  'an empty line': inLine((text, at, line, indent) => {
    const steps = typedIn(text, at - 1, `\n${' '.repeat(indent)}`);
    return { what: line, steps, meant: steps };
  }),
  'a line broken and joined': inLine((text, at, line, indent, below) => {
    const where = at + indent + below(line.length - indent);
    const broken = `${text.slice(0, where)}\n${' '.repeat(indent)}${text.slice(where)}`;
    return { what: line, steps: [broken, text], meant: [text] };
  }),
};
