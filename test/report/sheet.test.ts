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

  it('asks the questions of the job, each chart with a title and words for those who do not see it', () => {
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

  it('is Markdown or SVG on request, and goes into a file', () => {
    expect(sheet('--format', 'markdown').out).toMatch(/^# Gable, gutters and outer walls$/m);
    expect(XMLValidator.validate(sheet('--format', 'svg').out)).toBe(true);
    expect(sheet('--out', 'gable.html')).toMatchObject({ code: 0, out: '' });
    expect(readFileSync(join(shop.folder, 'gable.html'), 'utf8')).toBe(sheet().out);
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
