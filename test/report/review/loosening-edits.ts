/** Random changes that permit more, as somebody may write them, mixed with changes of the craft itself. */
import type { Files } from '../../../packages/language/src/index.ts';
import { GROUP } from './rooftop-craft.ts';

export type Random = () => number;

/** The group's craft, with packs of more cells than any of them is made for. */
export const FLEET: Files = {
  ...GROUP,
  'parts/more.fettle': `fettle 1
pack Tall900_5S like Mast1050_4S { cells: 5S  capacity: 900 mAh claimed  mass: 124 g measured }
pack Tall800_6S like Mast1050_4S { cells: 6S  capacity: 800 mAh claimed  mass: 131 g measured }
`,
};

/** What another text does to it; undefined where it has nothing to change. `strict` leaves out what permits more. */
export type Edit = (files: Files, isStrict: boolean) => Files | undefined;

const one = <T>(random: Random, all: readonly T[]): T | undefined => all[Math.floor(random() * all.length)];

interface Line {
  readonly path: string;
  readonly at: number;
  readonly text: string;
}

function linesOf(files: Files, pattern: RegExp): Line[] {
  return Object.entries(files).flatMap(([path, text]) =>
    [...text.matchAll(pattern)].map((match) => ({ path, at: match.index, text: match[0] })),
  );
}

const replaced = (files: Files, { path, at, text }: Line, to: string): Files => {
  const old = files[path] ?? '';
  return { ...files, [path]: old.slice(0, at) + to + old.slice(at + text.length) };
};

/** Lines of parts that bound. */
const BOUND = /^ +(?:continuous|burst|discharge|max_temperature|bay|wheelbase|guard_diameter|screw_depth): [^\n/]+/gm;
const SPAN = /^ +(?:rated|cells|supply): [^\n/]*\.\.[^\n/]*/gm;
const WOUND = /^ +rated: [^\n/]+/gm;

const scaled = (text: string, factor: number, digits = /\d+(?:\.\d+)?/): string =>
  text.replace(digits, (number) => String(Number((Number(number) * factor).toPrecision(3))));

/** A limit or a requirement of the old version that may already be passed. */
export function tightened(random: Random, files: Files): Files {
  const isRequired = random() < 0.25;
  const line = one(random, linesOf(files, isRequired ? /^ {2}require (?:hover|thrust|all)[^\n]+/gm : BOUND));
  if (!line) return files;
  const factor = line.text.includes('>=') ? 1.3 + random() : 0.08 + 0.6 * random();
  return replaced(files, line, scaled(line.text, factor, isRequired ? /(?<=[<>]= *)\d+(?:\.\d+)?/ : undefined));
}

/** Another craft: a pack with more cells, a heavier load, no duty limit. */
const FACTS: readonly ((random: Random) => Edit)[] = [
  (random) => {
    const pick = random();
    const pack = random() < 0.5 ? 'Tall900_5S' : 'Tall800_6S';
    return (files) => {
      const line = [...linesOf(files, /^ {2}pack: \w+$/gm)].sort(byPlace)[Math.floor(pick * 8)];
      return line && replaced(files, line, `${line.text}\n  pack: ${pack} as Extra`);
    };
  },
  (random) => {
    const pick = random();
    return (files) => {
      const lines = linesOf(files, /^ +(?:item: |draw: )\d+(?:\.\d+)? [gW]/gm);
      const line = lines[Math.floor(pick * lines.length)];
      return line && replaced(files, line, scaled(line.text, 3));
    };
  },
  () => (files) => {
    const line = linesOf(files, / duty \d+ %/g)[0];
    return line && replaced(files, line, '');
  },
];

const byPlace = (a: Line, b: Line): number => (a.path < b.path ? -1 : a.path > b.path ? 1 : a.at - b.at);

export function fact(random: Random): Edit {
  const make = one(random, FACTS) as (random: Random) => Edit;
  return make(random);
}

const CURRENT = [
  'motor-overvoltage',
  'motor-overcurrent',
  'esc-overcurrent',
  'pack-overcurrent',
  'pack-oversag',
  'overweight',
];
const IDS = [
  ...CURRENT,
  'short-flight',
  'esc-overvoltage',
  'requirement-fails',
  'low-thrust',
  'high-hover-duty',
  'rail-overcurrent',
];

/** A line as it is with something permitted; in the strict version it stays. */
const lax =
  (pattern: RegExp, to: (text: string) => string, random: Random): Edit =>
  (files, isStrict) => {
    const all = linesOf(files, pattern);
    const tight = all.filter(({ path, text }) => !FLEET[path]?.includes(text));
    const line = one(random, random() < 0.7 && tight.length > 0 ? tight : all);
    return line && (isStrict ? files : replaced(files, line, to(line.text)));
  };

