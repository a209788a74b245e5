/** `fettle observe`: a log compared with the prediction, and written into the build on request. */
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { cases } from '../long.ts';
import { where } from '../where.ts';
import { command, root, Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const LOG = readFileSync(join(root, 'examples/logs/2026-05-21.csv'), 'utf8');
const IN = ['--in', 'examples/builds'];
const spire = () => readFileSync(join(shop.folder, 'examples/builds/spire.fettle'), 'utf8');
shop.write('.git/HEAD', '');
// The log was flown on the second of its packs. Every run judges the build on each: an ordinary one does without the last.
const PACKS = ['Mast720_4S', 'Mast1050_4S', 'Mast1350_4S'].slice(0, cases(2, 3));
if (!PACKS.includes('Mast1350_4S'))
  shop.write('examples/builds/spire.fettle', spire().replace('  pack: Mast1350_4S\n', ''));
shop.write('examples/builds/2026-05-21.csv', LOG);
const observe = (...args: string[]) => shop.fettle('observe', 'examples/builds/2026-05-21.csv', ...args, ...IN);

describe('fettle observe', () => {
  it('shows what was found, compared with what was predicted, and writes nothing', () => {
    const before = spire();
    const { code, out, err } = observe('Spire', '--with', 'Mast1050_4S');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^2026-05-21\.csv: Spire on Mast1050_4S, “2026-05-21”$/m);
    expect(out).toContain('4 min 11 s in the air, 436 mAh');
    expect(out).toMatch(/^ {2}voltage over the logged current +15\.9 V +15\.8 ± 0\.\d V$/m);
    expect(out).toMatch(/^ {2}hover time +8\.\d ± 0\.\d min +8\.\d ± 0\.\d min$/m);
    expect(out).toContain('--write puts this into examples/builds/spire.fettle:');
    expect(out).toContain('log time, voltage "volts", current "amps", output "motors (%)" from "2026-05-21.csv"');
    expect(spire()).toBe(before);
  });

  it('as data', () => {
    const { out } = observe('Spire', '--with', 'Mast1050_4S', '--format', 'json');
    const data = JSON.parse(out);
    expect(data).toMatchObject({ version: 1, build: 'Spire', pack: 'Mast1050_4S', log: '2026-05-21.csv' });
    expect(data.found.airborne).toBe(250.5);
    expect(data.found.bursts).toHaveLength(2);
    const power = data.compared.find(({ reading }: { reading: string }) => reading === 'flown_power');
    expect(power.measured).toBeCloseTo(99.2, 0);
    expect(power.predicted.plusMinus).toBeGreaterThan(0);
    expect(power.predicted.low).toBeLessThan(power.predicted.value);
    expect(power.predicted.high).toBeGreaterThan(power.predicted.value);
    expect(data.written).toBeUndefined();
  });

  it('reports damaged rows, a gap of the recording as a gap, and how often it wrote', () => {
    const rows = LOG.split('\n');
    const broken = [...rows.slice(0, 150), 'lost', ...rows.slice(151, 200), '24.1', ...rows.slice(221)].join('\n');
    shop.write('examples/builds/broken.csv', broken);
    const { code, out } = shop.fettle('observe', 'examples/builds/broken.csv', 'Spire', '--with', 'Mast1050_4S', ...IN);
    expect(code).toBe(0);
    expect(out).toContain('2 damaged rows left out, the first is line 151: 1 cell instead of 4.');
    expect(out).toMatch(/1 gap, the longest 1[01](\.\d)? s\./);
    expect(out).toMatch(/ in the air, \d+ mAh, .* on average; 2 readings per second\./);
  });

  it('prompts for what it cannot know', () => {
    expect(observe('Spire')).toMatchObject({
      code: 2,
      err: `fettle: on which pack of Spire was it flown? ${PACKS.map((pack) => `--with ${pack}`).join(' or ')}\n`,
    });
    expect(observe('Spier', '--with', 'Mast1050_4S').err).toBe(
      'fettle: there is no build Spier; did you mean Spire?\n',
    );
    expect(shop.fettle('observe', 'none.csv', 'Spire', ...IN).err).toBe('fettle: there is no file none.csv\n');
    shop.write('examples/builds/b.csv', 't;u;i\n0;16;1\n');
    const bare = shop.fettle('observe', 'examples/builds/b.csv', 'Spire', '--with', 'Mast1050_4S', ...IN);
    expect(bare.code).toBe(2);
    expect(bare.err).toContain('“t” states no unit for time');
    expect(bare.err).toContain(`State them: --columns 'time in s "t", voltage in V "u", current in A "i"'`);
    shop.write('examples/builds/c.csv', 'time (s),volts\n0,16\n1,16\n2,16\n3,16\n');
    expect(shop.fettle('observe', 'examples/builds/c.csv', 'Spire', '--with', 'Mast1050_4S', ...IN)).toMatchObject({
      code: 2,
      out: '',
      err: 'fettle: examples/builds/c.csv: no take-off is found in it: neither current, output nor voltage changes as in a flight\n',
    });
  });

  // `script` gives it a terminal.
  where(spawnSync('script', ['--version']).status === 0, 'the command script of util-linux')(
    'writes nothing where the file was changed while it waited for the answer',
    async () => {
      const before = spire();
      const asked = [`"${process.execPath}" "${command}" observe examples/builds/2026-05-21.csv Spire`, ...IN];
      const flown = ['--with Mast1050_4S --title meanwhile --write'];
      const running = spawn('script', ['-qec', [...asked, ...flown].join(' '), '/dev/null'], { cwd: shop.folder });
      let out = '';
      for await (const piece of running.stdout) {
        const wasAsked = out.includes('(y/n)');
        out += piece;
        if (wasAsked || !out.includes('(y/n)')) continue;
        shop.write('examples/builds/spire.fettle', `// typed meanwhile\n${before}`);
        running.stdin.write('y\n');
      }
      expect(out).toContain('examples/builds/spire.fettle was changed meanwhile: nothing is written');
      expect(spire()).toBe(`// typed meanwhile\n${before}`);
      shop.write('examples/builds/spire.fettle', before);
    },
    60_000,
  );

  it('writes the block where nobody sits at a terminal, once', () => {
    const { code, out } = observe('Spire', '--with', 'Mast1050_4S', '--title', 'evening', '--write');
    expect(code).toBe(0);
    expect(out).toContain('written into examples/builds/spire.fettle:');
    expect(spire()).toContain(
      '\n  observed "evening" with Mast1050_4S {\n    on: 2026-05-21\n    log time, voltage "volts", current "amps", output "motors (%)" from "2026-05-21.csv"\n  }\n}\n',
    );
    const checked = cases(1, 7) === 1 ? 'examples/builds/spire.fettle' : 'examples/builds';
    expect(shop.fettle('check', checked).code).toBe(0);
    expect(shop.fettle('format', '--check', 'examples/builds/spire.fettle').code).toBe(0);
    const written = spire();
    expect(observe('Spire', '--with', 'Mast1050_4S', '--write').out).toContain('spire.fettle has this log already.');
    expect(spire()).toBe(written);
  });

  it('writes a title as a text whatever is in it, and reads the headings of a log in UTF-16', () => {
    shop.write('examples/builds/sixteen.csv', Buffer.from(`\uFEFF${LOG}`, 'utf16le'));
    const title = 'a" with P { } }\nbuild X { // \\';
    const args = ['Spire', '--with', 'Mast1050_4S', '--title', title, '--write'];
    expect(shop.fettle('observe', 'examples/builds/sixteen.csv', ...args, ...IN)).toMatchObject({ code: 0, err: '' });
    expect(spire()).toContain(
      '  observed "a\\" with P { } } build X { // \\\\" with Mast1050_4S {\n    log time, voltage',
    );
    expect(shop.fettle('check', 'examples/builds/spire.fettle').code).toBe(0);
    const again = shop.fettle('observe', 'examples/builds/sixteen.csv', ...args, ...IN);
    expect(again.out).toContain('spire.fettle has this log already.');
  });

  it('lists no more headings than anybody reads', () => {
    const headings = Array.from({ length: 5000 }, (_, i) => `c${i}`);
    shop.write('examples/builds/wide.csv', `${headings.join(',')}\n${headings.map(() => '1').join(',')}\n`);
    const wide = shop.fettle('observe', 'examples/builds/wide.csv', 'Spire', '--with', 'Mast1050_4S', ...IN);
    expect(wide.code).toBe(2);
    expect(wide.err).toContain('“c39”, 4960 more. State them: --columns');
    expect(wide.err).not.toContain('“c40”');
  });
});

