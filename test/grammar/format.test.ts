import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { format } from '../../packages/language/src/grammar/layout.ts';
import { parseUnit } from '../../packages/language/src/units/parse.ts';
import { CURRENCY_SIGNS, UNITS } from '../../packages/language/src/units/table.ts';
import { cases, oneIn } from '../long.ts';
import { errorsOf } from './facts.ts';
import { createFettleLexer } from './lexer.ts';
import { samples } from './samples.ts';

const tokenize = createFettleLexer();

describe('a laid-out file', () => {
  it.each(samples)('$name stays as it is', ({ text }) => expect(format(text)).toBe(text));
});

describe('another name of a unit means the same before and after', () => {
  const names = [...UNITS.flatMap(({ aliases = [] }) => aliases), ...Object.keys(CURRENCY_SIGNS)];
  const understood = (text: string) =>
    tokenize(text).replace(/UNIT:(\S+)/g, (_, written) => parseUnit(written).unit?.name ?? `no unit ${written}`);
  const lineWith = (unit: string) => `rules R {\n  require a <= 3 ${unit}\n}\n`;

  it.each(names.flatMap((name) => [name, `${name}/h`, `h/${name}`, `h*${name}`]))('%s', (unit) => {
    const text = lineWith(unit);
    expect(understood(format(text))).toBe(understood(text));
  });
});

describe('laying out', () => {
  it.each([
    {
      name: 'one thing per line, two spaces per block, one space behind a colon',
      text: 'motor M1{kv :9000rpm/V+-3%   mass:3.9g\n      rated:  2 S\n}',
      out: 'motor M1 {\n  kv: 9000 rpm/V +- 3 %\n  mass: 3.9 g\n  rated: 2S\n}\n',
    },
    {
      name: 'a block on one line stays there',
      text: 'item Band{mass:1.4g   price : 2 EUR}\nesc E { rail v{output:5V} note "a"}',
      out: 'item Band { mass: 1.4 g  price: 2 EUR }\nesc E { rail v { output: 5 V }  note "a" }\n',
    },
    {
      name: 'a block on one line that is too wide is broken, the blocks in it only where they must',
      text: `esc E { channels: 4 rail video { output: 5 V } note "${'a'.repeat(70)}" }`,
      out: `esc E {\n  channels: 4\n  rail video { output: 5 V }\n  note "${'a'.repeat(70)}"\n}\n`,
    },
    { name: 'an empty block', text: 'motor M {\n\n}\nitem I {   }', out: 'motor M {\n}\nitem I {}\n' },
    {
      name: 'at most one blank line, none at the edge of a block or of the file',
      text: '\n\nuse "a"\n\n\n\nmotor M {\n\n\n  mass: 3 g\n\n\n  kv: 9 rpm/V\n\n}\n\n\n',
      out: 'use "a"\n\nmotor M {\n  mass: 3 g\n\n  kv: 9 rpm/V\n}\n',
    },
    {
      name: 'order and repeated lines stay',
      text: 'build B {\nmass: 3 g\nload: B\nload: A\nload: B\n}\n',
      out: 'build B {\n  mass: 3 g\n  load: B\n  load: A\n  load: B\n}\n',
    },
    {
      name: 'signs in ASCII',
      text: 'esc E {\n size: 62×17×14mm\n a: −5 °C … −3 °C\n r: 98 mΩ ± 3 %\n s: 4 cm²\n t: 5 µs\n p: 3 €\n}\n',
      out: 'esc E {\n  size: 62 x 17 x 14 mm\n  a: -5 degC .. -3 degC\n  r: 98 mohm +- 3 %\n  s: 4 cm^2\n  t: 5 us\n  p: 3 EUR\n}\n',
    },
    {
      name: 'figures',
      text: 'pack P {\n c: 3 S 2 P\n d: 75 C for 10s claimed\n b: 3xM1.4 on 6.6mm\n f: 4 min50s\n}\n',
      out: 'pack P {\n  c: 3S2P\n  d: 75C for 10 s claimed\n  b: 3 x M1.4 on 6.6 mm\n  f: 4 min 50 s\n}\n',
    },
    {
      name: 'expressions',
      text: 'rules R {\n require not(a>5)or max( x,y*2 )≤ - 3V and rail . Top . v=>(a-b)/8\n}\n',
      out: 'rules R {\n  require not (a > 5) or max(x, y * 2) <= -3 V and rail.Top.v >= (a - b) / 8\n}\n',
    },
    {
      name: 'a statement over several lines comes onto one',
      text: 'rules R {\n require a >= 3 g and\n   b >= 4 g\n   because "x"\n}\n',
      out: 'rules R {\n  require a >= 3 g and b >= 4 g because "x"\n}\n',
    },
    {
      name: 'tables stand flush right',
      text: 'bench B {\n rows duty in %,thrust in gf {\n 5,9.1\n 100 ,120.5\n 50,-\n }\n}\n',
      out: 'bench B {\n  rows duty in %, thrust in gf {\n      5,   9.1\n    100, 120.5\n     50,     -\n  }\n}\n',
    },
    {
      name: 'lines that nobody understands keep their signs, as often as they stand there',
      text: 'build B {\n  kv ==== 3 µs ± 4 ≤ 5\n}\n',
      out: 'build B {\n  kv ==== 3 µs ± 4 ≤ 5\n}\n',
    },
    {
      name: 'lines that nobody understands keep their words',
      text: 'build B {\n esc   Board16\n kv = 3 rpm / V\n}\nmoter M {\n kv:3 g\n}\n',
      out: 'build B {\n  esc Board16\n  kv = 3 rpm / V\n}\nmoter M {\n  kv: 3 g\n}\n',
    },
  ])('$name', ({ text, out }) => {
    expect(format(text)).toBe(out);
    expect(format(out)).toBe(out);
  });
});

