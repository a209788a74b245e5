/** The text of a first build: each part under a name of its own unless the folder has an equal one, the build below them. */
import type { PartNode } from '../grammar/generated/ast.ts';
import { quote } from '../grammar/value-texts.ts';
import type { PropertyName } from '../vocabulary/properties.ts';
import type { Kind } from '../vocabulary/schema.ts';
import { equalPart } from './equal-part.ts';
import { type Answers, nameFrom, QUESTIONS, type QuestionId, type ReadAnswer } from './questions.ts';

export interface FirstBuild {
  readonly name: string;
  /** Where it usually goes. */
  readonly fileName: string;
  readonly text: string;
  /** The build's name in the text: the first thing to look at, since its results are shown there. */
  readonly look: { readonly start: number; readonly end: number };
  /** Questions whose default was taken, with what was taken in words. */
  readonly defaults: readonly { readonly id: QuestionId; readonly words: string }[];
  /** Parts of the folder that the build uses, because their figures are equal. */
  readonly reused: readonly string[];
}

/** Where a build goes. */
export interface Folder {
  /** What its files declare. */
  readonly parts: readonly PartNode[];
  /** Whether the file of a build of this name is there already. */
  readonly hasFile?: (name: string) => boolean;
}

const EMPTY: Folder = { parts: [] };

export type Problems = Readonly<Partial<Record<QuestionId, string>>>;

/** The problem with each answer; a question without an answer takes its default. */
export function problemsWith(answers: Answers, folder: Folder = EMPTY): Problems {
  const { readings } = readingsOf(answers, folder);
  const problems: Partial<Record<QuestionId, string>> = {};
  for (const { id } of QUESTIONS) {
    const { problem } = readings[id];
    if (problem !== undefined) problems[id] = problem;
  }
  const { name } = readings;
  if (name.problem === undefined && folder.parts.some((part) => part.name === name.written)) {
    problems.name = `${name.written} is in this folder already`;
  }
  return problems;
}

/** Undefined while `problemsWith` has something to report. */
export function firstBuild(answers: Answers, folder: Folder = EMPTY): FirstBuild | undefined {
  if (Object.keys(problemsWith(answers, folder)).length > 0) return undefined;
  const { readings, called, defaults } = readingsOf(answers, folder);
  const written = (id: QuestionId): string => readings[id].written ?? '';
  const [name, title] = [written('name'), titleOf(called)];

  const numbers = (id: QuestionId): readonly number[] => {
    const reading = readings[id];
    return reading.problem === undefined ? reading.numbers : [];
  };
  const number = (id: QuestionId): number => numbers(id)[0] ?? 0;
  const fresh = freshNames(new Set([...folder.parts.flatMap((part) => part.name ?? []), name]));
  const blocks: string[] = [];
  const reused: string[] = [];
  /** The name of a part with these figures: one of the folder, or a new one. */
  const part = <K extends Kind>(
    kind: K,
    wanted: string,
    ...asked: readonly (readonly [property: PropertyName<K>, QuestionId])[]
  ): string => {
    const figures = asked.map(([property, id]) => [property, numbers(id)] as const);
    const known = equalPart(kind, new Map(figures), folder.parts);
    if (known !== undefined) {
      reused.push(known);
      return known;
    }
    const own = fresh(wanted);
    blocks.push(
      ...block(
        kind,
        own,
        asked.map(([property, id]) => `${property}: ${written(id)}`),
      ),
    );
    return own;
  };
  const motor = part(
    'motor',
    `M${numbers('stator').map(twoDigits).join('')}_${rounded(number('kv'))}`,
    ['stator', 'stator'],
    ['kv', 'kv'],
  );
  const propeller = part(
    'propeller',
    `P${rounded(number('propeller'))}x${written('blades')}`,
    ['diameter', 'propeller'],
    ['blades', 'blades'],
  );
  const esc = part('esc', `Board${number('esc')}`, ['continuous', 'esc']);
  const video = number('video') === 0 ? undefined : part('load', 'Video', ['draw', 'video']);
  const pack = part(
    'pack',
    `Pack${rounded(number('capacity'))}_${written('cells')}`,
    ['cells', 'cells'],
    ['capacity', 'capacity'],
  );

  const before = [
    'fettle 1',
    '// A first build from nine numbers. Everything else is estimated, with a wide ±; a note on the build states which single',
    '// measurement would narrow it most. Write each measured value into its part.',
    ...(defaults.length > 0 ? [`// By default: ${defaults.map(({ words }) => words).join(', ')}.`] : []),
    ...(reused.length > 0 ? [`// In this folder already, with the same figures: ${reused.join(', ')}.`] : []),
    '',
    ...blocks,
    'build ',
  ].join('\n');
  const head = title === name ? name : `${name} ${quote(title)}`;
  const lines = [
    `motors: ${written('motors')} x ${motor} with ${propeller}`,
    `esc: ${esc}`,
    ...(video === undefined ? [] : [`load: ${video}`]),
    `pack: ${pack}`,
    `dry_mass: ${written('dryMass')}`,
  ];
  return {
    name,
    fileName: fileNameOf(called),
    text: `${before}${head} {\n${lines.map((line) => `  ${line}\n`).join('')}}\n`,
    look: { start: before.length, end: before.length + name.length },
    defaults,
    reused,
  };
}

/** Of a build by what it is called. */
export const fileNameOf = (called: string): string => `${nameFrom(called).toLowerCase()}.fettle`;

interface Read {
  readonly readings: Readonly<Record<QuestionId, ReadAnswer>>;
  /** The name as it was typed, or the default. */
  readonly called: string;
  readonly defaults: FirstBuild['defaults'];
}

function readingsOf(answers: Answers, folder: Folder): Read {
  const readings: Partial<Record<QuestionId, ReadAnswer>> = {};
  const defaults: { id: QuestionId; words: string }[] = [];
  let called = answers.name ?? '';
  for (const { id, usual, inWords, read } of QUESTIONS) {
    const answer = answers[id] ?? '';
    const isDefault = answer.trim() === '' && usual !== undefined;
    const taken = isDefault ? (id === 'name' ? freeName(usual, folder) : usual) : answer;
    readings[id] = read(taken);
    if (id === 'name') called = taken;
    if (isDefault) defaults.push({ id, words: inWords?.(taken) ?? taken });
  }
  return { readings: readings as Record<QuestionId, ReadAnswer>, called, defaults };
}

/** A name that neither a part nor a file of the folder has. */
const freeName = (wanted: string, { parts, hasFile }: Folder): string =>
  freshNames(new Set(parts.flatMap(({ name }) => name ?? [])), hasFile)(wanted);

const rounded = (number: number): string => number.toFixed(0);

/** As the trade names stators: 28 x 6.5 mm is 2806.5. */
const twoDigits = (side: number): string => String(side).replace(/^\d(?!\d)/, '0$&');

/** `Board12.5` → `Board12_5`; a name that is taken gets a number behind it. */
function freshNames(taken: Set<string>, isOut: (name: string) => boolean = () => false): (wanted: string) => string {
  return (wanted) => {
    const stem = wanted.replaceAll('.', '_');
    let name = stem;
    for (let i = 2; taken.has(name) || isOut(name); i++) name = `${stem}_${i}`;
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
