/** What layout may never do, over mutated texts: lose a sign, change what is read, or need a second time. */
import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOut } from '../../packages/language/src/grammar/layout.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { cases } from '../long.ts';

const laidOut = (text: string): string | undefined => {
  const outcome = layOut(text);
  return 'text' in outcome ? outcome.text : undefined;
};

const ROOT = join(import.meta.dirname, '../..');
const files = globSync(['examples/**/*.fettle', 'test/fixtures/**/*.fettle', 'packages/language/library/**/*.fettle'], {
  cwd: ROOT,
}).map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') }));

describe('the examples, fixtures and parts that come along', () => {
  it.each(files)('$path is laid out, or broken on purpose', ({ text }) => expect(laidOut(text) ?? text).toBe(text));
});

/** Each sign with the way it may be written in ASCII; both sides are compared in the latter. */
const SIGNS: readonly (readonly [sign: RegExp, ascii: string])[] = [
  [/\s+/g, ''],
  [/±|\+\/-/g, '+-'],
  [/…|\.\.\./g, '..'],
  [/≤|=</g, '<='],
  [/≥|=>/g, '>='],
  [/==/g, '='],
  [/−|–/g, '-'],
  [/·/g, '*'],
  [/×/g, 'x'],
  [/°/g, 'deg'],
  [/µ|μ/g, 'u'],
  [/\u03a9|\u2126/g, 'ohm'],
  [/²/g, '^2'],
  [/³/g, '^3'],
  [/€/g, 'EUR'],
  [/£/g, 'GBP'],
  [/\uFEFF/g, ''],
];
const inAscii = (text: string): string => SIGNS.reduce((left, [sign, ascii]) => left.replace(sign, ascii), text);

/** What was read, without its places. */
function read(text: string): string {
  return JSON.stringify(parse(text).value, (key, value) => {
    if (key === '$refText' || key === '$type') return value;
    if (key.startsWith('$') || key === 'ref' || key === 'error') return undefined;
    if (value && typeof value === 'object' && '$refText' in value) return value.$refText;
    return typeof value === 'string' ? inAscii(value) : value;
  });
}

/** What people's fingers and clipboards leave behind, and every sign of the language. */
const BITS = [
  ...'{}()=<>.,:;+-*/"#%^x×·±…≤≥−°µΩ²³€ \t\n',
  ...['==', '====', '..', '...', '+/-', '//', '// c', '\n\n\n', '\r\n', '\r', '\uFEFF', '\u00A0', '\u2028'],
  ...['3S2P', ' rail ', ' like ', ' and ', ' with ', ' in ', ' 5 V', ' 4 min 50 s', ' not ', 'M1.4', ' - ', 'a.b'],
  ...[' pack ', ' use ', ' note "x" ', ' rows ', ' 12 ', 'note ', 'kv', '2.5"', 'min', 'accept ', 'S', 'P'],
];

const edit = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  takes: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.integer({ min: 1, max: 12 })),
  puts: fc.oneof({ weight: 3, arbitrary: fc.constantFrom(...BITS) }, fc.constant('')),
  times: fc.oneof({ weight: 5, arbitrary: fc.constant(1) }, fc.integer({ min: 2, max: 4 })),
});

function mutated(text: string, edits: readonly { at: number; takes: number; puts: string; times: number }[]): string {
  return edits.reduce((left, { at, takes, puts, times }) => {
    const offset = Math.floor(at * left.length);
    return left.slice(0, offset) + puts.repeat(times) + left.slice(offset + takes);
  }, text);
}

/** A stretch of a file: whole files would drown the edit, and take long. */
const stretch = fc
  .record({ file: fc.constantFrom(...files), from: fc.double({ min: 0, max: 1, noNaN: true }) })
  .map(({ file, from }) => {
    const blocks = file.text.split(/(?<=^\}\n)/m);
    return blocks[Math.min(blocks.length - 1, Math.floor(from * blocks.length))] ?? '';
  });

const RUNS = Number(process.env.FETTLE_FORMAT_TEXTS ?? cases(200, 1500));

describe('any text', () => {
  it('laid out twice equals once, no sign is lost, and the same is read', { timeout: 600_000 }, () => {
    let laid = 0;
    fc.assert(
      fc.property(stretch, fc.array(edit, { minLength: 0, maxLength: 5 }), (text, edits) => {
        const before = mutated(text, edits);
        const once = laidOut(before);
        if (once === undefined) return;
        laid += 1;
        expect(inAscii(once)).toBe(inAscii(before));
        expect(read(once)).toBe(read(before));
        expect(laidOut(once)).toBe(once);
      }),
      { numRuns: RUNS, seed: Number(process.env.FETTLE_SEED ?? 2909) },
    );
    expect(laid).toBeGreaterThan(RUNS / 4);
  });
});
