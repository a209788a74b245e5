/** What owners of simulated craft measure, what a file with it states, and how well that meets the truth. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { assess, assessChanged } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment, LearntLine } from '../../packages/language/src/analysis/assessment.ts';
import { ends, expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { buildFindings } from '../../packages/language/src/checks/run.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import type { Defect } from '../../packages/language/src/syntax/defects.ts';
import { judgedIn } from '../checks/findings-in.ts';
import { cases } from '../long.ts';
import { type Making, type Simulated, simulated, type Truth } from './simulated-craft.ts';

/** How many are demanded: in place of a sample all are tried then. */
export const DEMANDED = Number(process.env.FETTLE_SIMULATED_CRAFT ?? 0);
export const some = (sample: number, all: number): number => (DEMANDED ? all : cases(sample, all));

/** Of the craft that a law is tried on. */
export const COUNT = DEMANDED || cases(6, 12);
/** The first of them. A dozen is a small sample: of the first dozen four happen to lie far off in hover power, of three hundred 7 %. */
export const HEALTHY_FROM = COUNT >= 300 ? 1 : 101;
/** Three standard deviations of chance in a share. */
export const chance = (share: number, count: number) => 3 * Math.sqrt((share * (1 - share)) / count);
/** The same, relatively, in a root mean square: one in √(2·count). */
export const looser = (count: number) => 1 + (COUNT >= 300 ? 1 : 3) / Math.sqrt(2 * count);

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
export interface Assessed {
  readonly results: Readonly<Record<Pack, Readonly<Record<Name, Found>>>>;
  readonly lines: readonly KeptLine[];
  /** Its measurements contradict each other: each ± includes both sides. */
  readonly isInDoubt: boolean;
}

export interface Checked extends Assessed {
  /** Without the note on estimates, and without fixes. */
  readonly findings: readonly { readonly id: string; readonly message: string }[];
}

type KeptLine = Omit<LearntLine, 'slopes' | 'place'>;

export const check = (text: string, log?: string): Promise<Checked> =>
  judged(text, log, (build) => ({ ...assessedOf(build), findings: findingsOf(build) }));

/** For tests of numbers: findings take as long again. */
export const assessed = (text: string, log?: string): Promise<Assessed> =>
  judged(text, log, (build) => assessedOf(build, onlyNamed));

async function judged<T>(text: string, log: string | undefined, judge: (build: Build) => T): Promise<T> {
  const files = { 'a.fettle': text, ...(log !== undefined && { 'flight.csv': log }) };
  const found = await judgedIn(files, ({ builds: [build] }) => build && judge(build));
  const one = found['a.fettle'];
  if (!one) throw new Error('no build');
  return one;
}

function assessedOf(build: Build, on = assess): Assessed {
  const [first, second] = build.packs.map((option) => on(build, option));
  if (!first || !second) throw new Error('two packs are expected');
  const of = (assessment: Assessment) =>
    Object.fromEntries(NAMES.map((name) => [name, resultOf(assessment, name)])) as Record<Name, Found>;
  return {
    results: { First: of(first), Second: of(second) },
    lines: (first.learnt?.lines ?? []).map(({ slopes: _, place: __, ...line }) => line),
    isInDoubt: (first.learnt?.doubts ?? []).length > 0,
  };
}

const onlyNamed: typeof assess = (build, option) => assessChanged(build, option, (setup) => setup, NAMES);

function findingsOf(build: Build): Checked['findings'] {
  const defects: Defect[] = [];
  const assessments = build.packs.map((option) => assess(build, option));
  const findings = buildFindings(build, assessments, defects, false);
  if (defects[0]) throw defects[0].error;
  return findings.map(({ id, message }) => ({ id, message }));
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
export const SET_NAMES = Object.keys(SETS) as SetName[];

const made = new Map<string, Promise<Simulated | undefined>>();

/** Made once: several tests measure the same craft. */
export function craftAt(seed: number, making: Making = {}): Promise<Simulated | undefined> {
  const key = JSON.stringify([seed, making]);
  const known = made.get(key) ?? simulated(seed, making);
  made.set(key, known);
  return known;
}

export async function craftOf(count: number, making: Making = {}, from = 1): Promise<Simulated[]> {
  const flying: Simulated[] = [];
  for (let seed = from; flying.length < count; seed++) {
    const one = await craftAt(seed, making);
    if (one) flying.push(one);
  }
  return flying;
}

/** With propellers three standard deviations off their page, on either side. */
export const withPropellersOff = async (count: number): Promise<Simulated[]> => [
  ...(await craftOf(Math.ceil(count / 2), { propeller: 3 }, 7001)),
  ...(await craftOf(Math.floor(count / 2), { propeller: -3 }, 8001)),
];

export interface Tried {
  readonly craft: Simulated;
  readonly by: Readonly<Record<SetName, Checked>>;
}

export async function tried(craft: Simulated): Promise<Tried> {
  const by: Partial<Record<SetName, Checked>> = {};
  for (const set of SET_NAMES) {
    const [lines, stand] = SETS[set](craft);
    by[set] = await check(textOf(craft, lines, stand), craft.lines.log);
  }
  return { craft, by: by as Tried['by'] };
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
    const { results } = await assessed(textOf(craft, lines, stand));
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