/** By name, so that a failure shows which. */
export const LOOSENINGS: Readonly<Record<string, (random: Random) => Edit>> = {
  'raise a limit': (random) => lax(BOUND, (text) => scaled(text, 1.2 + 3 * random()), random),
  'widen a span': (random) => lax(SPAN, (text) => scaled(text, 1.6, /(?<=\.\. *)\d+(?:\.\d+)?/), random),
  'wind for more cells': (random) => lax(WOUND, (text) => text.replace(/\d+(?=S\s*$)/, '8'), random),
  'take a limit out': (random) =>
    lax(/^ +(?:rated|burst|cells: \d+S \.\.|supply|bay|bolts|motor_bolts|draw|size): [^\n]+\n/gm, () => '', random),
  'another ±': (random) => lax(/\+- \d+ %/g, () => (random() < 0.5 ? '+- 30 %' : '+- 0.2 %'), random),
  'call measured': (random) => lax(/(?<=: [^\n]*)\bclaimed\b/g, () => 'measured', random),
  'take a requirement out': (random) => lax(/^ {2}(?:require|keep|raise) [^\n]+\n/gm, () => '', random),
  'require less': (random) =>
    lax(
      /^ {2}require [^\n]+/gm,
      (text) => scaled(text, text.includes('>=') ? 0.5 : 2, /(?<=[<>]= *)\d+(?:\.\d+)?/),
      random,
    ),
  'a smaller reserve': (random) => lax(/^ {2}reserve: \d+ %/gm, () => '  reserve: 2 %', random),
  'accept a finding': (random) =>
    lax(/^ {2}airframe: [^\n]+/gm, (text) => `${text}\n  accept ${one(random, IDS)} because "for now"`, random),
  'lower a finding': (random) =>
    lax(
      random() < 0.5 ? /^ {2}airframe: [^\n]+/gm : /^ {2}reserve: [^\n]+/gm,
      (text) => `${text}\n  lower ${one(random, IDS)} to hint because "for now"`,
      random,
    ),
  'take an observation out': (random) => lax(/^ {2}observed [^{]*\{[^}]*\}\n/gm, () => '', random),
  'rewrite a measurement': (random) =>
    lax(
      /^ +(?:scale: |put_back: |\d+, [\d.]+, )\d+(?:\.\d+)?/gm,
      (text) => scaled(text, 0.7, /\d+(?:\.\d+)?$/),
      random,
    ),
  'another flight': (random) => lax(/^ {2}flown: [^\n]+\n/gm, () => '', random),
  'a part under another name': (random) => {
    const trifle = 0.96 + 0.08 * random();
    const [which, what] = [random(), random()];
    return (files, isStrict) => {
      const parts = linesOf(
        files,
        /^(?:motor|esc|pack|propeller|airframe|load|regulator) \w+[^{]*\{[^{}]*(?:\{[^{}]*\}[^{}]*)?\}/gm,
      );
      const part = parts[Math.floor(which * parts.length)];
      const [, kind = '', name = ''] = /^(\w+) (\w+)/.exec(part?.text ?? '') ?? [];
      if (!part) return undefined;
      const copy = part.text
        .replace(name, `${name}_B`)
        .replace(/(?<= mass: )\d+(?:\.\d+)?/, (mass) => (Number(mass) * trifle).toFixed(2));
      const limits = [...copy.matchAll(new RegExp(`${BOUND.source}|${WOUND.source}`, 'gm'))];
      const limit = limits[Math.floor(what * limits.length)]?.[0];
      const raised =
        limit === undefined
          ? copy
          : copy.replace(limit, /rated/.test(limit) ? limit.replace(/\d+(?=S\s*$)/, '8') : scaled(limit, 4));
      return used(files, part.path, name, isStrict ? copy : raised, kind);
    };
  },
  'a part like the old one': (random) => {
    const which = random();
    return (files, isStrict) => {
      const parts = linesOf(files, /^(?:motor|esc|pack) \w+/gm);
      const part = parts[Math.floor(which * parts.length)];
      const [kind = '', name = ''] = part?.text.split(' ') ?? [];
      if (!part) return undefined;
      const lines = {
        motor: 'rated: 8S  burst: 90 A  continuous: 60 A',
        esc: 'burst: 150 A  continuous: 120 A  cells: 1S .. 8S',
        pack: 'discharge: 240C',
      };
      return used(
        files,
        part.path,
        name,
        `${kind} ${name}_B like ${name} { ${isStrict ? '' : lines[kind as keyof typeof lines]} }`,
        kind,
      );
    };
  },
  'a folder of its own': (random) => {
    const which = random();
    return (files, isStrict) => {
      const motors = files['parts/motors.fettle'] ?? '';
      const builds = Object.keys(files).filter(
        (path) => path.startsWith('builds/') && files[path]?.includes('motors: '),
      );
      const build = builds[Math.floor(which * builds.length)] ?? '';
      const text = files[build] ?? '';
      const theirs = isStrict ? motors : motors.replace(/^ +(?:rated|burst): [^\n]+\n/gm, '');
      return {
        ...files,
        'parts/shed/motors.fettle': theirs,
        [build]: text
          .replace('use "../parts"', 'use "../parts"\nuse "../parts/shed" as shed')
          .replace(/(\d x )(?=M\d)/g, '$1shed.'),
      };
    };
  },
};

/** A new part in the file of the old one, and builds that fit it. */
function used(files: Files, path: string, name: string, text: string, kind: string): Files | undefined {
  const known = { ...files, [path]: `${files[path] ?? ''}\n${text}\n` };
  const line = new RegExp(`^( {2}(?:\\w+_)?${kind}s?: (?:\\d x )?(?:[^\\n]* with )?)${name}\\b`, 'gm');
  const changed = Object.entries(known).filter(([file, was]) => file.startsWith('builds/') && was.search(line) >= 0);
  if (changed.length === 0) return undefined;
  return { ...known, ...Object.fromEntries(changed.map(([file, was]) => [file, was.replace(line, `$1${name}_B`)])) };
}
