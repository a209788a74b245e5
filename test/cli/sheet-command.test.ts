/** `fettle sheet`: what goes where. What is on the page is in `test/report/sheet.test.ts`. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());

const sheet = (...args: string[]) => shop.fettle('sheet', 'Gable', 'examples/builds', ...args);

it('is a page with the version of the command, and goes into a file', () => {
  const { code, out } = sheet();
  expect(code).toBe(0);
  expect(out).toMatch(/^<!doctype html>/i);
  expect(out.replace(/\s+/g, ' ')).toContain(`Computed by fettle ${shop.fettle('--version').out.trim()}.`);
  expect(sheet('--out', 'gable.html')).toMatchObject({ code: 0, out: '' });
  expect(readFileSync(join(shop.folder, 'gable.html'), 'utf8')).toBe(out);
});

it('is Markdown or SVG on request', () => {
  expect(sheet('--format', 'markdown').out).toMatch(/^# Gable, gutters and outer walls$/m);
  expect(sheet('--format', 'svg').out).toMatch(/^<svg /);
});

it('reports which build it does not know', () => {
  expect(shop.fettle('sheet', 'Gabel', 'examples/builds')).toMatchObject({
    code: 2,
    out: '',
    err: expect.stringContaining('Gable'),
  });
});
