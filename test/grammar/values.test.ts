import { describe, expect, it } from 'vitest';
import { isNoteNode } from '../../packages/language/src/grammar/generated/ast.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { isName } from '../../packages/language/src/grammar/reserved-words.ts';
import { isClosed } from '../../packages/language/src/grammar/value-texts.ts';

describe('a text', () => {
  it.each([
    ['"abc"', 'abc', true],
    ['""', '', true],
    ['"a \\"b\\" c"', 'a "b" c', true],
    ['"a \\\\"', 'a \\', true],
    ['"C:\\parts"', 'C:\\parts', true],
    ['"abc', 'abc', false],
    ['"', '', false],
    ['"abc\\"', 'abc"', false],
    ['"Käuzchen · 4 µm"', 'Käuzchen · 4 µm', true],
  ])('%s', (written, value, closed) => {
    const [note] = parse(`motor M1 {\n  note ${written}\n}\n`).value.parts[0]?.lines ?? [];
    expect(note && isNoteNode(note) ? note.text : undefined).toBe(value);
    expect(isClosed(written)).toBe(closed);
  });
});

describe('a name', () => {
  it.each(['M1506_3900', 'motor', 'note', 'Käuzchen', '_x'])('can be %s', (text) => expect(isName(text)).toBe(true));
  it.each(['', '4x', 'M1 b', 'with', 'measured', 'none', 'a-b', 'a.b', 'M1:'])('cannot be %j', (text) =>
    expect(isName(text)).toBe(false),
  );
  it.each(['M1506_3900', 'motor', 'note', 'Käuzchen', '_x', 'use', 'fettle', 'rail', 'x', 'rows'])(
    'is read back where it is declared and used: %s',
    (name) => {
      const { parserErrors, value } = parse(`load ${name} {\n}\nbuild B {\n  load: ${name} as ${name}\n}\n`);
      expect(parserErrors).toEqual([]);
      expect(value.parts[0]?.name).toBe(name);
      expect(value.parts[1]?.lines.map((line) => line.$cstNode?.text)).toEqual([`load: ${name} as ${name}`]);
    },
  );
});
