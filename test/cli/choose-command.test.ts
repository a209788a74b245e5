/** fettle choose: a shortlist in, a table out; a row written into the build on request. */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { writeUnlessChanged } from '../../packages/language/src/cli/write-unless-changed.ts';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const SPIRE = 'examples/builds/spire.fettle';
const read = (path: string) => readFileSync(join(shop.folder, path), 'utf8');
const choose = (...args: string[]) => shop.fettle('choose', ...args, '--in', 'examples/builds');
let printed = '';
/** As data, of the files as they come. */
const towerPack = () => {
  printed ||= choose('TowerPack', '--format', 'json').out;
  return JSON.parse(printed);
};

describe('fettle choose', () => {
  it('counts why candidates are rejected, and shows those that pass next to today', () => {
    const { code, out, err } = choose('TowerPack');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(
      /^TowerPack {2}a pack for the tower, two bays and back\n\d+ of 28 are rejected: \d+ thrust_to_weight >= 3, /,
    );
    expect(out).toMatch(/^2 +Mast1050_4S · duty 100 % .* \+\d+ ± \d+ s \* +> 99 % /m);
    expect(out).toMatch(/^3 today +Mast720_4S · duty 100 % .* same +50 %/m);
    const [, rejected = Number.NaN] = /^(\d+) of 28 are rejected/m.exec(out) ?? [];
    const passing = 28 - Number(rejected);
    expect(out).toContain(`\n${passing - 3} of the ${passing} that pass are left out: each is no better in anything`);
  });

  it('does not recommend what warns without the warning', () => {
    const motors = ['--vary', 'motor in "../parts"', '--prefer', 'hover_time', 'thrust_to_weight'];
    expect(choose('Spire', ...motors).out).toContain(
      'M1305_4350 is better than Spire is today in all that is preferred, beyond the ±, but it warns: motor-overvoltage.',
    );
  });

  it('prints the same as data and for a pull request', () => {
    const data = towerPack();
    expect(data).toMatchObject({ version: 1, shortlist: 'TowerPack', build: 'Spire', candidates: 28 });
    const rejected = data.rejected.reduce((sum: number, { count }: { count: number }) => sum + count, 0);
    expect(rejected + data.passing).toBe(28);
    expect(data.rows[0].values[0]).toMatchObject({ name: 'hover_time', unit: 'min', difference: { isBeyond: true } });
    expect(choose('TowerPack', '--format', 'markdown').out).toMatch(/^\| 2 \| Mast1050\\_4S · duty 100 % \|/m);
  });

  it('draws the front of two preferences', () => {
    const { code, out } = choose('TowerPack', '--format', 'svg');
    expect(code).toBe(0);
    expect(out).toMatch(
      /^<svg [^>]*role="img".*<title[^>]*>TowerPack: thrust-to-weight against hover time<.*<\/svg>\n$/s,
    );
    const one = choose('Spire', '--vary', 'Mast720_4S', '--prefer', 'hover_time', '--format', 'svg');
    expect(one).toMatchObject({ code: 2, out: '' });
    expect(one.err).toContain('a picture takes two preferences');
  });

  it('writes one page with the picture, the reasons and every row that the table has', () => {
    const { code, out } = choose('TowerPack', '--format', 'html');
    expect(code).toBe(0);
    expect(out).toMatch(/^<!doctype html>.*<\/html>\n$/s);
    expect(out).not.toMatch(/<script|https?:\/\/(?!www\.w3\.org)/);
    const data = towerPack();
    expect(out).toContain(`${data.passing} of 28 candidates have no error in any check or requirement`);
    for (const { reason, count } of data.rejected)
      expect(out).toContain(
        `<code>${reason.replaceAll('>', '&gt;').replaceAll('<', '&lt;')}</code></th><td class="number">${count}</td>`,
      );
    const rows = [...out.matchAll(/<tr id="row-(\d+)".*?<\/tr>/gs)].map(([row]) => row.replaceAll(/<[^>]+>/g, ' '));
    expect(rows).toHaveLength(data.rows.length);
    for (const [i, { label, isToday }] of data.rows.entries()) {
      expect(rows[i]).toContain(label);
      expect(/ today | same as today /.test(rows[i] ?? '')).toBe(isToday);
    }
    // One preference has no front, and nothing that passes has no table.
    const one = choose('Spire', '--vary', 'Mast720_4S', 'Mast1050_4S', '--prefer', 'hover_time', '--format', 'html');
    expect(one.out).not.toContain('<svg');
    expect(one.out).toContain('id="row-2"');
    const heavy = choose(
      ...['Spire', '--vary', 'Mast720_4S', '--prefer', 'hover_time', '--require', 'all_up_weight <= 20 g'],
      ...['--format', 'html'],
    );
    expect(heavy.code).toBe(1);
    expect(heavy.out).toContain('No candidate passes: there is nothing to choose.');
  });

  it('shows what a file states as text on the page', () => {
    const hostile = '<img src=x onerror=alert(1)><script>alert(2)</script>';
    shop.write(
      'examples/builds/hostile.fettle',
      `use "../parts"\nshortlist Hostile "${hostile}" {\n for: Spire\n vary: Mast720_4S\n vary: Mast1050_4S\n prefer: hover_time\n prefer: thrust_to_weight\n}\n`,
    );
    const { out } = choose('Hostile', '--format', 'html');
    expect(out).toContain('&lt;img src=x onerror=alert(1)&gt;&lt;script&gt;');
    expect(out).not.toMatch(/<img|<script/);
    rmSync(join(shop.folder, 'examples/builds/hostile.fettle'));
  });

  it('takes a build with options in place of a block', () => {
    const options = [
      '--vary',
      'Mast720_4S',
      'Mast1050_4S',
      '--require',
      'hover_time >= 6 min',
      '--prefer',
      'all_up_weight',
    ];
    const { code, out } = choose('Spire', ...options);
    expect(code).toBe(0);
    expect(out).toMatch(/^Spire\n2 candidates, none of them is rejected\n/);
    const strict = choose('Spire', ...options.with(4, 'hover_time >= 20 min'));
    expect(strict.code).toBe(1);
    expect(strict.out).toContain('2 of 2 are rejected: 2 hover_time >= 20 min');
    expect(strict.out).toContain('No candidate passes');
  });

  it('prefers and requires what a flight of the build leaves', () => {
    const flown = (...more: string[]) =>
      choose(
        'Spire',
        '--vary',
        'Mast720_4S',
        '--vary',
        'Mast1350_4S',
        ...more,
        '--prefer',
        'flight.FarBay.charge_left',
      );
    const { code, out } = flown();
    expect(code).toBe(0);
    expect(out).toContain('charge left, FarBay (more)');
    expect(out).toMatch(/^1 +Mast1350_4S .*\n2 today +Mast720_4S/m);
    expect(flown('--require', 'flight.FarBay.charge_left >= 70 %').out).toContain('1 of 2 are rejected');
    expect(choose('Spire', '--vary', 'Mast720_4S', '--prefer', 'flight.Far.time').err).toContain('makes no flight Far');
  });

  it('writes a row into the build on request, and nothing else', () => {
    const before = read(SPIRE);
    const { code, err } = choose('TowerPack', '--apply', '2');
    expect(code).toBe(0);
    expect(err).toBe(`fettle: ${SPIRE}: Spire now has Mast1050_4S · duty 100 %\n`);
    const lines = before.split('\n');
    const [first, second] = [lines.indexOf('  pack: Mast720_4S'), lines.indexOf('  pack: Mast1050_4S')];
    [lines[first], lines[second]] = [lines[second] ?? '', lines[first] ?? ''];
    expect(read(SPIRE)).toBe(lines.join('\n'));
    const again = choose('TowerPack', '--apply', '2');
    expect(again.out).toMatch(/^2 today +Mast1050_4S · duty 100 %/m);
    expect(again.err).toContain('already: nothing is written');
    writeFileSync(join(shop.folder, SPIRE), before);
  });

  it('reports what is wrong with the requested shortlist, and with no other one of its file', () => {
    const one = (name: string, lines: string) => `shortlist ${name} {\n${lines}\n}\n`;
    shop.write(
      'examples/builds/several.fettle',
      `use "../parts"\n${[
        one('Empty', 'for: Spire\n vary: pack in "../nothing"\n prefer: hover_time'),
        one('Grams', 'for: Spire\n vary: duty 60 g .. 100 g\n prefer: hover_time'),
        one('NoResult', 'for: Spire\n vary: Mast720_4S\n prefer: hover_tyme'),
        one('NoBuild', 'for: Spier\n vary: Mast720_4S\n prefer: hover_time'),
        one('Sound', 'for: Spire\n vary: Mast720_4S\n prefer: hover_time'),
      ].join('')}`,
    );
    const reported = (name: string) => choose(name).err;
    expect(reported('Empty')).toMatch(/several\.fettle:4: there is no pack in "\.\.\/nothing"/);
    expect(reported('Grams')).toMatch(/several\.fettle:9: duty is given in %/);
    expect(reported('NoResult')).toMatch(/several\.fettle:15: no such .*hover_tyme; did you mean hover_time\?/);
    expect(reported('NoBuild')).toMatch(/several\.fettle:18: .*Spier.*did you mean Spire\?/);
    for (const name of ['Empty', 'Grams', 'NoResult', 'NoBuild'])
      expect(reported(name).trim().split('\n')).toHaveLength(1);
    expect(choose('Sound')).toMatchObject({ code: 0, err: '' });
    shop.write('examples/builds/several.fettle', 'use "../parts"\n');
  });

  it('refuses a build that cannot be read in full, with the line that is wrong', () => {
    const before = read(SPIRE);
    shop.write(SPIRE, before.replace('pack: Mast720_4S', 'pack: Mast720'));
    const { code, out, err } = choose('TowerPack', '--apply', '1');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/Spire cannot be read in full.*line \d+: no such pack: Mast720; did you mean/);
    writeFileSync(join(shop.folder, SPIRE), before);
  });

  it('writes into no file that was changed meanwhile', () => {
    const file = shop.write('changed.fettle', '\uFEFFitem A { mass: 3 g }\n');
    expect(() => writeUnlessChanged(file, 'changed.fettle', 'item A { mass: 2 g }\n', 'item B {}\n')).toThrow(
      /changed\.fettle was changed meanwhile: nothing is written/,
    );
    expect(read('changed.fettle')).toBe('\uFEFFitem A { mass: 3 g }\n');
    writeUnlessChanged(file, 'changed.fettle', 'item A { mass: 3 g }\n', 'item A { mass: 4 g }\n');
    expect(read('changed.fettle')).toBe('\uFEFFitem A { mass: 4 g }\n');
  });

  it.each([
    [
      ['Spire', '--vary', 'Mast720_4S', '--prefer', 'hover_time', '--require', 'hover_time >= 9 h', '--apply', '1'],
      /there is no row 1: no candidate passes; nothing is written/,
    ],
    [['TowerPack', '--apply', '9'], /there is no row 9: there are 1 to 3; nothing is written/],
  ])('refuses %j', (args, message) => {
    const before = read(SPIRE);
    const { code, err } = choose(...args);
    expect(code).toBe(2);
    expect(err).toMatch(message);
    expect(err).not.toContain('ʹ');
    expect(read(SPIRE)).toBe(before);
  });
});

