/** The text of a first build: each part under a name of its own, the build below them. */
import { type Answers, nameFrom, QUESTIONS, type QuestionId, type Reading } from './questions.ts';

export interface FirstBuild {
  readonly name: string;
  /** Where it usually goes. */
  readonly fileName: string;
  readonly text: string;
  /** The build's name in the text: the first thing to look at, since its results are shown there. */
  readonly look: { readonly start: number; readonly end: number };
}

export type Problems = Readonly<Partial<Record<QuestionId, string>>>;

/**
 * The problem with each answer; a question without an answer takes what is usual.
 * @param taken names that the folder has already
 */
export function problemsWith(answers: Answers, taken: ReadonlySet<string>): Problems {
  const readings = readingsOf(answers);
  const problems: Partial<Record<QuestionId, string>> = {};
  for (const { id } of QUESTIONS) {
    const { problem } = readings[id];
    if (problem !== undefined) problems[id] = problem;
  }
  const { name } = readings;
  if (name.problem === undefined && taken.has(name.written)) {
    problems.name = `there is already a ${name.written} in this folder`;
  }
  return problems;
}

/** Undefined while `problemsWith` has something to report. */
export function firstBuild(answers: Answers, taken: ReadonlySet<string> = new Set()): FirstBuild | undefined {
  if (Object.keys(problemsWith(answers, taken)).length > 0) return undefined;
  const readings = readingsOf(answers);
  const written = (id: QuestionId): string => readings[id].written ?? '';
  const [name, title] = [written('name'), titleOf(answers.name ?? '')];

  const number = (id: QuestionId): number => (readings[id].problem === undefined ? (readings[id].numbers[0] ?? 0) : 0);
  const stator = readings.stator.problem === undefined ? readings.stator.numbers : [];
  const fresh = freshNames(new Set([...taken, name]));
  const motor = fresh(`M${stator.map(twoDigits).join('')}_${rounded(number('kv'))}`);
  const propeller = fresh(`P${rounded(number('propeller'))}x${written('blades')}`);
  const esc = fresh(`Board${number('esc')}`);
  const pack = fresh(`Pack${rounded(number('capacity'))}_${written('cells')}`);
  const video = number('video') === 0 ? undefined : fresh('Video');

  const before = [
    'fettle 1',
    '// A first build from nine numbers. Everything else is estimated, with a wide ±; a note on the build states which single',
    '// measurement would narrow it most. Write each measured value into its part.',
    '',
    ...block('motor', motor, [`stator: ${written('stator')}`, `kv: ${written('kv')}`]),
    ...block('propeller', propeller, [`diameter: ${written('propeller')}`, `blades: ${written('blades')}`]),
    ...block('esc', esc, [`continuous: ${written('esc')}`]),
    ...(video === undefined ? [] : block('load', video, [`draw: ${written('video')}`])),
    ...block('pack', pack, [`cells: ${written('cells')}`, `capacity: ${written('capacity')}`]),
    'build ',
  ].join('\n');
  const head = title === name ? name : `${name} ${quoted(title)}`;
  const lines = [
    `motors: ${written('motors')} x ${motor} with ${propeller}`,
    `esc: ${esc}`,
    ...(video === undefined ? [] : [`load: ${video}`]),
    `pack: ${pack}`,
    `dry_mass: ${written('dryMass')}`,
  ];
  return {
    name,
    fileName: fileNameOf(answers.name ?? ''),
    text: `${before}${head} {\n${lines.map((line) => `  ${line}\n`).join('')}}\n`,
    look: { start: before.length, end: before.length + name.length },
  };
}

/** Of a build by what it is called. */
export const fileNameOf = (called: string): string => `${nameFrom(called).toLowerCase()}.fettle`;

function readingsOf(answers: Answers): Readonly<Record<QuestionId, Reading>> {
  const readings = QUESTIONS.map(({ id, usual, read }) => {
    const answer = answers[id] ?? '';
    return [id, read(answer.trim() === '' && usual !== undefined ? usual : answer)];
  });
  return Object.fromEntries(readings) as Record<QuestionId, Reading>;
}

const rounded = (number: number): string => number.toFixed(0);

/** As the trade names stators: 28 x 6.5 mm is 2806.5. */
const twoDigits = (side: number): string => String(side).replace(/^\d(?!\d)/, '0$&');

/** `Board12.5` → `Board12_5`; a name that is taken gets a number behind it. */
function freshNames(taken: Set<string>): (wanted: string) => string {
  return (wanted) => {
    const stem = wanted.replaceAll('.', '_');
    let name = stem;
    for (let i = 2; taken.has(name); i++) name = `${stem}_${i}`;
    taken.add(name);
    return name;
  };
}

const block = (kind: string, name: string, lines: readonly string[]): string[] => [
  `${kind} ${name} {`,
  ...lines.map((line) => `  ${line}`),
  '}',
  '',
];

/** What was typed, on one line, without characters that only steer. */
const titleOf = (answer: string): string =>
  answer
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Cf}\s]+/gu, ' ')
    .trim();

const quoted = (text: string): string => `"${text.replace(/["\\]/g, '\\$&')}"`;
