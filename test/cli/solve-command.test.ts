/** fettle solve and fettle sensitivity: a question in, a number with its ± out. */
import { afterAll, describe, expect, it } from 'vitest';
import { cases } from '../long.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const builds = 'examples/builds';
/** On how many of the three packs of Spire: each is solved anew. */
const PACKS = cases(1, 3);
const on = (pack: string) => (PACKS === 1 ? ['--with', pack] : []);

describe('fettle solve', () => {
  const solved = (...args: string[]) => shop.fettle('solve', 'Spire', ...args, '--in', builds);

  it('prints the answer on each pack, what stops it, and what else fails there', () => {
    const { code, out, err } = solved('--most', 'item mass', '--keep', 'thrust_to_weight >= 3');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^Mast1050_4S +152 ± 21 g +thrust_to_weight >= 3$/m);
    expect(out).toMatch(/^at that value, on Mast1050_4S: `hover_time >= 6 min` fails$/m);
  });

  it('agrees with try: on the answer the requirement is met to the last digit', () => {
    const { out } = solved(
      '--most',
      'item mass',
      '--keep',
      'thrust_to_weight >= 3',
      '--with',
      'Mast720_4S',
      '--format',
      'json',
    );
    const [{ value }] = JSON.parse(out).options;
    const tried = shop.fettle('try', 'Spire', `item: ${value} g`, '--in', builds, '--format', 'json').out;
    const row = JSON.parse(tried).packs[0].results.find(({ name }: { name: string }) => name === 'thrust_to_weight');
    expect(row.after.value).toBeCloseTo(3, 4);
  });

  it('keeps what the build itself requires where nothing is stated', () => {
    const { code, out } = solved('--most', 'item mass', ...on('Mast720_4S'));
    expect(code).toBe(0);
    expect(out).toMatch(/^most mass on board of Spire that keeps (?=.*thrust_to_weight).*hover_time >= 6 min/);
    expect(out).toMatch(/^Mast720_4S +\d+ .* g +hover_time >= 6 min$/m);
    const nothing = shop.fettle('solve', 'Fledgling', '--most', 'item mass', '--in', builds);
    expect(nothing).toMatchObject({ code: 2, out: '' });
    expect(nothing.err).toContain('Fledgling requires nothing: state what has to hold, --keep "thrust_to_weight >= 2"');
  });

  it('reports a file that it could not read by its exit code too, as choose and try do', () => {
    shop.write('unread/binary.fettle', new Uint8Array([0, 1, 2, 3]));
    const unread = 'fettle: unread/binary.fettle: this is not a text file; if it is one, save it as UTF-8\n';
    const among = ['--in', builds, 'unread'];
    const on = ['--with', 'Mast720_4S'];
    const requires = ['--most', 'item mass', '--keep', 'thrust_to_weight >= 3'];
    expect(shop.fettle('solve', 'Spire', ...requires, ...on, ...among)).toMatchObject({ code: 2, err: unread });
    const never = ['--vary', 'Mast720_4S', '--prefer', 'hover_time', '--require', 'thrust_to_weight >= 90'];
    expect(shop.fettle('choose', 'Spire', ...never, ...among)).toMatchObject({ code: 2, err: unread });
    expect(shop.fettle('try', 'Spire', 'item: 30 g', ...on, ...among)).toMatchObject({ code: 2, err: unread });
  }, 120_000);

  it('names several packs as several, and states no ± beyond what a figure can be', () => {
    const { out } = shop.fettle(
      'solve',
      'Belfry',
      '--most',
      'duty',
      '--keep',
      'full_motor_current <= 8 A',
      '--in',
      builds,
    );
    expect(out).toMatch(/^2 x Mast1350_4S in parallel +\d+ \(\d+ to 100\) % +100 % /m);
  });

  it('counts what is counted: blades in whole numbers', () => {
    const { code, out } = solved('--least', 'propeller blades', '--keep', 'hover_time >= 8 min', '--format', 'json');
    expect(code).toBe(0);
    const values = JSON.parse(out).options.map(({ value }: { value: number }) => value);
    expect(values.length).toBe(3);
    for (const value of values) expect(Number.isInteger(value)).toBe(true);
    expect(Math.max(...values)).toBeGreaterThan(1);
  });

  it('exits with 1 where nothing helps, and reports what is nearest', () => {
    const { code, out } = solved('--least', 'motor kv', '--keep', 'hover_time >= 30 min', ...on('Mast720_4S'));
    expect(code).toBe(1);
    expect(out).toMatch(/Mast720_4S +none +3150 rpm\/V +no value meets all requirements; nearest: hover time /);
  });

  it('reads what is to be kept also where the word of the line is written', () => {
    const kept = (text: string) =>
      solved('--most', 'item mass', '--keep', text, '--with', 'Mast720_4S').out.split('\n').slice(1).join('\n');
    const plain = kept('thrust_to_weight >= 3');
    expect(plain).toContain('Mast720_4S');
    expect(kept('require thrust_to_weight >= 3')).toBe(plain);
  });
});

describe('fettle sensitivity', () => {
  it('steps a rate as packs are labelled', () => {
    const pack = 'pack Labelled { cells: 4S  capacity: 900 mAh  discharge: 60C  mass: 100 g }';
    shop.write(
      'labelled.fettle',
      `use "examples/builds"\nuse "examples/parts"\n${pack}\nbuild Rated like Spire { pack: Labelled }\n`,
    );
    const { code, out } = shop.fettle(
      'sensitivity',
      'burst_cell_voltage',
      'Rated',
      'labelled.fettle',
      '--with',
      'Labelled',
    );
    expect(code).toBe(0);
    expect(out).toMatch(/^ {2}\d+C more +discharge of Labelled/m);
  });

  it('has a line per figure, the strongest first', () => {
    const { code, out } = shop.fettle('sensitivity', 'hover_time', 'Spire', builds, '--with', 'Mast1050_4S');
    expect(code).toBe(0);
    expect(out).toMatch(/^ {2}10 g more +mass on board +-19 ± 2 s$/m);
    expect(out).toMatch(/^ {2}10 K colder +air temperature +\+8 ± 1 s$/m);
    const json = [...on('Mast1050_4S'), '--format', 'json'];
    const { options } = JSON.parse(shop.fettle('sensitivity', 'hover_time', 'Spire', builds, ...json).out);
    expect(options).toHaveLength(PACKS);
    // Mast1050_4S is the second of three.
    expect(options[cases(0, 1)].knobs[0]).toMatchObject({ name: 'propeller diameter', step: { value: 5, unit: 'mm' } });
  });
});