it('reports a file that cannot be read before it reports that a name is not there', () => {
  shop.write('sixteen/sixteen.fettle', Buffer.from('\uFEFFshortlist Sixteen { }\n', 'utf16le'));
  expect(shop.fettle('choose', 'Sixteen', '--in', 'sixteen')).toMatchObject({
    code: 2,
    out: '',
    err: 'fettle: sixteen/sixteen.fettle: this is not a text file; if it is one, save it as UTF-8\nfettle: there is no shortlist or build Sixteen\n',
  });
});

describe('fettle list --parts-list', () => {
  it('adds up parts, buys packs once, and reports what has no price', () => {
    const { code, out } = shop.fettle('list', '--parts-list', 'Spire', 'Belfry', '--in', 'examples/builds');
    expect(code).toBe(0);
    expect(out).toMatch(/^12 x +M1606_3150 +motor +16\.40 EUR +196\.80 EUR$/m);
    expect(out).toMatch(/^2 x +Mast1350_4S +pack +23\.40 EUR +46\.80 EUR$/m);
    expect(out).toMatch(/^together \d+\.\d\d EUR; 7 parts without a price$/m);
    const data = JSON.parse(
      shop.fettle('list', '--parts-list', 'Spire', '--in', 'examples/builds', '--format', 'json').out,
    );
    expect(data.totals[0]).toMatchObject({ currency: 'EUR' });
  });
});

