import fc from 'fast-check';

const [FIRST_SURROGATE, SURROGATES, LAST] = [0xd800, 0x800, 0x10_ffff];

/** Any characters that there are; `fc.string` lists all million of them first, which takes two seconds. */
export const anyText = (maxLength: number): fc.Arbitrary<string> =>
  fc
    .array(fc.integer({ min: 0, max: LAST - SURROGATES }), { maxLength })
    .map((codes) => String.fromCodePoint(...codes.map((code) => (code < FIRST_SURROGATE ? code : code + SURROGATES))));
