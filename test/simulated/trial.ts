/** What owners of simulated craft measure, what a file with it states, and how well that meets the truth. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Assessment, LearntLine } from '../../packages/language/src/analysis/assessment.ts';
import { ends, expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import { checkedIn } from '../checks/findings-in.ts';
import { type Making, type Simulated, simulated, type Truth } from './craft.ts';

export const ALL_ROWS = [0.3, 0.6, 1];
export const PACKS = ['First', 'Second'] as const;
export type Name = keyof Truth;
export const NAMES: readonly Name[] = [
  'hover_time',
  'hover_power',
  'full_current',
  'thrust_to_weight',
  'land_by_hover_voltage',
  'all_up_weight',
];

export const observed = (...lines: readonly string[]): string =>
  lines.length > 0 ? `  observed "day" with First {\n    ${lines.join('\n    ')}\n  }\n` : '';

export const textOf = ({ page }: Simulated, lines: readonly string[], stand = '', more = ''): string =>
  `${stand}${page}${observed(...lines)}${more}}\n`;

export type Pack = (typeof PACKS)[number];

/** What is kept of a run: a build with all its figures would fill the memory some thousand times over. */
export interface Checked {
  readonly results: Readonly<Record<Pack, Readonly<Record<Name, Found>>>>;
  readonly lines: readonly KeptLine[];
  /** Its measurements contradict each other: each ± includes both sides. */
  readonly isInDoubt: boolean;
  readonly findings: readonly { readonly id: string; readonly message: string }[];
}

type KeptLine = Omit<LearntLine, 'slopes' | 'place'>;

export const check = async (text: string): Promise<Checked> => (await checkAll({ text })).text as Checked;

/** Texts that know nothing of each other, in one workspace: making one takes longer than judging a craft. */
export async function checkAll<Key extends string>(
  texts: Readonly<Record<Key, string>>,
  log?: string,
): Promise<Record<Key, Checked>> {
  const keys = Object.keys(texts) as Key[];
  const files = keys.flatMap((key) => [
    [`${key}/a.fettle`, texts[key]],
    ...(log === undefined ? [] : [[`${key}/flight.csv`, log]]),
  ]);
  const checked = await checkedIn(Object.fromEntries(files));
  return Object.fromEntries(keys.map((key) => [key, keep(checked[`${key}/a.fettle`])])) as Record<Key, Checked>;
}

function keep(checked: CheckedDocument | undefined): Checked {
  const [first, second] = checked?.builds[0]?.assessments ?? [];
  if (!checked || !first || !second) throw new Error('two packs are expected');
  const of = (assessment: Assessment) =>
    Object.fromEntries(NAMES.map((name) => [name, resultOf(assessment, name)])) as Record<Name, Found>;
  return {
    results: { First: of(first), Second: of(second) },
    lines: (first.learnt?.lines ?? []).map(({ slopes: _, place: __, ...line }) => line),
    isInDoubt: (first.learnt?.doubts ?? []).length > 0,
    findings: checked.findings.map(({ id, message }) => ({ id, message })),
  };
}

export interface Found {
  readonly value: number;
  /** Relative, k = 2. */
  readonly plusMinus: number;
  /** Ends of the interval that is stated. */
  readonly low: number;
  readonly high: number;
}

export function resultOf({ results }: Assessment, name: Name): Found {
  const estimate = results.get(name)?.estimate;
  if (!estimate) throw new Error(name);
  const plusMinus = expanded(estimate) / estimate.value;
  return { value: estimate.value, plusMinus, ...ends(estimate) };
}

/** All that was tried with one set of lines. */
export class Tally {
  readonly #errors: number[] = [];
  readonly #widths: number[] = [];
  #below = 0;
  #above = 0;

  add({ value, plusMinus, low, high }: Found, truth: number): void {
    this.#errors.push(Math.log(truth / value));
    this.#widths.push(plusMinus);
    if (truth < low) this.#below++;
    if (truth > high) this.#above++;
  }