describe('a log that cannot be', () => {
  const changed = (change: (cells: string[]) => string[], headings = (line: string) => line) =>
    LOG.split('\n')
      .map((line, i) => (i === 0 ? headings(line) : line === '' ? line : change(line.split(',')).join(',')))
      .join('\n');
  const OF = { 'bench.csv': changed(([t = '', v = '', , o = '']) => [t, v, '0.41', o && '0.0']) };
  const GROUND = {
    'ground.csv': changed(
      ([t = '', v = '']) => [t, v, (0.4 + 0.03 * Math.sin(Number(t))).toFixed(2)],
      (line) => line.replace(',motors (%)', ''),
    ),
  };
  const MILLI = { 'milli.csv': changed(([t = '', v = '', a = '', o = '']) => [t, v, String(1000 * Number(a)), o]) };
  for (const [name, text] of Object.entries({ ...OF, ...GROUND, ...MILLI }))
    shop.write(`examples/builds/${name}`, text);
  const on = (name: string, ...args: string[]) =>
    shop.fettle('observe', `examples/builds/${name}`, 'Spire', '--with', 'Mast1050_4S', '--write', ...args, ...IN);

  it.each([
    ['bench.csv', /its output stays at 0 % or less, so it was recorded on the ground with the motors off/],
    ['milli.csv', /current in milli\.csv is \d+ A and the like in \d+ % of its rows; .* \(mA for A\?\)/],
  ])('%s: reports that, and nothing else', (name, reported) => {
    const before = spire();
    const { code, out, err } = on(name);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(reported);
    expect(spire()).toBe(before);
  });

  it('without an output: shows it compared with the prediction, and writes nothing by itself', () => {
    const before = spire();
    const { code, out } = on('ground.csv');
    expect(code).toBe(1);
    expect(out).toMatch(/current in steady flight +0\.4 A +\d/);
    expect(out).toMatch(/This log is set aside.*recorded on the ground or with the motors idle/);
    expect(out).toContain(
      'Nothing is written. If the log is right all the same, put this into examples/builds/spire.fettle:',
    );
    expect(out).not.toContain('with this log');
    expect(spire()).toBe(before);
    const data = JSON.parse(on('ground.csv', '--format', 'json').out);
    expect(data.setAside).toEqual([expect.stringContaining('This log is set aside')]);
    expect(data.written).toBeUndefined();
  });
});
