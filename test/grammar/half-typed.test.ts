import { CstUtils } from 'langium';
import { describe, expect, it } from 'vitest';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { cases, oneIn } from '../long.ts';
import { errorsOf, type Fact, factsOf } from './facts.ts';
import { samples } from './samples.ts';

// Half a file is the normal case: somebody is typing it.

describe.each(samples)('$name', ({ text }) => {
  it('reads without an error and without an unknown line', () => {
    expect(errorsOf(text)).toEqual([]);
    expect(factsOf(text).filter((fact) => fact.description.startsWith('UnknownNode'))).toEqual([]);
  });

  it('keeps what is above while it is typed letter by letter, with at most two errors', () => {
    const whole = factsOf(text);
    for (let length = 0; length < text.length; length += cases(23, 1)) {
      const typed = text.slice(0, length);
      expect(errorsOf(typed).length, typed).toBeLessThanOrEqual(2);
      expectAbove(whole, typed, typed.lastIndexOf('\n'));
    }
  });

  it('keeps the lines above and below a line that is cut after any of its tokens, with at most one error', () => {
    const whole = factsOf(text);
    const root = parse(text).value.$cstNode;
    for (const leaf of oneIn(13, root ? CstUtils.flattenCst(root).toArray() : [])) {
      const lineEnd = text.indexOf('\n', leaf.end);
      const rest = text.slice(leaf.end, lineEnd);
      // A cut through a brace opens or closes a block: that is another test's matter. A comma wants a further cell.
      if (leaf.hidden || /[{}]/.test(rest) || leaf.text === ',') continue;
      const cut = text.slice(0, leaf.end) + text.slice(lineEnd);
      expect(errorsOf(cut).length, cut).toBeLessThanOrEqual(1);
      expectAbove(whole, cut, text.lastIndexOf('\n', leaf.offset));
      const below = whole.filter((fact) => fact.offset > lineEnd).map(inItsPlace);
      expect(factsOf(cut).map(inItsPlace)).toEqual(expect.arrayContaining(below));
    }
  });

  it('loses no line to a brace that is missing, with at most two errors', () => {
    const description = factsOf(text).map((fact) => fact.description);
    for (const brace of oneIn(2, [...text.matchAll(/[{}]/g)])) {
      // Rows of numbers without their table are no rows.
      const opensTable = /rows [^\n]*$/.test(text.slice(0, brace.index));
      const whole = opensTable ? description.filter((line) => !line.startsWith('RowNode ')) : description;
      const cut = text.slice(0, brace.index) + text.slice(brace.index + 1);
      const errors = errorsOf(cut).length;
      expect(errors, cut).toBeGreaterThanOrEqual(1);
      expect(errors, cut).toBeLessThanOrEqual(2);
      expect(
        factsOf(cut).map((fact) => fact.description),
        cut,
      ).toEqual(expect.arrayContaining(whole));
    }
  });

  it('keeps the other lines when a number is a word and a word is a number', () => {
    const whole = factsOf(text);
    for (const word of oneIn(3, [...text.matchAll(/(?<=: )(?:[0-9.]+|[A-Za-z]\w*)(?=[ \n])/g)])) {
      const other = /[0-9]/.test(word[0].charAt(0)) ? 'seven' : '7';
      const changed = text.slice(0, word.index) + other + text.slice(word.index + word[0].length);
      expect(errorsOf(changed), changed).toEqual([]);
      const others = whole.filter((fact) => fact.end <= word.index || fact.offset > word.index);
      expect(factsOf(changed).map(inItsPlace)).toEqual(expect.arrayContaining(others.map(inItsPlace)));
    }
  });
});

function expectAbove(whole: Fact[], changed: string, before: number): void {
  const above = whole.filter((fact) => fact.end <= before).map(inItsPlace);
  expect(factsOf(changed).slice(0, above.length).map(inItsPlace), changed).toEqual(above);
}

function inItsPlace(fact: Fact): string {
  return `${fact.within} ${fact.description}`;
}
