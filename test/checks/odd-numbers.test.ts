/** Numbers that are none, or too large for any unit: stated once, in words that a person can read. */
import { expect, test } from 'vitest';
import { textOf } from '../ordinary-craft.ts';
import { findingsIn } from './findings-in.ts';

test.each([
  'airframe F { wheelbase: --1 mm }',
  'pack P { cells: 2S  capacity: --1 mAh }',
  'rules R { flown: 25 % at --1 x hover }',
  'rules R { flown: 1e999 % at hover }',
  'rules R { keep --1 in reserve on esc.continuous }',
  'rules R { keep 1e999 % in reserve on esc.continuous }',
  'rules R { reserve: 1e999 of capacity }',
  'rules R { reserve: 1e999 % of capacity }',
  'rules R { require hover_duty <= 1e999 }',
  'rules R { require hover_duty <= 1e308 }',
  'motor M { kv: 9000 rpm/V +- 1e999 %  stator: 1e999 x 4 mm  mass: 1e999 g }',
  'load L { draw: 1e308 kW  peak: 1e999 A for 1e999 s }',
  'item Strap { mass: 1e308 kg }',
])('%s', async (text) => {
  const found = (await findingsIn({ 'a.fettle': text }))['a.fettle'] ?? [];
  expect(found.length).toBeGreaterThan(0);
  for (const { message, fixes } of found)
    for (const words of [message, ...fixes.map(({ title }) => title)])
      expect(words).not.toMatch(/undefined|NaN|Infinity|e\+/);
});

test('a share of next to nothing is a multiple of it, in words', async () => {
  const text = textOf('kestrel').replace('discharge: 100C', 'discharge: 1e-300 A');
  const found =
    (await findingsIn({ 'a.fettle': text.replace(/^ {2}pack: .*$/m, '$&\n  keep 20 % in reserve on pack.discharge') }))[
      'a.fettle'
    ] ?? [];
  expect(found.map(({ id }) => id)).toContain('requirement-fails');
  const words = found.flatMap(({ message, related }) => [message, ...related.map((one) => one.message)]).join('\n');
  expect(words).toContain('a multiple of');
  expect(words).not.toMatch(/e\+|e\d{2,} %/);
});
