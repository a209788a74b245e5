/** `fettle sheet`: one page that is alone, runs nothing, and states the same each time. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { XMLValidator } from 'fast-xml-parser';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from '../cli/command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

const sheet = (...args: string[]) => shop.fettle('sheet', 'Gable', 'examples/builds', ...args);

describe('fettle sheet', () => {
  it('is one self-contained page without scripts, with the numbers that check prints', () => {
    const { code, out } = sheet();
    expect(code).toBe(0);
    expect(out).toMatch(/^<!doctype html>/i);
    expect(out).not.toMatch(/<script|javascript:|\son\w+=|https?:\/\/(?!www\.w3\.org)/i);
    const [, weight] = /Eaves1150_3S +(\d+\.\d ± \d\.\d g)/.exec(shop.fettle('check', 'examples/builds').out) ?? [];
    expect(out).toContain(weight ?? 'no weight');
    expect(sheet().out).toBe(out);
  });

  it('answers the questions of the job, each chart with a title and words for those who do not see it', () => {
    const { out } = sheet();
    for (const question of ['What does it weigh?', 'How near are the limits?', 'When must it land?'])
      expect(out).toContain(question);
    const charts = out.match(/<svg[\s\S]*?<\/svg>/g) ?? [];
    expect(charts.length).toBeGreaterThanOrEqual(5);
    for (const chart of charts) {
      expect(XMLValidator.validate(chart)).toBe(true);
      expect(chart).toMatch(/<title[^>]*>[^<]+<\/title>/);
      expect(chart).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  it('requests a scale only of a craft that nobody has weighed', () => {
    const request = 'Put the craft on the scale';
    expect(shop.fettle('sheet', 'Wren', 'examples/builds').out).toContain(request);
    expect(shop.fettle('sheet', 'Spire', 'examples/builds').out).not.toContain(request);
  });

  it('begins with minutes, thrust-to-weight, land at and weight on each pack, each at its safe end, and the worst finding', () => {
    const [first = ''] = sheet().out.match(/<div class="pack">[\s\S]*?<\/div>\n?(?=<div class="pack">|<\/div>)/) ?? [];
    const figures = [
      ...first.matchAll(
        /<dt>([^<]+)<\/dt><dd><b>([\d.]+)[^<]*<\/b> <span class="quiet">([\d.]+) (?:± ([\d.]+)|\(([\d.]+) to ([\d.]+)\))/g,
      ),
    ];
    expect(figures.map(([, label]) => label)).toEqual([
      'minutes as flown',
      'thrust-to-weight',
      'land at, per cell in hover',
      'all-up weight',
    ]);
    const [minutes, thrust, land, weight] = figures.map(([, , large, value, plusMinus, low, high]) => {
      const [end, most] = [Number(large), Number(value)];
      const half = Number(plusMinus ?? (end < most ? most - Number(low) : Number(high) - most));
      // What is printed is rounded: one step of the last digit.
      return (end - most) / half;
    });
    for (const lower of [minutes, thrust]) expect(lower).toBeLessThan(-0.7);
    for (const upper of [land, weight]) expect(upper).toBeGreaterThan(0.7);
    expect(sheet().out.indexOf('class="pack"')).toBeLessThan(sheet().out.indexOf('<section>'));
  });

  it('states in one line what rests on estimates, the rest behind it', () => {
    expect(sheet().out).toMatch(
      /<li class="\w+"><details><summary><strong>\w+<\/strong> <code>estimates<\/code>: [^<]{1,110}<\/summary>/,
    );
  });

  it('draws each limit that a finding names, on each pack that it is about', () => {
    shop.write(
      'slip.fettle',
      `use "examples/parts"
build Slip {
  airframe: Open148
  motors: 4 x M1606_3150 with P3024x3
  esc: Board14x6
  load: LinkCam from pack
  pack: Mast720_4S
  pack: Eaves1150_3S duty 95 %
}
`,
    );
    const { out } = shop.fettle('sheet', 'Slip', 'slip.fettle', 'examples/parts');
    const [high = '', low = ''] = out.match(/<svg[^>]*>(?:(?!<svg)[\s\S])*?What flows against[\s\S]*?<\/svg>/g) ?? [];
    expect(high).toContain('ESC overvoltage');
    expect(high).toContain('4S of 3S');
    expect(low).not.toContain('ESC overvoltage');
  });

  it('is Markdown or SVG on request, and goes into a file', () => {
    expect(sheet('--format', 'markdown').out).toMatch(/^# Gable, gutters and outer walls$/m);
    expect(XMLValidator.validate(sheet('--format', 'svg').out)).toBe(true);
    expect(sheet('--out', 'gable.html')).toMatchObject({ code: 0, out: '' });
    expect(readFileSync(join(shop.folder, 'gable.html'), 'utf8')).toBe(sheet().out);
  });

  it('names at its foot the version and commit that computed it, as a card does', () => {
    const by = `Computed by fettle ${shop.fettle('--version').out.trim()}.`;
    const card = (format: string) => shop.fettle('card', 'Gable', '--in', 'examples/builds', '--format', format).out;
    const sheets = ['html', 'markdown', 'svg'].map((format) => sheet('--format', format).out);
    const pages = [...sheets, ...['html', 'markdown', 'text'].map(card)];
    for (const page of pages) expect(page.replace(/\s+/g, ' ')).toContain(by);
  });

  it('lets no title become markup', () => {
    shop.write('hostile.fettle', 'use "examples/builds"\nbuild Bad "<img src=x onerror=alert(1)>" like Gable { }\n');
    const { code, out } = shop.fettle('sheet', 'Bad', 'hostile.fettle');
    expect(code).toBe(0);
    expect(out).not.toContain('<img');
    expect(out).toContain('&lt;img');
  });

  it('reports which build it does not know', () => {
    expect(shop.fettle('sheet', 'Gabel', 'examples/builds')).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('Gable'),
    });
  });
});

describe('the sheet of a build with a log', () => {
  const logged = (folder = 'examples/logs') => shop.fettle('sheet', 'LoggedSpire', folder).out;
  const section = (page: string) => /<section><h2>How did it compare\?<\/h2>[\s\S]*?<\/section>/.exec(page)?.[0];

  it('draws the voltage that was logged and that of the model over each other, and how far they lie apart', () => {
    const found = section(logged()) ?? '';
    expect(found).toMatch(
      /“south tower, simulated” on Mast1050_4S: the voltages differ by (less than 1|\d) % on average/,
    );
    const [chart = ''] = found.match(/<svg[\s\S]*?<\/svg>/) ?? [];
    expect(XMLValidator.validate(chart)).toBe(true);
    const lines = [...chart.matchAll(/<path[^>]* d="([^"]+)"/g)].filter(([, d = '']) => d.length > 1000);
    expect(lines).toHaveLength(2);
    // Same moments, hardly the same volts.
    expect(lines[0]?.[1]).not.toBe(lines[1]?.[1]);
    expect(chart).not.toMatch(/NaN|Infinity/);
  });

  it('has no such section without a log, or with one from which nothing is learnt', () => {
    expect(section(sheet().out)).toBeUndefined();
    const log = readFileSync(join(shop.folder, 'examples/logs/2026-05-21.csv'), 'utf8');
    const grounded = log.replace(/^([\d.]+,[\d.]+),[\d.]+,[\d.]+$/gm, '$1,0.4,0.0');
    shop.write('examples/logs/2026-05-21.csv', grounded);
    const page = logged();
    shop.write('examples/logs/2026-05-21.csv', log);
    expect(page).toMatch(/^<!doctype html>/i);
    expect(section(page)).toBeUndefined();
  });
});