  get count(): number {
    return this.#errors.length;
  }
  get rms(): number {
    return Math.sqrt(this.#errors.reduce((sum, error) => sum + error ** 2, 0) / this.count);
  }
  get plusMinus(): number {
    return this.#widths.reduce((sum, width) => sum + width, 0) / this.count;
  }
  get covered(): number {
    return 1 - this.below - this.above;
  }
  get below(): number {
    return this.#below / this.count;
  }
  get above(): number {
    return this.#above / this.count;
  }
}

const LOG = 'log time, voltage "volts", current "amps", output "motors (%)" from "flight.csv"';

export const SETS = {
  page: () => [[], ''],
  scale: ({ lines }) => [[lines.scale], ''],
  charger: ({ lines }) => [[lines.scale, ...lines.charger], ''],
  burst: ({ lines }) => [[lines.scale, ...lines.charger, ...lines.burst], ''],
  hover: ({ lines }) => [[lines.scale, ...lines.charger, ...lines.burst, ...lines.hover], ''],
  count: ({ lines }) => [[lines.scale, ...lines.charger, ...lines.burst, ...lines.hover, lines.counted], ''],
  log: ({ lines }) => [[lines.scale, ...(lines.log === undefined ? [] : [LOG])], ''],
  rows: ({ lines }) => [[lines.scale], lines.stand(ALL_ROWS)],
  all: ({ lines }) => [
    [lines.scale, ...lines.charger, ...lines.burst, ...lines.hover, lines.counted],
    lines.stand(ALL_ROWS),
  ],
} as const satisfies Readonly<Record<string, (craft: Simulated) => readonly [readonly string[], string]>>;
export type SetName = keyof typeof SETS;
const SET_NAMES = Object.keys(SETS) as SetName[];

export async function craftOf(count: number, making: Making = {}, from = 1): Promise<Simulated[]> {
  const made: Simulated[] = [];
  for (let seed = from; made.length < count; seed++) {
    const one = await simulated(seed, making);
    if (one) made.push(one);
  }
  return made;
}

export interface Tried {
  readonly craft: Simulated;
  readonly by: Readonly<Record<SetName, Checked>>;
}

export async function tried(craft: Simulated): Promise<Tried> {
  const texts = SET_NAMES.map((set) => {
    const [lines, stand] = SETS[set](craft);
    return [set, textOf(craft, lines, stand)] as const;
  });
  return { craft, by: await checkAll(Object.fromEntries(texts) as Record<SetName, string>, craft.lines.log) };
}

export const tallyOf = (all: readonly Tried[], set: SetName, name: Name, packs: readonly Pack[] = PACKS) => {
  const tally = new Tally();
  for (const { craft, by } of all)
    for (const pack of packs) tally.add(by[set].results[pack][name], craft.truth[pack][name]);
  return tally;
};

const REPORT = join(import.meta.dirname, '../reference/learning.json');

interface ReportRow {
  readonly set: string;
  readonly pack: string;
  readonly result: string;
  readonly rms: number;
  readonly plusMinus: number;
  readonly covered: number;
  readonly below: number;
  readonly above: number;
}

function rowOf(set: string, result: Name, pack: Pack, { rms, plusMinus, covered, below, above }: Tally): ReportRow {
  const inPercent = (share: number) => Math.round(1000 * share) / 10;
  return {
    set,
    pack: pack === 'First' ? 'measured on' : 'another',
    result,
    rms: inPercent(rms),
    plusMinus: inPercent(plusMinus),
    covered: inPercent(covered),
    below: inPercent(below),
    above: inPercent(above),
  };
}

/** For the validation page. */
export function writeReport(all: readonly Tried[]): void {
  const rows = SET_NAMES.flatMap((set) =>
    NAMES.flatMap((result) => PACKS.map((pack) => rowOf(set, result, pack, tallyOf(all, set, result, [pack])))),
  );
  writeFileSync(REPORT, `${JSON.stringify({ craft: all.length, rows }, null, 2)}\n`);
}

/** Craft from a model twice as far off. */
export type Doubled = ReadonlyMap<Pack, ReadonlyMap<Name, Tally>>;

export async function triedDoubled(count: number): Promise<Doubled> {
  const tallies = new Map(PACKS.map((pack) => [pack, new Map(NAMES.map((name) => [name, new Tally()]))]));
  for (const craft of await craftOf(count, { modelError: 2 }, 5001)) {
    const [lines, stand] = SETS.all(craft);
    const { results } = await check(textOf(craft, lines, stand));
    for (const [pack, ofPack] of tallies)
      for (const [name, tally] of ofPack) tally.add(results[pack][name], craft.truth[pack][name]);
  }
  return tallies;
}

/** In addition to the others, once they are written. */
export function addDoubled(doubled: Doubled): void {
  const report: { craft: number; rows: ReportRow[] } = JSON.parse(readFileSync(REPORT, 'utf8'));
  const rows = [...doubled].flatMap(([pack, ofPack]) =>
    [...ofPack].map(([result, tally]) => rowOf(DOUBLED, result, pack, tally)),
  );
  const others = report.rows.filter(({ set }) => set !== DOUBLED);
  writeFileSync(REPORT, `${JSON.stringify({ ...report, rows: [...others, ...rows] }, null, 2)}\n`);
}

const DOUBLED = 'doubled';