describe('comments', () => {
  it('stay where they are: above a line, behind it, within it, at the edges of a block', () => {
    const text = [
      '// head',
      'fettle 1   // version',
      ' // above',
      'motor M1 // within a header',
      ' like M0 { // behind a brace',
      '      // above a line',
      '  kv: 9 // within a line',
      '    rpm/V    // behind a line',
      '',
      '   // at the end',
      '}   // behind a block',
      'item I { mass: 3 g }# wrong sign',
      '// foot',
    ].join('\n');
    const out = [
      '// head',
      'fettle 1   // version',
      '// above',
      'motor M1  // within a header',
      '  like M0 {  // behind a brace',
      '  // above a line',
      '  kv: 9  // within a line',
      '  rpm/V      // behind a line',
      '',
      '  // at the end',
      '}   // behind a block',
      'item I { mass: 3 g }  # wrong sign',
      '// foot',
      '',
    ].join('\n');
    expect(format(text)).toBe(out);
    expect(format(out)).toBe(out);
  });

  it('keep their column behind a line, and move together where a line reaches it', () => {
    const text = [
      'motor M {',
      '   stator:11x4mm     // its iron',
      '   kv:9600rpm/V      // unloaded',
      '   mass:3.40g+-0.02g // on the scale',
      '',
      '  rated: 2S          // alone',
      '  max:9A// near',
      '}',
    ].join('\n');
    const out = [
      'motor M {',
      '  stator: 11 x 4 mm       // its iron',
      '  kv: 9600 rpm/V          // unloaded',
      '  mass: 3.40 g +- 0.02 g  // on the scale',
      '',
      '  rated: 2S          // alone',
      '  max: 9 A  // near',
      '}',
      '',
    ].join('\n');
    expect(format(text)).toBe(out);
    expect(format(out)).toBe(out);
  });

  it('survive between any two tokens of any sample', () => {
    for (const { text } of samples) {
      for (const gap of oneIn(29, [...text.matchAll(/\s+/g)])) {
        const commented = `${text.slice(0, gap.index)} // a bat\n${text.slice(gap.index + gap[0].length)}`;
        const once = format(commented);
        expect(once.split('// a bat').length).toBe(commented.split('// a bat').length);
        expect(format(once), commented).toBe(once);
      }
    }
  });
});

describe('what is left alone', () => {
  it.each([
    ['a missing brace', 'motor M1 {\n   kv:9 rpm/V\n'],
    ['a missing bracket', 'rules R {\n require   (a > 3\n}\n'],
    ['a sign without a meaning', 'motor M1 {\n   kv:9 rpm/V;\n}\n'],
    ['a colon on the next line, which would become a property', 'build B {\n   airborne\n: 3 min\n}\n'],
    ['a string without its end', 'motor M1 {\n   note   "abc\n   kv:9 rpm/V\n}\n'],
    ['nothing', ''],
    ['blanks', '  \n\n'],
  ])('%s', (_, text) => expect(format(text)).toBe(text));

  it('line ends and the byte-order mark', () => {
    expect(format('\uFEFFmotor M {\r\n mass:3 g // a\r\n\r\n\r\n}\r\n')).toBe(
      '\uFEFFmotor M {\r\n  mass: 3 g  // a\r\n}\r\n',
    );
  });
});

describe('any layout of a sample', () => {
  // Blanks anywhere, and here and there a line break or a comment between the tokens of a line.
  const blanks = fc.oneof(
    { weight: 60, arbitrary: fc.constantFrom(' ', '   ', '\t') },
    { weight: 1, arbitrary: fc.constantFrom(' // c\n ', '\n', '\n\n\n', '\r\n') },
  );

  const RUNS = cases(40, 150);

  it('is laid out so that every token stays, and once is enough', () => {
    let read = 0;
    fc.assert(
      fc.property(fc.constantFrom(...samples), fc.infiniteStream(blanks), ({ text }, gaps) => {
        const strewn = text.replace(/"[^"\n]*"|\/\/.*|\n\s*|[ ]+/g, (match) =>
          /^["/\n]/.test(match) ? match : String(gaps.next().value),
        );
        const once = format(strewn);
        expect(format(once)).toBe(once);
        // A header broken in the wrong place does not parse, and is left alone.
        if (errorsOf(strewn).length > 0) expect(once).toBe(strewn);
        else {
          read += 1;
          expect(wordsOf(once)).toEqual(wordsOf(strewn));
        }
      }),
      { numRuns: RUNS, seed: 1303 },
    );
    expect(read).toBeGreaterThan(RUNS / 2);
  });

  function wordsOf(text: string): string[] {
    return tokenize(text).split(/\s+/);
  }
});
