/**
 * One slip of the pen in a healthy craft is one message, about the part it was made in. Each slip in some of the ordinary craft, or on request in each; where
 * a slip can be made in several lines, one of them is drawn. `FETTLE_SEED=7` draws others, `FETTLE_COUNTS=1` prints what was found.
 */
import { afterAll, describe, expect, it } from 'vitest';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import type { CheckedDocument } from '../../packages/language/src/checks/run.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { cases } from '../long.ts';
import { applied } from '../model/surroundings.ts';
import { ORDINARY } from '../ordinary-craft.ts';
import { checkedOnce } from './findings-in.ts';

const SEED = Number(process.env.FETTLE_SEED ?? 1);

/** A number from 0 to 1 that depends on the seed and the words alone. */
function drawn(...words: readonly string[]): number {
  let hash = SEED;
  for (const character of words.join(' ')) hash = (Math.imul(hash, 31) + character.charCodeAt(0)) >>> 0;
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d) >>> 0;
  return ((hash ^ (hash >>> 13)) >>> 0) / 2 ** 32;
}

/** Exchanges one of the places that match, drawn; undefined where none does. */
function exchanged(
  text: string,
  pattern: RegExp,
  by: (groups: readonly string[]) => string,
  word = '',
): string | undefined {
  const matches = [...text.matchAll(new RegExp(pattern.source, 'gm'))];
  const match = matches[Math.floor(drawn(text.slice(0, 40), pattern.source, word) * matches.length)];
  return match && text.slice(0, match.index) + by(match) + text.slice(match.index + match[0].length);
}

const first = (text: string, pattern: RegExp, by: (groups: readonly string[]) => string): string | undefined => {
  const match = pattern.exec(text);
  return match ? text.slice(0, match.index) + by(match) + text.slice(match.index + match[0].length) : undefined;
};

const times =
  (factor: number) =>
  ([, before = '', number = '']: readonly string[]) =>
    `${before}${Number((Number(number) * factor).toPrecision(6))}`;

interface Craft {
  readonly text: string;
  readonly build: Build;
}

interface Slip {
  readonly name: string;
  /** A craft of which the slip is made, where the ordinary one has no place for it. */
  readonly before?: (craft: Craft) => string | undefined;
  readonly slip: (text: string, craft: Craft) => string | undefined;
  /** A name that the finding, its line or its block has. */
  readonly part: (build: Build) => string | undefined;
  readonly description?: RegExp;
  /** Its first fix cures it. */
  readonly isMended?: boolean;
}

const motorOf = ({ rotors }: Build) => rotors[0]?.motor.name;
const packOf = ({ packs }: Build) => packs[0]?.part.name;

/** The motor states what is estimated of it. */
function declaring(property: 'resistance' | 'no_load_current', factor: number) {
  return (text: string, { build }: Craft) => {
    const motor = build.rotors[0]?.motor;
    const figure = motor?.figure(property);
    if (!motor || !figure) return undefined;
    const stated = new RegExp(`((?<![_a-z])${property}: )([\\d.]+)`);
    if (stated.test(text)) return first(text, stated, times(factor));
    const unit = property === 'resistance' ? 'ohm' : 'A';
    const line = `${property}: ${Number((figure.value * factor).toPrecision(4))} ${unit}`;
    const own = first(text, new RegExp(`^motor ${motor.name}\\b[^{]*{`, 'm'), ([head]) => `${head} ${line}\n`);
    // A motor of the library: one like it.
    return (
      own ??
      `motor Slip_motor like ${motor.name} { ${line} }
${text.replace(`x ${motor.name} `, 'x Slip_motor ')}`
    );
  };
}

/** The craft with a test stand about its propeller, whose rows state what the estimate states. */
function withStand({ text, build }: Craft): string | undefined {
  const [rotor] = build.rotors;
  const kv = rotor?.motor.declared('kv');
  const thrust = rotor?.propeller.figure('thrust_coefficient');
  const diameter = rotor?.propeller.figure('diameter');
  const cells = build.packs[0]?.part.cells('cells')?.series;
  if (!rotor || !kv || !thrust || !diameter || !cells) return undefined;
  const rows = [0.3, 0.5, 0.7].map((share) => {
    const voltage = 3.9 * cells;
    const turns = (0.8 * share * voltage * kv.value) / (2 * Math.PI);
    const force = thrust.value * 1.19 * turns ** 2 * diameter.value ** 4;
    return `    ${voltage.toFixed(2)}, ${(60 * turns).toFixed(0)}, ${(force / 9.80665e-3).toFixed(1)}`;
  });
  return `${text}
bench Slip_stand {
  motor: ${rotor.motor.name}
  propeller: ${rotor.propeller.name}
  rows voltage in V, speed in rpm, thrust in gf {
${rows.join('\n')}
  }
}
`;
}

