/** Random craft whose names begin with vowels, and laws of whatever is printed of them for people: articles, names, digits. */
import fc from 'fast-check';
import { expect, it } from 'vitest';

const craft = fc.record({
  diameter: fc.constantFrom(8, 11, 16, 20, 23),
  height: fc.integer({ min: 2, max: 8 }),
  cells: fc.integer({ min: 1, max: 8 }),
  more: fc.integer({ min: 0, max: 2 }),
  fast: fc.double({ min: 0.6, max: 1.6, noNaN: true }),
  blades: fc.integer({ min: 2, max: 4 }),
  disc: fc.double({ min: 0.7, max: 1.5, noNaN: true }),
  capacity: fc.integer({ min: 3, max: 40 }),
  amps: fc.integer({ min: 4, max: 60 }),
  payload: fc.integer({ min: 1, max: 90 }),
  origin: fc.constantFrom('', ' measured', ' claimed', ' +- 20 %'),
  duty: fc.constantFrom('', ' duty 70 %', ' duty 92 %'),
  rotors: fc.constantFrom(3, 4, 6, 8),
  step: fc.constantFrom(5, 9, 12),
  draw: fc.integer({ min: 1, max: 30 }),
  requires: fc.constantFrom(
    'hover_time >= 8 min',
    'all_up_weight <= 400 g',
    'thrust_to_weight >= 3',
    'rail.Ample.voltage >= 8.8 V',
    'hover_duty <= 45 %',
  ),
});

function textOf(of: typeof craft extends fc.Arbitrary<infer T> ? T : never, index: number): string {
  const volume = of.diameter ** 2 * of.height;
  const kv = Math.round((of.fast * 2.2e5) / Math.sqrt(volume) / of.cells / 10) * 10;
  const propeller = Math.round(of.disc * 18 * Math.cbrt(volume) ** 0.75);
  const mass = Math.max(1, volume / 110);
  return `fettle 1
motor Eider { stator: ${of.diameter} x ${of.height} mm  kv: ${kv} rpm/V${of.origin}  rated: ${of.cells}S  continuous: ${Math.max(1, of.amps / 3).toFixed(1)} A  burst: ${of.amps} A for 8 s  mass: ${mass.toFixed(2)} g }
propeller Oriole { diameter: ${propeller} mm  pitch: ${Math.round(propeller * 0.6)} mm  blades: ${of.blades}  mass: ${(propeller / 40).toFixed(2)} g${of.origin} }
airframe Auk { rotors: ${of.rotors}  mass: ${Math.round(mass * of.rotors)} g }
esc Owl { channels: ${of.rotors}  cells: 1S .. 6S  continuous: ${of.amps} A  mass: ${Math.round(mass * 0.8) + 2} g
  rail logic { type: buck  output: 5 V  continuous: 1 A } }
regulator Ample { type: buck  supply: 6 V .. 28 V  output: ${of.step} V  continuous: 1.5 A  mass: 3 g }
load Eye { draw: ${of.draw} W  peak: ${of.draw + 3} W  supply: ${of.step - 1} V .. 26 V  mass: ${of.payload} g }
load Ear { draw: 80 mA  supply: 4.5 V .. 5.5 V  mass: 1 g }
pack Egret { chemistry: lipo  cells: ${of.cells}S  capacity: ${of.capacity * 100} mAh  discharge: 60C  mass: ${Math.round(of.capacity * of.cells * 2.9)} g }
pack Ibis like Egret { cells: ${Math.min(8, of.cells + of.more)}S  mass: ${Math.round(of.capacity * (of.cells + of.more) * 3.1)} g }
build Osprey${index} "Osprey ${index}" {
  airframe: Auk
  motors: ${of.rotors} x Eider with Oriole
  esc: Owl
  regulator: Ample from pack
  load: Eye from Ample
  load: Ear from Owl.logic
  item: ${of.payload} g "tape"
  pack: Egret
  pack: Ibis${of.duty}
  require ${of.requires}
}
`;
}

/** Files of one folder, each with a build; names begin with vowels, so that an article before them must follow. */
export const craftTexts = (count: number, seed: number): string[] =>
  fc
    .sample(craft, { numRuns: count, seed })
    .map((of, index) =>
      textOf(of, index).replaceAll(/\b(Eider|Oriole|Auk|Owl|Ample|Eye|Ear|Egret|Ibis)\b/g, `$1${index}`),
    );

export interface Printed {
  readonly name: string;
  readonly text: string;
}

/** What is quoted of a file is not ours: excerpts, code, requirements as they are written. */
export const prose = (text: string): string =>
  text
    .replaceAll(/^ *\d+ \|.*$/gm, '')
    .replaceAll(/`[^`\n]*`/g, '``')
    .replaceAll(/\b(?:require|keep) [^\n]*/g, '');

const around = (text: string, at: number): string => text.slice(Math.max(0, at - 50), at + 60).replaceAll('\n', ' ¶ ');

export function broken(all: readonly Printed[], law: RegExp, holds: (found: RegExpExecArray) => boolean) {
  return all
    .flatMap(({ name, text }) =>
      [...text.matchAll(new RegExp(law, `${law.flags.replace('g', '')}g`))]
        .filter((found) => !holds(found as RegExpExecArray))
        .map((found) => `${name}: ${around(text, found.index)}`),
    )
    .slice(0, 12);
}

const decimals = (number: string): number => number.split('.')[1]?.length ?? 0;
const significant = (number: string): number => number.replace('.', '').replace(/^0+/, '').replace(/0+$/, '').length;

/** @param words as they are printed, without what is quoted of a file */
export function keepsLaws(words: readonly Printed[]): void {
  it('has “an” before vowels and “a” before consonants', () => {
    expect(
      broken(words, /\ba (8|11|18|[aeiouAEIOU]\w*)/, ([, next = '']) =>
        /^(?:on(?:e|ce)|u[sn]i?|us\w+|uni\w*|A)\b/.test(next),
      ),
    ).toEqual([]);
    expect(
      broken(words, /\ban ([b-df-hj-np-tv-z]\w*|[B-DGJ-KP-QT-Z][a-z]\w*)/, ([, next = '']) =>
        /^(?:ho(?:ur|nest))/.test(next),
      ),
    ).toEqual([]);
  });

  it('has no name that only machines use', () => {
    expect(
      broken(words, /\b(?:motor|esc|pack|rail(?:\.\w+)*)\.(?:burst|continuous|discharge|power)\b/, () => false),
    ).toEqual([]);
    expect(broken(words, /\b(?:undefined|NaN|null|Infinity|\[object)\b/, () => false)).toEqual([]);
  });

  it('has no figure that is finer than its ±, and no ± of more than two digits', () => {
    const law = /(?<![\d.])-?(\d+(?:\.\d+)?) ± (\d+(?:\.\d+)?)/;
    // In a comparison all figures of a row have the digits of its finest difference, so that each sum is right.
    const alone = words.filter(({ name }) => name !== 'comparison');
    expect(broken(alone, law, ([, value = '', plusMinus = '']) => decimals(value) === decimals(plusMinus))).toEqual([]);
    expect(broken(words, law, ([, , plusMinus = '']) => significant(plusMinus) <= 2)).toEqual([]);
  });
}
