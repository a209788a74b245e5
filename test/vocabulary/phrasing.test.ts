import { describe, expect, it } from 'vitest';
import { either, firstFew, listed } from '../../packages/language/src/vocabulary/phrasing.ts';

describe('a list in a sentence', () => {
  it.each([
    { words: [], all: '', one: '' },
    { words: ['a'], all: 'a', one: 'a' },
    { words: ['a', 'b'], all: 'a and b', one: 'a or b' },
    { words: ['a', 'b', 'c'], all: 'a, b and c', one: 'a, b or c' },
  ])('joins $words', ({ words, all, one }) => {
    expect([listed(words), either(words)]).toEqual([all, one]);
  });

  it('counts what it leaves out', () => {
    expect(firstFew(['a', 'b', 'c', 'd'], 2)).toBe('a, b and 2 more');
    expect(firstFew(['a', 'b'], 2)).toBe('a, b');
    expect(firstFew(['a'], 2)).toBe('a');
  });
});
