import { describe, expect, it } from 'vitest';
import { placedErrorsOf } from './facts.ts';

// Braces and brackets: one cause, one error, at the token that a person has to look at. Written as `line token: message`.
describe('braces', () => {
  it.each([
    {
      name: 'a part that is not closed is named where it opens',
      text: 'motor M1 {\n  kv: 9000 rpm/V\nmotor M2 {\n}\n',
      errors: ['1 motor: a closing } is missing for motor M1 opened here'],
    },
    {
      name: 'of two open blocks the inner one is named',
      text: 'esc Board {\n  rail video {\n    output: 5 V\n',
      errors: ['2 rail: a closing } is missing for rail video opened here'],
    },
    {
      name: 'a rail before another rail',
      text: 'esc Board {\n  rail video {\n    output: 5 V\n  rail logic {\n    output: 3 V\n  }\n}\n',
      errors: ['2 rail: a closing } is missing for rail video opened here'],
    },
    {
      name: 'a brace that stands further left was meant for the block around',
      text: 'esc Board {\n  rail video {\n    output: 5 V\n}\nmotor M1 {\n}\n',
      errors: ['2 rail: a closing } is missing for rail video opened here'],
    },
    {
      name: 'an observation swallows no requirement',
      text: 'build B {\n  observed "x" {\n    scale: 9 g\n  require hover_time >= 4 min\n}\n',
      errors: ['2 observed: a closing } is missing for observed opened here'],
    },
    {
      name: 'a table',
      text: 'bench B {\n  rows duty in %, thrust in gf {\n    25, 9\n',
      errors: ['2 rows: a closing } is missing for rows opened here'],
    },
    { name: 'a brace too many', text: 'motor M1 {\n}\n}\n}\n', errors: ['3 }: this } closes nothing'] },
    {
      name: 'a brace too early: only the first line outside is reported',
      text: 'motor M1 {\n  kv: 9000 rpm/V }\n  mass: 3 g\n  rated: 2S\n}\nmotor M2 {\n}\n',
      errors: ['3 mass: mass is outside any block: does a } come too early, or is a header missing?'],
    },
    {
      name: 'a header without its block',
      text: 'motor M1\n  kv: 9000 rpm/V\n}\nmotor M2 {\n}\n',
      errors: ['1 motor: a block { … } is missing after motor M1'],
    },
    {
      name: 'a colon in a header',
      text: 'motor M1: {\n  kv: 9000 rpm/V\n}\n',
      errors: ['1 M1: no colon in a header: motor M1 { … }'],
    },
    {
      name: 'a block without a name before it',
      text: 'motor M1 {\n  kv: {\n    mass: 3 g\n  }\n}\n',
      errors: ['2 {: this { belongs to nothing: a kind and a name come before it'],
    },
    { name: 'a kind that nobody knows keeps its block', text: 'moter M1 {\n  kv: 9000 rpm/V\n}\n', errors: [] },
    {
      name: 'an import inside a block ends the block',
      text: 'build B {\n  rules: R\nuse "../parts"\n',
      errors: ['1 build: a closing } is missing for build B opened here'],
    },
  ])('$name', ({ text, errors }) => expect(placedErrorsOf(text)).toEqual(errors));
});

describe('brackets', () => {
  it.each([
    { require: '(a > 2 and (b > 3)', errors: ['1 (: a closing ) is missing for the ( opened here'] },
    { require: 'max(a, b > 3', errors: ['1 (: a closing ) is missing for the ( opened here'] },
    { require: 'not a > 3', errors: ['1 not: not needs brackets: not ( … )'] },
    { require: 'not (a > 3)', errors: [] },
    { require: '(a > 3))', errors: [] },
  ])('$require', ({ require, errors }) => expect(placedErrorsOf(`rules R { require ${require} }`)).toEqual(errors));
});