describe('a part that should exist', () => {
  it('keeps what was measured of a part where only its weight is varied, and reports it where that does not count', () => {
    const varied = (line: string) => {
      const { out } = shop.fettle(
        'choose',
        'Spire',
        '--vary',
        line,
        '--prefer',
        'hover_time',
        '--format',
        'json',
        '--in',
        'examples/builds',
      );
      return JSON.parse(out);
    };
    const difference = (row: { values: { difference: { value: number; plusMinus: number } }[] }) =>
      row.values[0]?.difference;
    const weights = varied('mass of propeller in 1.2 g .. 2 g step 0.4 g');
    // Heavier is shorter, and each is known apart from today's although the minutes are known to a tenth.
    const [lighter, same, heavier] = weights.rows.map(difference);
    expect(lighter.value).toBeGreaterThan(2 * lighter.plusMinus);
    expect(Math.abs(same.value)).toBeLessThan(same.plusMinus);
    expect(heavier.value).toBeLessThan(-2 * heavier.plusMinus);
    expect(weights.notes).toEqual([]);
    const pitches = varied('pitch in 2.2 in .. 2.6 in step 0.2 in');
    for (const row of pitches.rows) expect(difference(row)?.plusMinus).toBeGreaterThan(10 * lighter.plusMinus);
    expect(pitches.notes).toEqual([
      'What was measured of P3024x3 does not count for a propeller of another pitch: its ± is that of an estimate.',
    ]);
  });

  it('whose price is not known is no answer to a requirement on the price: the reason is counted', () => {
    const asked = (limit: string) => {
      const args = ['--vary', 'Mast720_4S', 'Mast1050_4S', '--prefer', 'hover_time', '--require', limit];
      return shop.fettle('choose', 'Spire', ...args, '--in', 'examples/builds');
    };
    const { code, out } = asked('price <= 300 EUR');
    expect(code).toBe(1);
    expect(out).toMatch(/^2 of 2 are rejected: 2 price <= 300 EUR cannot be judged: no price is stated of /m);
    expect(asked('all_up_weight <= 400 g').code).toBe(0);
  });
});
