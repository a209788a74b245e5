import { describe, expect, it } from 'vitest';
import { parse } from '../../packages/language/src/grammar/parse-text.ts';
import { errorsOf, factsOf, placedErrorsOf } from './facts.ts';

// What people write by mistake. For the parser none of it is an error: the line is kept with what can be made of it, so that a check can name
// the mistake and offer the fix; the lines around it stay what they are. Each with the lines that come out of it.
const WRONG: readonly [within: 'motor' | 'pack' | 'build', line: string, ...kept: string[]][] = [
  ['motor', 'resistance: 3.4 mm', 'PropertyNode resistance: 3.4 mm'],
  ['motor', 'kv: 11000', 'PropertyNode kv: 11000'],
  ['motor', 'kv: 11000 kV', 'PropertyNode kv: 11000 kV'],
  ['motor', 'kv: 11000 KV', 'PropertyNode kv: 11000 KV'],
  ['motor', 'kv: 11000 rpm/v', 'PropertyNode kv: 11000 rpm/v'],
  ['motor', 'kv: 11000 rpm', 'PropertyNode kv: 11000 rpm'],
  ['motor', 'kv: 11 000 rpm/V', 'PropertyNode kv: 11 000 rpm/V'],
  ['motor', 'kv: 11,000 rpm/V', 'PropertyNode kv: 11,000 rpm/V'],
  ['motor', 'kv: 11000 rpm per volt', 'PropertyNode kv: 11000 rpm', 'UnknownNode per volt'],
  ['motor', 'kv: 11000rpm/V±3%', 'PropertyNode kv: 11000rpm/V±3%'],
  ['motor', 'kv: 11000 rpm / V', 'PropertyNode kv: 11000 rpm', 'UnknownNode / V'],
  ['motor', 'kV: 11000 rpm/V', 'PropertyNode kV: 11000 rpm/V'],
  ['motor', 'kv 11000 rpm/V', 'UnknownNode kv 11000 rpm/V'],
  ['motor', 'kv = 11000 rpm/V', 'UnknownNode kv = 11000 rpm/V'],
  ['motor', 'kv:', 'PropertyNode kv:'],
  ['motor', 'kv: rpm/V', 'PropertyNode kv: rpm', 'UnknownNode /V'],
  ['motor', 'kv: 11000 rpm/V +- 3', 'PropertyNode kv: 11000 rpm/V +- 3'],
  ['motor', 'kv: 11000 rpm/V +-', 'PropertyNode kv: 11000 rpm/V +-'],
  ['motor', 'kv: "11000 rpm/V"', 'PropertyNode kv: "11000 rpm/V"'],
  ['motor', 'resistance: 98 Mohm', 'PropertyNode resistance: 98 Mohm'],
  ['motor', 'resistance: 98 mΩ', 'PropertyNode resistance: 98 mΩ'],
  ['motor', 'resistance: .098 ohm', 'PropertyNode resistance: .098 ohm'],
  ['motor', 'no_load_current: 0,62 A at 7,4 V', 'PropertyNode no_load_current: 0,62 A at 7,4 V'],
  ['motor', 'no_load_current: 0.62 A at', 'PropertyNode no_load_current: 0.62 A at'],
  ['motor', 'no_load_current: 0.62 A for 7.4 V', 'PropertyNode no_load_current: 0.62 A for 7.4 V'],
  ['motor', 'no_load_current: ca. 0.6 A', 'PropertyNode no_load_current: ca.', 'UnknownNode 0.6 A'],
  ['motor', 'resistence: 98 mohm', 'PropertyNode resistence: 98 mohm'],
  ['motor', 'max_temperature: 110 C', 'PropertyNode max_temperature: 110 C'],
  ['motor', 'max_temperature: 110°C', 'PropertyNode max_temperature: 110°C'],
  ['motor', 'bolts: 3 x M1.4 on 6.6', 'PropertyNode bolts: 3 x M1.4 on 6.6'],
  ['motor', 'bolts: 3 x', 'PropertyNode bolts: 3 x'],
  ['motor', '# comment'],
  ['motor', '/* comment */', 'UnknownNode /* comment */'],
  ['motor', '- kv: 11000', 'UnknownNode -', 'PropertyNode kv: 11000'],
  ['motor', 'mass 3 g', 'UnknownNode mass 3 g'],
  ['motor', '%', 'UnknownNode %'],
  ['pack', 'capacity: 900 mah', 'PropertyNode capacity: 900 mah'],
  ['pack', 'discharge: 75', 'PropertyNode discharge: 75'],
  ['pack', 'discharge: 75 c', 'PropertyNode discharge: 75 c'],
  ['pack', 'cells: 3S2', 'PropertyNode cells: 3S2'],
  ['pack', 'cells: S', 'PropertyNode cells: S'],
  ['pack', 'chemistry: LiPo', 'PropertyNode chemistry: LiPo'],
  ['pack', 'size: 62x17x14mm', 'PropertyNode size: 62x17x14mm'],
  ['pack', 'size: 62 x 17 x 14', 'PropertyNode size: 62 x 17 x 14'],
  ['pack', 'size: 62*17*14 mm', 'PropertyNode size: 62', 'UnknownNode *17*14 mm'],
  ['pack', 'price: 9 €', 'PropertyNode price: 9 €'],
  ['pack', 'price: €9', 'PropertyNode price:', 'UnknownNode €9'],
  ['build', 'load: Cam from Board32.', 'PropertyNode load: Cam from Board32.'],
  ['build', 'load: Cam from', 'PropertyNode load: Cam from'],
  ['build', 'pack: Slim900_3S, Slim900_3S', 'PropertyNode pack: Slim900_3S, Slim900_3S'],
  ['build', 'pack: Slim900_3S duty 58', 'PropertyNode pack: Slim900_3S duty 58'],
  ['build', 'pack Slim900_3S', 'UnknownNode pack Slim900_3S'],
  ['build', 'esc Board32', 'UnknownNode esc Board32'],
  ['build', 'pak: Slim900_3S', 'PropertyNode pak: Slim900_3S'],
  ['build', 'motors: 4 M1 with P1', 'PropertyNode motors: 4', 'UnknownNode M1 with P1'],
  ['build', 'motors: 4x M1 with P1', 'PropertyNode motors: 4x M1 with P1'],
  ['build', 'require hover_time >=', 'Require require hover_time >='],
  ['build', 'require', 'Require require'],
  ['build', 'require 3 <= a <= 5', 'Require require 3 <= a <= 5'],
  ['build', 'requires hover_time >= 4 min', 'UnknownNode requires hover_time >= 4 min'],
  ['build', 'require: hover_time >= 4 min', 'PropertyNode require: hover_time', 'UnknownNode >= 4 min'],
  ['build', 'require hover_time 4 min', 'Require require hover_time', 'UnknownNode 4 min'],
  ['build', 'note "abc', 'NoteNode note "abc'],
  ['build', 'note abc', 'NoteNode note', 'UnknownNode abc'],
  ['build', 'accept', 'Accept accept'],
  ['build', 'raise pack-oversag', 'ChangeNode raise pack-oversag'],
  ['build', 'keep 20 in reserve', 'Keep keep 20 in', 'UnknownNode reserve'],
];

