/** Ordinary craft from data sheets, over the whole range. Invented; the ranges are what practice knows of such craft. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

type Range = readonly [low: number, high: number];

export interface OrdinaryCraft {
  /** The comment on its first line. */
  readonly name: string;
  readonly file: string;
  readonly text: string;
  /** Results by name, SI: where practice expects them. */
  readonly expected: Readonly<Record<string, Range>>;
}

const folder = join(import.meta.dirname, 'fixtures/healthy');

const g = (low: number, high: number): Range => [low / 1e3, high / 1e3];
const minutes = (low: number, high: number): Range => [low * 60, high * 60];

const EXPECTED = {
  wren: {
    all_up_weight: g(24, 32),
    hover_time: minutes(2.5, 7),
    hover_duty: [0.35, 0.75],
    thrust_to_weight: [1.7, 4.5],
    full_motor_current: [1.8, 6],
  },
  pipit: {
    all_up_weight: g(70, 78),
    hover_time: minutes(4.5, 9.5),
    hover_duty: [0.4, 0.75],
    thrust_to_weight: [1.6, 4],
    full_motor_current: [3, 9],
  },
  rafter: {
    all_up_weight: g(240, 270),
    hover_time: minutes(4.5, 10),
    hover_duty: [0.3, 0.6],
    thrust_to_weight: [2.5, 6],
    full_motor_current: [3, 11],
  },
  fledgling: {
    all_up_weight: g(118, 142),
    hover_time: minutes(3.5, 9),
    hover_duty: [0.2, 0.5],
    thrust_to_weight: [2.5, 8],
    full_motor_current: [4, 14],
  },
  gable: {
    all_up_weight: g(130, 165),
    hover_time: minutes(5.5, 13),
    hover_duty: [0.2, 0.5],
    thrust_to_weight: [3, 8],
    full_motor_current: [5, 14],
  },
  martin: {
    all_up_weight: g(210, 240),
    hover_time: minutes(3.5, 8),
    hover_duty: [0.35, 0.65],
    thrust_to_weight: [2, 5.5],
    full_motor_current: [5, 16],
  },
  spire: {
    all_up_weight: g(225, 250),
    hover_time: minutes(6, 14),
    hover_duty: [0.2, 0.5],
    thrust_to_weight: [3.5, 9],
    full_motor_current: [8, 22],
  },
  siskin: {
    all_up_weight: g(245, 275),
    hover_time: minutes(6.5, 15),
    hover_duty: [0.2, 0.45],
    thrust_to_weight: [3.5, 9],
    full_motor_current: [7, 22],
  },
  kestrel: {
    all_up_weight: g(650, 700),
    hover_time: minutes(5, 12),
    hover_duty: [0.18, 0.4],
    thrust_to_weight: [4.5, 12],
    full_motor_current: [22, 48],
  },
  rook: {
    all_up_weight: g(1200, 1300),
    hover_time: minutes(20, 42),
    hover_duty: [0.25, 0.5],
    thrust_to_weight: [2.2, 7],
    full_motor_current: [10, 45],
  },
  heron: {
    all_up_weight: g(1680, 1840),
    hover_time: minutes(10, 24),
    hover_duty: [0.35, 0.65],
    thrust_to_weight: [1.9, 5],
    full_motor_current: [8, 24],
  },
  'library-small': {
    all_up_weight: g(26, 35),
    hover_time: minutes(2.5, 7),
    hover_duty: [0.3, 0.7],
    thrust_to_weight: [1.8, 5],
    full_motor_current: [1.8, 6],
  },
  'library-far': {
    all_up_weight: g(1250, 1600),
    hover_time: minutes(22, 45),
    hover_duty: [0.28, 0.55],
    thrust_to_weight: [2.2, 6],
    full_motor_current: [10, 45],
  },
  belfry: {
    all_up_weight: g(2250, 2500),
    hover_time: minutes(8, 20),
    hover_duty: [0.25, 0.55],
    thrust_to_weight: [2.5, 8],
    full_motor_current: [15, 45],
  },
  midge: {
    all_up_weight: g(26, 32),
    hover_time: minutes(2.5, 6.5),
    hover_duty: [0.35, 0.7],
    thrust_to_weight: [1.8, 4.5],
    full_motor_current: [1.8, 5],
  },
  linnet: {
    all_up_weight: g(58, 68),
    hover_time: minutes(6, 14),
    hover_duty: [0.2, 0.45],
    thrust_to_weight: [4, 10],
    full_motor_current: [3.5, 9],
  },
  harrier: {
    all_up_weight: g(680, 760),
    hover_time: minutes(5, 12),
    hover_duty: [0.2, 0.42],
    thrust_to_weight: [4.5, 11],
    full_motor_current: [20, 45],
  },
  gannet: {
    all_up_weight: g(890, 990),
    hover_time: minutes(18, 36),
    hover_duty: [0.28, 0.55],
    thrust_to_weight: [2.4, 6],
    full_motor_current: [9, 25],
  },
  pelican: {
    all_up_weight: g(3000, 3300),
    hover_time: minutes(16, 32),
    hover_duty: [0.42, 0.7],
    thrust_to_weight: [1.9, 3.8],
    full_motor_current: [10, 26],
  },
  bittern: {
    all_up_weight: g(4600, 5100),
    hover_time: minutes(8, 17),
    hover_duty: [0.28, 0.52],
    thrust_to_weight: [3, 6.5],
    full_motor_current: [30, 62],
  },
} as const satisfies Record<string, Record<string, Range>>;

export type CraftName = keyof typeof EXPECTED;

export const textOf = (craft: CraftName): string => readFileSync(join(folder, `${craft}.fettle`), 'utf8');

export const ORDINARY: readonly OrdinaryCraft[] = Object.entries(EXPECTED).map(([craft, expected]) => {
  const text = textOf(craft as CraftName);
  return { name: /^\/\/ (.*?)[.:]?$/m.exec(text)?.[1] ?? craft, file: `${craft}.fettle`, text, expected };
});
