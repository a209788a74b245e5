/** Puts a line into a file that is otherwise right, and states what is wrong with it. */

import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import type { Problem, ProblemFix } from '../../packages/language/src/syntax/problem.ts';
import { Workspace } from '../references/memory-workspace.ts';
import type { Block, WrongLine } from './wrong-lines.ts';

const PARTS = `motor M1 {
  kv: 11000 rpm/V
  resistance: 98 mohm
  mass: 3.4 g
}
propeller P1 {
  diameter: 51 mm
  blades: 3
}
airframe Open152 {
  rotors: 4
}
esc Board32 {
  continuous: 16 A
  rail video {
    output: 10 V
  }
}
esc Board50 like Board32 {
}
pack Slim900_3S {
  cells: 3S
  capacity: 900 mAh
}
pack Slim900_5S like Slim900_3S {
  cells: 5S
}
load Cam {
  draw: 2.4 W
}
`;

/** A block of each kind: its header, the lines it needs, its end. */
const BLOCKS: Readonly<Record<Exclude<Block, 'file'>, readonly [string, readonly string[], string]>> = {
  motor: ['motor M2 {', ['kv: 9000 rpm/V', 'mass: 3.4 g'], '}'],
  propeller: ['propeller P2 {', ['diameter: 51 mm', 'blades: 3'], '}'],
  pack: ['pack Slim2 {', ['cells: 3S', 'capacity: 900 mAh'], '}'],
  esc: ['esc Board2 {', ['continuous: 16 A'], '}'],
  rail: ['esc Board2 {\n  continuous: 16 A\n  rail video {', ['output: 5 V'], '  }\n}'],
  load: ['load Cam2 {', ['draw: 2.4 W'], '}'],
  airframe: ['airframe Duct2 {', [], '}'],
  lead: ['lead Lead2 {', [], '}'],
  build: [
    'build Rafter {',
    ['airframe: Open152', 'motors: 4 x M1 with P1', 'esc: Board32', 'load: Cam from Board32.video', 'pack: Slim900_3S'],
    '}',
  ],
  rules: ['rules Indoor {', [], '}'],
  observed: [
    'build Rafter {\n  airframe: Open152\n  motors: 4 x M1 with P1\n  esc: Board32\n  pack: Slim900_3S\n  observed "barn" {',
    [],
    '  }\n}',
  ],
  bench: ['bench Stand {', ['motor: M1', 'propeller: P1', 'rows duty in %, thrust in gf {\n    25, 9.8\n  }'], '}'],
  rows: ['bench Stand {', ['motor: M1', 'propeller: P1', 'rows duty in %, thrust in gf {\n    25, 9.8\n  }'], '}'],
};

export interface Placed {
  readonly text: string;
  /** Where the line begins in the text. */
  readonly start: number;
}

/** The line represents the one with its word, else comes last. */
export function place({ kind, line }: WrongLine): Placed {
  if (kind === 'file') return { text: line, start: 0 };
  const [header, needed, end] = BLOCKS[kind];
  const word = wordOf(line);
  const kept = needed.filter((other) => wordOf(other) !== word);
  const before = `${[header, ...kept.map((other) => `  ${other}`)].join('\n')}\n  `;
  return { text: `${before}${line}\n${end}\n`, start: before.length };
}

function wordOf(line: string): string {
  return /^\w+/.exec(line)?.[0].toLowerCase() ?? '';
}

/** One workspace for all texts: starting one takes longer than reading a text. */
const barn = Workspace.of({ 'barn/parts.fettle': PARTS, 'barn/line.fettle': '' });

const known = new Map<string, readonly Problem[]>();

/** Each text is read once: what is wrong in a line is compared with a golden file, and mended. */
export async function problemsIn(text: string): Promise<readonly Problem[]> {
  const workspace = await barn;
  const before = known.get(text);
  if (before) return before;
  await workspace.edit('barn/line.fettle', text);
  const { problems } = readDocument(workspace.document('barn/line.fettle'));
  known.set(text, problems);
  return problems;
}

export function applied(text: string, fix: ProblemFix): string {
  const edits = fix.edits.toSorted((one, other) => other.place.start - one.place.start);
  return edits.reduce(
    (done, { place: { start, end }, newText }) => done.slice(0, start) + newText + done.slice(end),
    text,
  );
}

/** For the golden file: the line, and below it each problem with its range in the line and what the text reads after each fix. */
export async function described(wrong: WrongLine): Promise<string> {
  const { text, start } = place(wrong);
  const problems = await problemsIn(text);
  const stated = problems.map((problem) => {
    const range = `${problem.place.start - start}-${problem.place.end - start}`;
    const fixes =
      problem.fixes?.map((fix) => `\n      ${fix.title} → ${changed(applied(text, fix), text, start)}`) ?? [];
    return `    ${problem.id} ${range} “${text.slice(problem.place.start, problem.place.end)}”: ${problem.message}${fixes.join('')}`;
  });
  return [`${wrong.kind} · ${wrong.line}`, ...(stated.length > 0 ? stated : ['    right'])].join('\n');
}

/** The lines that a fix leaves in place of the written ones. */
function changed(after: string, before: string, start: number): string {
  let tail = 0;
  while (tail < before.length - start && before.at(-1 - tail) === after.at(-1 - tail)) tail += 1;
  const end = after.indexOf('\n', after.length - tail);
  return after.slice(Math.min(start, after.length), end < 0 ? after.length : end).trim();
}
