import fc from 'fast-check';
import { DefaultValueConverter } from 'langium';
import { describe, expect, it } from 'vitest';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { MAX_CHARACTERS, MAX_DEPTH, MAX_TOKENS, PARSER_FAILURE } from '../../packages/language/src/grammar/guard.ts';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { HEADER_LENGTH, isHeader } from '../../packages/language/src/grammar/scan.ts';
import { anyText } from '../any-text.ts';
import { cases } from '../long.ts';
import { errorsOf } from './facts.ts';
import { createGrammarServices } from './grammar-services.ts';
import { samples } from './samples.ts';

const nested = (depth: number) => `rules R { require ${'('.repeat(depth)}a${')'.repeat(depth)} > 2 }`;

describe('brackets in brackets', () => {
  it('are read up to the limit', () => expect(errorsOf(nested(MAX_DEPTH - 1))).toEqual([]));

  it.each([
    ['brackets', nested(MAX_DEPTH)],
    ['very many brackets', nested(40_000)],
    ['calls', `rules R { require ${'min('.repeat(5_000)}`],
    ['blocks', 'a {\n'.repeat(30_000)],
  ])('%s beyond it give one error and no tree', (_, text) => {
    expect(errorsOf(text)).toEqual([`more than ${MAX_DEPTH} brackets in brackets`]);
    expect(parse(text).value.parts).toEqual([]);
  });

  it('that are never closed count for their own line and part only', () => {
    const unclosed = `${'motor M {\n'.repeat(200)}rules R {\n${'require (a\n'.repeat(200)}}`;
    expect(errorsOf(unclosed)).not.toContain(`more than ${MAX_DEPTH} brackets in brackets`);
  });
});

describe('long texts', () => {
  const TERMS = cases(6_000, 20_000);

  it(`a sum of ${TERMS} terms is read`, () => {
    const terms = Array.from({ length: TERMS }, (_, index) => `a${index}`);
    const text = `rules R { require ${terms.join(' + ')} > 2 }`;
    const { lexerErrors, parserErrors, value } = parse(text);
    expect([...lexerErrors, ...parserErrors]).toEqual([]);
    expect(value.parts[0]?.lines[0]?.$type).toContain('Require');
  });

  it.each([
    ['a text of 50 million characters', 'motor M { kv: 9000 rpm/V }\n'.repeat(1_900_000), `${MAX_CHARACTERS} are read`],
    ['words', 'a '.repeat(MAX_TOKENS + 1), `more than ${MAX_TOKENS} words and signs`],
    ['comments', '//\n'.repeat(MAX_TOKENS + 1), `more than ${MAX_TOKENS} words and signs`],
    ['a file of zeros', '\0'.repeat(100), 'this is not a text file'],
    ['a program', '\x7FELF\x02\x01\x01\0\0\0 motor M1 {', 'this is not a text file'],
    ['UTF-16 read as UTF-8', 'm\0o\0t\0o\0r\0', 'save it as UTF-8'],
  ])('%s gives one error', (_, text, message) => {
    const errors = errorsOf(text);
    expect(errors).toHaveLength(1);
    expect(errors[0]).toContain(message);
  });

  it('signs without a meaning are reported one by one only to a point', () => {
    const errors = errorsOf('motor M { mass: 3 g; }\n'.repeat(500));
    expect(errors).toHaveLength(21);
    expect(errors[0]).toBe('; has no meaning here: a line ends by itself');
    expect(errors[20]).toBe('480 more signs without a meaning');
  });
});

describe('headers that never end', () => {
  const endless: [string, string][] = [
    ['quotes', `motor ${'"a"b '.repeat(100_000)}`],
    ['a long title', `motor "${'a'.repeat(500_000)}`],
    ['backslashes', `motor "${'\\"'.repeat(100_000)}`],
    ['blank lines', `motor M${'\n'.repeat(500_000)}`],
    ['a comment', `motor M //${'a'.repeat(500_000)}`],
  ];

  it.each(endless)('%s: a bounded number of characters is looked at', (_, text) => {
    let looks = 0;
    const counted = new Proxy([...text], {
      get: (characters, key) => {
        looks += 1;
        return Reflect.get(characters, key);
      },
    });
    expect(isHeader(counted, 'motor'.length)).toBe(false);
    expect(looks).toBeLessThan(6 * HEADER_LENGTH);
  });

  it.each([['kinds', 'motor '.repeat(15_000)], ['rails', 'rail '.repeat(15_000)], ...endless])(
    '%s: the file is read, with at most two errors',
    (_, text) => expect(errorsOf(text).length).toBeLessThanOrEqual(2),
  );
});

describe('an exception inside the parser', () => {
  const failing = createGrammarServices({
    parser: {
      ValueConverter: () =>
        new (class extends DefaultValueConverter {
          override convert(...[input, node]: Parameters<DefaultValueConverter['convert']>) {
            if (input === 'Boom') throw new Error('no value');
            return super.convert(input, node);
          }
        })(),
    },
  }).parser.LangiumParser;

  it('becomes one error, and the next file is read as if nothing had happened', () => {
    const before = failing.parse<File>('motor M1 {\n}');
    const failed = failing.parse<File>('motor M1 {\n  rail Boom { output: 5 V }\n}');
    expect(failed.parserErrors.map((error) => error.name)).toEqual([PARSER_FAILURE]);
    expect(failed.value.parts).toEqual([]);
    const after = failing.parse<File>('motor M1 {\n}');
    expect([before, after].map((result) => result.value.parts.map((part) => part.name))).toEqual([['M1'], ['M1']]);
    expect(after.parserErrors).toEqual([]);
  });
});

describe('any text', () => {
  const words = samples.flatMap(({ text }) => text.match(/\w+|[^\w\s]|\s+/g) ?? []);

  it('made of the words of the samples in any order neither throws nor fails inside the parser', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...words), { maxLength: 60 }), (picked) => {
        expectRead(picked.join(' '));
        expectRead(picked.join(''));
      }),
      { numRuns: 400, seed: 1303 },
    );
  });

  it('of any characters neither throws nor fails inside the parser', () => {
    fc.assert(
      fc.property(anyText(80), (text) => expectRead(text)),
      { numRuns: 400, seed: 1303 },
    );
  });

  function expectRead(text: string): void {
    const { parserErrors } = parse(text);
    expect(parserErrors.filter((error) => error.name === PARSER_FAILURE)).toEqual([]);
    for (const { message, token } of parserErrors) {
      expect(token.image.includes('\n'), message).toBe(false);
      expect(message.split(' or ').length).toBeLessThanOrEqual(3);
    }
  }
});
