/** The sheet of a build: one page that is alone, runs nothing, and states the same each time. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { XMLValidator } from 'fast-xml-parser';
import { afterAll, describe, expect, it } from 'vitest';
import { fullVersion } from '../../packages/language/src/report/present/version.ts';
import { CheckedFolder, sheetOf } from './checked-folder.ts';

const craft = new CheckedFolder();
afterAll(() => craft.remove());

const sheet = (format: 'html' | 'markdown' | 'svg' = 'html') => craft.sheet(format, 'Gable', 'examples/builds');

describe('a sheet', () => {
  it('is one self-contained page without scripts, with the numbers that check prints', async () => {
    const out = await sheet();
    expect(out).toMatch(/^<!doctype html>/i);
    expect(out).not.toMatch(/<script|javascript:|\son\w+=|https?:\/\/(?!www\.w3\.org)/i);
    const [, weight] = /Eaves1150_3S +(\d+\.\d ± \d\.\d g)/.exec(await craft.print('text', 'examples/builds')) ?? [];
    expect(out).toContain(weight ?? 'no weight');
    expect(sheetOf('html', 'Gable', await craft.checkedAnew('examples/builds/gable.fettle'))).toBe(out);
  });

  it('answers the questions of the job, each chart with a title and words for those who do not see it', async () => {
    const out = await sheet();
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

  it('requests a scale only of a craft that nobody has weighed', async () => {
    const request = 'Put the craft on the scale';
    expect(await craft.sheet('html', 'Wren', 'examples/builds')).toContain(request);
    expect(await craft.sheet('html', 'Spire', 'examples/builds')).not.toContain(request);
  });

  it('begins with minutes, thrust-to-weight, land at and weight on each pack, each at its safe end, and the worst finding', async () => {
    const page = await sheet();
    const [first = ''] = page.match(/<div class="pack">[\s\S]*?<\/div>\n?(?=<div class="pack">|<\/div>)/) ?? [];
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
    expect(page.indexOf('class="pack"')).toBeLessThan(page.indexOf('<section>'));
  });

  it('states in one line what rests on estimates, the rest behind it', async () => {
    expect(await sheet()).toMatch(
      /<li class="\w+"><details><summary><strong>\w+<\/strong> <code>estimates<\/code>: [^<]{1,110}<\/summary>/,
    );
  });

  it('draws each limit that a finding names, on each pack that it is about', async () => {
    craft.write(
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
    const out = await craft.sheet('html', 'Slip', 'slip.fettle', 'examples/parts');
    const [high = '', low = ''] = out.match(/<svg[^>]*>(?:(?!<svg)[\s\S])*?What flows against[\s\S]*?<\/svg>/g) ?? [];
    expect(high).toContain('ESC overvoltage');
    expect(high).toContain('4S of 3S');
    expect(low).not.toContain('ESC overvoltage');
  });

  it('is Markdown or SVG, too', async () => {
    expect(await sheet('markdown')).toMatch(/^# Gable, gutters and outer walls$/m);
    expect(XMLValidator.validate(await sheet('svg'))).toBe(true);
  });

  it('names at its foot the version and commit that computed it, as a card does', async () => {
    const pages = [
      ...(['html', 'markdown', 'svg'] as const).map((format) => sheet(format)),
      ...(['html', 'markdown', 'text'] as const).map((format) => craft.card(format, 'Gable', 'examples/builds')),
    ];
    for (const page of await Promise.all(pages))
      expect(page.replace(/\s+/g, ' ')).toContain(`Computed by fettle ${fullVersion}.`);
  });

  it('lets no title become markup', async () => {
    craft.write(
      'hostile.fettle',
      'use "examples/builds"\nbuild Bad "<img src=x onerror=alert(1)>\ufffe" like Gable { }\n',
    );
    const out = await craft.sheet('html', 'Bad', 'hostile.fettle');
    expect(out).not.toContain('<img');
    // Its pictures are XML, which has no place for that.
    expect(out).not.toContain('\ufffe');
    expect(out).toContain('&lt;img');
  });
});

describe('the sheet of a build with a log', () => {
  const logged = () => craft.sheet('html', 'LoggedSpire', 'examples/logs');
  const section = (page: string) => /<section><h2>How did it compare\?<\/h2>[\s\S]*?<\/section>/.exec(page)?.[0];

  it('draws the voltage that was logged and that of the model over each other, and how far they lie apart', async () => {
    const found = section(await logged()) ?? '';
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

  it('has no such section without a log, or with one from which nothing is learnt', async () => {
    expect(section(await sheet())).toBeUndefined();
    const log = readFileSync(join(craft.folder, 'examples/logs/2026-05-21.csv'), 'utf8');
    const grounded = log.replace(/^([\d.]+,[\d.]+),[\d.]+,[\d.]+$/gm, '$1,0.4,0.0');
    craft.write('examples/logs/2026-05-21.csv', grounded);
    const page = await logged();
    craft.write('examples/logs/2026-05-21.csv', log);
    expect(page).toMatch(/^<!doctype html>/i);
    expect(section(page)).toBeUndefined();
  });
});