describe('a wrong line', () => {
  it.each(WRONG)('in a %s: %s', (kind, line, ...kept) => {
    const text = `${kind} X {\n  mass: 1 g\n  ${line}\n  price: 2 EUR\n}\n${kind} Y {\n  mass: 2 g\n}\n`;
    const [above, below, next] = ['PropertyNode mass: 1 g', 'PropertyNode price: 2 EUR', 'PropertyNode mass: 2 g'];
    expect(errorsOf(text)).toEqual([]);
    const printed = factsOf(text).map((fact) => fact.description);
    expect(printed.filter((description) => !description.startsWith('Condition'))).toEqual([
      above,
      ...kept,
      below,
      next,
    ]);
    expect(parse(text).value.parts.map((part) => part.name)).toEqual(['X', 'Y']);
  });
});

describe('two wrong lines', () => {
  it('are two, so that each gets its own finding', () => {
    const text = 'motor X {\n  kv 11000 rpm/V\n  no_load_current 0.6 A\n  esc Board32\n}\n';
    expect(factsOf(text).map((fact) => fact.description)).toEqual([
      'UnknownNode kv 11000 rpm/V',
      'UnknownNode no_load_current 0.6 A',
      'UnknownNode esc Board32',
    ]);
  });
});

describe('a sign without a meaning', () => {
  it.each([
    ['mass: 3 g;', '; has no meaning here: a line ends by itself'],
    ['require a > 2 && b > 3', '&& has no meaning here: write and'],
    ['require a > 2 || b > 3', '|| has no meaning here: write or'],
    ['require a != 2', '! has no meaning here: write not ( … )'],
    ['require a ≠ 2', '≠ has no meaning here: write not ( … )'],
    ["note 'look'", "' has no meaning here: texts are written in straight double quotes"],
    ['size: [3]', '[ has no meaning here: blocks are written in { }, calculations in ( )'],
    ['no_load_current: ~0.6 A', '~ has no meaning here'],
    ['kv: @@@@', '@@@@ has no meaning here'],
  ])('%s', (line, message) => {
    expect(errorsOf(`build X {\n  ${line}\n  mass: 3 g\n}\n`)[0]).toBe(message);
    expect(factsOf(`build X {\n  ${line}\n  mass: 4 g\n}\n`).at(-1)?.description).toBe('PropertyNode mass: 4 g');
  });
});

describe('a minus without its number', () => {
  it.each([
    ['kv: -', '3 -: expected a number after -'],
    ['kv: 3 V .. -', '3 -: expected a number after -'],
    ['require a > -', '3 -: expected a number after -'],
    ['require -a > 3', '3 a: expected a number, found a'],
  ])('%s', (line, error) => {
    const text = `build X {\n  mass: 1 g\n  ${line}\n  price: 2 EUR\n}\n`;
    expect(placedErrorsOf(text)).toEqual([error]);
    expect(factsOf(text).at(-1)?.description).toBe('PropertyNode price: 2 EUR');
  });

  it('at the end of the file', () => {
    expect(placedErrorsOf('build X {\n  kv: -')[0]).toBe('2 -: expected a number after -');
  });
});