/** The craft with a lead and two packs whose plugs connect. */
function withPlugs({ text, build }: Craft): string | undefined {
  const name = packOf(build);
  const fitted = first(
    text,
    /^ {2}pack: .*$/m,
    () => '  lead: Slip_tail\n  pack: Slip_pack\n  pack: Slip_pack as Slip_spare',
  );
  return fitted?.concat(`
pack Slip_pack like ${name} { plug: Bullet45 }
lead Slip_tail { wire: 14 AWG  length: 40 mm  plug: Bullet45  mass: 2 g }
`);
}

const inRows = (change: (row: string) => string) => (text: string) =>
  text.replace(/(?<=gf {\n)[^}]+/, (rows) => rows.split('\n').map(change).join('\n'));

const SLIPS: readonly Slip[] = [
  {
    name: 'kv ten times too high',
    slip: (text) => first(text, /(kv: )([\d.]+)/, times(10)),
    part: motorOf,
    description: /kv/,
  },
  {
    name: 'kv ten times too low',
    slip: (text) => first(text, /(kv: )([\d.]+)/, times(0.1)),
    part: motorOf,
    description: /kv/,
  },
  {
    name: 'stator with its height first',
    slip: (text) => first(text, /stator: ([\d.]+) x ([\d.]+)/, ([, one, other]) => `stator: ${other} x ${one}`),
    part: motorOf,
    isMended: true,
  },
  ...([10, 0.1] as const).flatMap((factor): Slip[] => [
    { name: `resistance x ${factor}`, slip: declaring('resistance', factor), part: motorOf, description: /resistance/ },
    {
      name: `no-load current x ${factor}`,
      slip: declaring('no_load_current', factor),
      part: motorOf,
      description: /no.load/,
    },
  ]),
  {
    name: '3-6S',
    slip: (text) => exchanged(text, /(cells|rated): (\d+)S \.\. /, ([, key, low]) => `${key}: ${low}-`),
    part: () => undefined,
    description: /two points/,
    isMended: true,
  },
  {
    name: 'no esc',
    slip: (text) => text.replace(/^ {2}esc: .*\n/gm, ''),
    part: ({ name }) => name,
    description: /esc/,
  },
  {
    name: 'pack mass x 10',
    slip: (text) => first(text, /(^pack [^{]*{[^}]*mass: )([\d.]+)/m, times(10)),
    part: packOf,
  },
  {
    name: 'capacity x 10',
    slip: (text) => first(text, /(^pack [^{]*{[^}]*capacity: )([\d.]+)/m, times(10)),
    part: packOf,
  },
  {
    name: 'curly quotes',
    slip: (text) => exchanged(text, /"([^"\n]*)"/, ([, words]) => (drawn(text) < 0.5 ? `“${words}”` : `„${words}“`)),
    part: () => undefined,
    description: /straight double quotes/,
    isMended: true,
  },
  {
    name: 'missing colon',
    slip: (text) => exchanged(text, /^( {2})?(\w+): (?!\/)/, ([, indent = '', key]) => `${indent}${key} `),
    part: () => undefined,
    description: /colon/,
    isMended: true,
  },
  {
    name: 'missing colon in a part',
    slip: (text) => exchanged(text, /(?<= )(kv|stator|diameter|mass|capacity|channels): /, ([, key]) => `${key} `),
    part: () => undefined,
    description: /colon/,
    isMended: true,
  },
  {
    name: 'plugs that do not connect',
    before: withPlugs,
    slip: (text) => text.replace(/(pack Slip_pack.*plug: )Bullet45/, '$1Bullet2'),
    part: () => 'Slip_pack',
    description: /do not connect/,
  },
  {
    name: 'plug mistyped',
    before: withPlugs,
    slip: (text) => text.replace(/(pack Slip_pack.*plug: )Bullet45/, '$1Bulet45'),
    part: () => 'Slip_pack',
    description: /no such plug/,
    isMended: true,
  },
  {
    name: 'spaces for commas',
    before: withStand,
    slip: inRows((row) => row.replaceAll(',', '')),
    part: () => 'Slip_stand',
    description: /commas/,
    isMended: true,
  },
  {
    name: 'semicolons for commas',
    before: withStand,
    slip: inRows((row) => row.replaceAll(', ', ';')),
    part: () => 'Slip_stand',
    description: /commas/,
    isMended: true,
  },
  {
    name: 'semicolons for commas, commas for points',
    before: withStand,
    slip: inRows((row) => row.replaceAll(', ', ' ; ').replaceAll('.', ',')),
    part: () => 'Slip_stand',
    description: /commas/,
    isMended: true,
  },
  {
    name: 'semicolons in the head too',
    before: withStand,
    slip: (text) =>
      inRows((row) => row.replaceAll(',', ';'))(text).replace(/rows .*{/, (head) => head.replaceAll(',', ';')),
    part: () => 'Slip_stand',
    description: /commas/,
    isMended: true,
  },
  {
    name: 'columns without in',
    before: withStand,
    slip: (text) => text.replace(/rows .*{/, (head) => head.replaceAll(' in ', ' ')),
    part: () => 'Slip_stand',
    description: /in belongs between/,
    isMended: true,
  },
];

interface Checked {
  readonly document: CheckedDocument | undefined;
  readonly serious: readonly Finding[];
}

/** Each text once: the sound ones come again with every slip. */
async function checked(text: string): Promise<Checked> {
  const document = (await checkedOnce({ 'craft.fettle': text }))['craft.fettle'];
  const serious = document?.findings.filter(({ severity }) => severity === 'error' || severity === 'warning');
  return { document, serious: serious ?? [] };
}

const reported = (findings: readonly Finding[]) => findings.map(({ id, message }) => `${id}: ${message}`);

/** The finding, its line, or the header of the block it is in. */
function isAbout(text: string, { message, place }: Finding, name: string): boolean {
  const start = text.lastIndexOf('\n', place.start - 1) + 1;
  const line = text.slice(start, text.indexOf('\n', place.end));
  const header = [...text.slice(0, place.start + 1).matchAll(/^[a-z]+ .*$/gm)].at(-1)?.[0] ?? '';
  return [message, line, header].some((where) => new RegExp(`\\b${name}\\b`).test(where));
}

const counts = new Map<string, string>();
afterAll(() => {
  if (process.env.FETTLE_COUNTS) for (const [name, count] of counts) console.log(`${name}: ${count}`);
});

/** Craft in which a slip is made. */
const MOST = cases(4, ORDINARY.length);
const LEAST = cases(4, 6);

describe('one slip, one message, about the part it was made in', () => {
  it.each(SLIPS)('$name', { timeout: 60_000 }, async ({ name, before, slip, part, description, isMended }) => {
    let made = 0;
    const found = new Map<string, number>();
    // Where craft are made for it, slips of a sort are made in the same ones.
    const from = Math.floor(drawn(before?.name ?? name) * ORDINARY.length);
    for (const { file, text } of [...ORDINARY.slice(from), ...ORDINARY.slice(0, from)]) {
      if (made >= MOST) break;
      const build = (await checked(text)).document?.builds[0]?.build;
      if (!build) throw new Error(`${file} has no build`);
      const sound = before ? before({ text, build }) : text;
      const slipped = sound && slip(sound, { text: sound, build });
      if (!sound || !slipped || slipped === sound) continue;
      made += 1;
      if (before) expect(reported((await checked(sound)).serious), `${file}, without the slip`).toEqual([]);
      const { serious } = await checked(slipped);
      expect(reported(serious), `${file}\n${slipped}`).toHaveLength(1);
      const [one] = serious;
      if (!one) continue;
      found.set(one.id, (found.get(one.id) ?? 0) + 1);
      if (description) expect(one.message, file).toMatch(description);
      const wanted = part(build);
      if (wanted) expect(isAbout(slipped, one, wanted), `${file}: ${wanted}, ${one.message}`).toBe(true);
      if (!isMended) continue;
      const [fix] = one.fixes;
      if (!fix) throw new Error(`${file}: no fix for ${one.message}`);
      expect(reported((await checked(applied(slipped, fix))).serious), `${file}, mended`).toEqual([]);
    }
    counts.set(name, `${made} craft; ${[...found].map(([id, count]) => `${count} ${id}`).join(', ')}`);
    expect(made).toBeGreaterThanOrEqual(LEAST);
  });
});

describe('a row that cannot be', () => {
  it('is underlined itself', async () => {
    const [craft] = ORDINARY.filter(({ file }) => file === 'spire.fettle');
    const build = craft && (await checked(craft.text)).document?.builds[0]?.build;
    const sound = build && withStand({ text: craft.text, build });
    const odd = sound?.replace(
      /(?<=gf {\n.*\n)(.*, )([\d.]+)$/m,
      (_, before, thrust) => `${before}${Number(thrust) * 10}`,
    );
    const [one, ...others] = (await checked(odd ?? '')).serious;
    expect(others).toEqual([]);
    expect(one?.message).toMatch(/^Row 2 of Slip_stand is left out/);
    expect(odd?.slice(one?.place.start, one?.place.end)).toMatch(/^[\d.]+, \d+, [\d.]+$/);
  });
});
