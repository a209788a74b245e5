/** The usual mistakes on ordinary craft, one at a time, at both ends of the range: each gives its finding, and only that. */
import { describe, expect, it } from 'vitest';
import { textOf } from '../ordinary-craft.ts';
import { findingsIn } from './findings-in.ts';
import { OF_CURRENT, OF_GEOMETRY, OF_RAILS, OF_VOLTAGE, OF_WEIGHT } from './mistakes-of-parts.ts';
import { OF_TEXT } from './mistakes-of-text.ts';

const MISTAKES = {
  'of voltage': OF_VOLTAGE,
  'of rails': OF_RAILS,
  'of current': OF_CURRENT,
  'of weight': OF_WEIGHT,
  'of geometry': OF_GEOMETRY,
  'of text': OF_TEXT,
};

describe.each(Object.entries(MISTAKES))('mistakes %s', (_, mistakes) => {
  it.each(mistakes)('$on: $what', async ({ on, from, to, finding }) => {
    const text = textOf(on);
    expect(text).toContain(from);
    const found = (await findingsIn({ 'craft.fettle': text.replace(from, to) }))['craft.fettle'] ?? [];
    const beside = found.filter(({ id }) => id !== 'estimates');
    expect(beside.map(({ severity, id, message }) => `${severity} ${id}: ${message}`)).toEqual([
      expect.stringMatching(new RegExp(`^${finding}: `)),
    ]);
  });
});
