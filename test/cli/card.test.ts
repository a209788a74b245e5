/** `fettle card`: what a pilot takes to the field, as text, Markdown and a page to print. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const card = (...args: string[]) => shop.fettle('card', ...args);

const HOSTILE = `use "examples/builds"
use "examples/parts"
pack Mast950_5S {
  chemistry: lihv
  cells: 5S
  capacity: 950 mAh
  discharge: 90C
  mass: 136 g
}
build Bad "<img src=x onerror=alert(1)> | [a](javascript:1)" like Spire {
  pack: Mast950_5S as NoLimit
  note "<script>1</script> \u001b[2J" for preflight
  note "tell @everyone" for assembly
  accept motor-overvoltage with NoLimit because "two <i>minutes</i> \u001b]0;x\u0007"
}
`;

describe('fettle card', () => {
  it('states on each pack what to set, weigh, turn back and land at: the numbers that check prints', () => {
    const { code, out } = card('Gable', '--in', 'examples/builds');
    expect(code).toBe(0);
    const checked = JSON.parse(shop.fettle('check', 'examples/builds/gable.fettle', '--format', 'json').out);
    const { options } = checked.builds.find(({ name }: { name: string }) => name === 'Gable');
    const blocks = out.split(/\n\n(?=Eaves|Round)/).slice(1);
    expect(blocks).toHaveLength(2);
    for (const [i, block] of blocks.entries()) {
      const { all_up_weight, land_by_hover_voltage, land_by_resting_voltage, charge_used } = options[i].results;
      const [, weight] = /on the scale: ([\d.]+) ±/.exec(block) ?? [];
      expect(Number(weight)).toBeCloseTo(all_up_weight.value, 0);
      const row = (label: string) =>
        new RegExp(`${label} +([\\d.]+)(?: ± \\S+)? \\S+ +([\\d.]+) ±`).exec(block)?.slice(1).map(Number) ?? [];
      const [turnBack = 0, land = 0] = row('per cell, in hover');
      expect(land).toBeCloseTo(land_by_hover_voltage.value, 2);
      expect(turnBack).toBeGreaterThan(land);
      expect(row('per cell, resting')[1]).toBeCloseTo(land_by_resting_voltage.value, 2);
      const [half = 0, all = 0] = row('charge used');
      expect(Math.abs(all - charge_used.value)).toBeLessThan(10);
      expect(half / all).toBeCloseTo(0.5, 1);
    }
    expect(blocks[0]).toMatch(/^Eaves1150_3S: no duty limit/);
    expect(blocks[1]).toMatch(/^Round2600_3S: duty limit 95 %/);
  });

  it('states minutes as flown in addition to those in hover where the efforts of the flight are stated', () => {
    const mix = 'flown: 60 % at 1 x hover\n flown: 40 % at 1.8 x hover';
    shop.write('brisk.fettle', `use "examples/builds"\nuse "examples/parts"\nbuild Brisk like Gable { ${mix}\n}\n`);
    const { out } = card('Brisk', '--in', 'brisk.fettle');
    const row = (label: string) =>
      new RegExp(`${label} +([\\d.]+) \\(.*?\\) min +([\\d.]+) `).exec(out)?.slice(1).map(Number);
    const [half = 0, all = 0] = row('as flown until then') ?? [];
    const [, hovering = 0] = row('hover time until then') ?? [];
    const checked = JSON.parse(shop.fettle('check', 'brisk.fettle', '--format', 'json').out);
    expect(all).toBeCloseTo(checked.builds[0].options[0].results.flight_time.value, 1);
    expect(all).toBeLessThan(hovering);
    expect(half / all).toBeGreaterThan(0.4);
    expect(half / all).toBeLessThan(0.65);
  });

  it('lists what to look at: the pack, the duty limit where there is one, what the files note', () => {
    const { out } = card('Gable', 'Spire', '--in', 'examples/builds');
    const [gable = '', spire = ''] = out.split('─'.repeat(20));
    expect(gable).toContain('[ ] propellers on last, at the site');
    expect(gable).toContain('[ ] The duty limit in the flight controller is set');
    expect(gable).toMatch(/For assembly[\s\S]*\[ \] capacitor on the pack lead/);
    expect(spire).not.toContain('duty limit is set');
  });

  it('states which load makes one land before the reserve, and what is wrong', () => {
    const { out } = card('CameraOffThePack', '--in', 'examples/broken/camera-off-the-pack.fettle');
    expect(out).toMatch(/Land before the reserve: below this voltage \w+ browns out in a burst\./);
    expect(out).toMatch(/^- warning on /m);
    expect(out).toMatch(/^Check before flying: 1 warning/m);
  });

  it('counts a line that cannot be read against the build', () => {
    shop.write('typo.fettle', 'use "examples/builds"\nbuild Typo like Gable {\n  pack: Mast999\n}\n');
    expect(card('Typo', '--in', 'typo.fettle').out).toMatch(/^Not fit to fly: 1 error/m);
  });

  it('states duty limits as they are set, and volts to the hundredth', () => {
    const limits = [66.6, 99.7].map((limit) => `  pack: Mast1050_4S as At${limit * 10} duty ${limit} %\n`);
    shop.write(
      'limits.fettle',
      `use "examples/builds"\nuse "examples/parts"\nbuild Limits like Spire {\n${limits.join('')}}\n`,
    );
    const { out } = card('Limits', '--in', 'limits.fettle');
    expect(out.match(/(?<=^At.*)duty limit .*/gm)).toEqual(['duty limit 66.6 %', 'duty limit 99.7 %']);
    const volts = out.match(/\d+\.?\d*(?= V)/g) ?? [];
    expect(volts.length).toBeGreaterThan(8);
    for (const one of volts) expect(one).toMatch(/\.\d\d$/);
  });

  it('counts only the text that the build is made of', () => {
    const mixed = 'use "examples/builds"\nbuild Sound like Gable {\n}\nbuild Broken like Gable {\n  pack: Mast999\n}\n';
    shop.write('mixed.fettle', `${mixed}pack Unused {\n  cells: 2 kg\n}\n`);
    expect(card('Sound', '--in', 'mixed.fettle').out).not.toMatch(/Not fit to fly|Mast999|Unused/);
    expect(card('Broken', '--in', 'mixed.fettle').out).toMatch(/^Not fit to fly: 1 error/m);
    const sheet = shop.fettle('sheet', 'Sound', 'mixed.fettle', '--format', 'markdown').out;
    expect(sheet).toContain('Sound');
    expect(sheet).not.toMatch(/Not fit to fly|Mast999|Unused/);
  });

  it('is a page that is alone, without script, one article a build; no file drives what shows it', () => {
    shop.write('hostile.fettle', HOSTILE);
    expect(card('Bad', 'Gable', '--in', 'hostile.fettle', 'examples/builds', '--out', 'card.html')).toEqual({
      code: 0,
      out: '',
      err: '',
    });
    const page = readFileSync(join(shop.folder, 'card.html'), 'utf8');
    expect(page).toMatch(/^<!doctype html>/i);
    expect(page.match(/<article>/g)).toHaveLength(2);
    expect(page).toContain('@page');
    expect(page).not.toMatch(/<script|<img|<i>|https?:/i);
    expect(page).toContain('&lt;script&gt;');

    const texts = ['text', 'markdown'].map((format) => card('Bad', '--in', 'hostile.fettle', '--format', format).out);
    for (const out of [...texts, page]) {
      expect(out).not.toMatch(/(?!\n)\p{Cc}/u);
      expect(out).not.toMatch(/NaN|undefined|Infinity/);
    }
    expect(texts[1]).toContain('two');
    expect(texts[1]).not.toMatch(/<script|<img|<i>|[^\\]\[a\]|@everyone/);
  });

  it('prints a build that computes nothing yet', () => {
    shop.write('empty.fettle', 'build Empty { }\n');
    const { code, out } = card('Empty', '--in', 'empty.fettle');
    expect(code).toBe(0);
    expect(out).toContain('Nothing can be computed yet.');
  });

  it.each([
    [['Gabel', '--in', 'examples'], 'there is no build Gabel; did you mean Gable?'],
    [
      ['Gable', '--in', 'examples/builds', '--out', 'no/such/folder/card.html'],
      'no/such/folder/card.html cannot be written',
    ],
  ])('refuses %j', (args, message) => {
    expect(card(...args)).toMatchObject({ code: 2, out: '', err: expect.stringContaining(message) });
  });
});
