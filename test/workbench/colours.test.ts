// The static colours: what a file looks like before the language server has answered, and where there is none.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import oniguruma from 'vscode-oniguruma';
import textmate, { type IGrammar } from 'vscode-textmate';
import { PART_WORDS } from '../../packages/language/src/grammar/reserved-words.ts';
import { EXTENSION } from './workbench-places.ts';

let grammar: IGrammar;

beforeAll(async () => {
  const wasm = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
  await oniguruma.loadWASM(readFileSync(wasm));
  const path = join(EXTENSION, 'syntaxes', 'fettle.tmLanguage.json');
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(readFileSync(path, 'utf8'), path),
  });
  const loaded = await registry.loadGrammar('source.fettle');
  if (!loaded) throw new Error('the grammar does not load');
  grammar = loaded;
});

/** The line with each coloured word followed by what it is taken for. */
function coloured(line: string): string {
  return grammar
    .tokenizeLine(line, textmate.INITIAL)
    .tokens.map(({ startIndex, endIndex, scopes }) => ({
      text: line.slice(startIndex, endIndex).trim(),
      scope: scopes.at(-1),
    }))
    .filter(({ text, scope }) => text !== '' && scope !== 'source.fettle' && !scope?.startsWith('punctuation'))
    .map(({ text, scope }) => `${text}:${NAMES[scope ?? ''] ?? scope}`)
    .join(' ');
}

const NAMES: Record<string, string> = {
  'comment.line.double-slash.fettle': 'comment',
  'constant.numeric.fettle': 'number',
  'constant.other.finding.fettle': 'finding',
  'constant.other.thread.fettle': 'thread',
  'entity.name.type.alias.fettle': 'declared',
  'entity.name.type.fettle': 'declared',
  'entity.name.type.rail.fettle': 'declared',
  'entity.other.inherited-class.fettle': 'base',
  'keyword.control.import.fettle': 'sentence',
  'keyword.control.sentence.fettle': 'sentence',
  'keyword.control.version.fettle': 'sentence',
  'keyword.operator.fettle': 'op',
  'keyword.operator.logical.fettle': 'logic',
  'keyword.operator.times.fettle': 'op',
  'keyword.control.clause.fettle': 'clause',
  'keyword.other.unit.fettle': 'unit',
  'storage.modifier.like.fettle': 'clause',
  'storage.modifier.origin.fettle': 'origin',
  'storage.type.kind.fettle': 'kind',
  'storage.type.rail.fettle': 'kind',
  'string.quoted.double.fettle': 'text',
  'support.function.fettle': 'function',
  'variable.other.constant.fettle': 'name',
  'variable.other.property.fettle': 'key',
};

test.each([
  ['fettle 1', 'fettle:sentence 1:number'],
  ['use "../club" as club', 'use:sentence ../club:text as:clause club:declared'],
  ['motor M2 "title" like M1 {  // note', 'motor:kind M2:declared title:text like:clause M1:base note:comment'],
  ['  rail video { output: 10 V }', 'rail:kind video:declared output:key 10:number V:unit'],
  ['  kv: 3150 rpm/V +- 3 %', 'kv:key 3150:number rpm/V:unit +-:op 3:number %:unit'],
  [
    '  standby_current: 0.62 A ± 5 % at 7.4 V measured "by hand"',
    'standby_current:key 0.62:number A:unit ±:op 5:number %:unit at:clause 7.4:number V:unit measured:origin by hand:text',
  ],
  ['  bolts: 3 x M1.4 on 6.6 mm', 'bolts:key 3:number x:op M1.4:thread on:clause 6.6:number mm:unit'],
  ['  motors: 4xM1606_3150 with P3024x3', 'motors:key 4:number x:op M1606_3150:name with:clause P3024x3:name'],
  ['  size: 62x17x14mm', 'size:key 62:number x:op 17:number x:op 14:number mm:unit'],
  ['  cells: 3S2P', 'cells:key 3:number S:unit 2:number P:unit'],
  ['  airborne: 4min 50s', 'airborne:key 4:number min:unit 50:number s:unit'],
  ['  drag_area: 38 cm² estimated', 'drag_area:key 38:number cm²:unit estimated:origin'],
  ['  thermal_resistance: 14 K/W', 'thermal_resistance:key 14:number K/W:unit'],
  ['  air: -5 °C at 900 m', 'air:key -:op 5:number °C:unit at:clause 900:number m:unit'],
  [
    'esc Uno { channels: 4  cells: 2S .. 4S }',
    'esc:kind Uno:declared channels:key 4:number cells:key 2:number S:unit ..:op 4:number S:unit',
  ],
  [
    '  pack: Mast1050_5S as Gentle duty 58 %',
    'pack:key Mast1050_5S:name as:clause Gentle:declared duty:clause 58:number %:unit',
  ],
  ['  load: Cam from Board35.video', 'load:key Cam:name from:clause Board35:name video:name'],
  [
    '  accept pack-overcurrent below 30 A because "short"',
    'accept:sentence pack-overcurrent:finding below:clause 30:number A:unit because:clause short:text',
  ],
  ['  raise pack-oversag to error', 'raise:sentence pack-oversag:finding to:clause error:name'],
  [
    '  keep 20 % in reserve on esc.continuous',
    'keep:sentence 20:number %:unit in:clause reserve:name on:clause esc:name continuous:name',
  ],
  [
    '  require not (hover_duty > 55 %) or max(tip_speed, 2 m/s) <= 3 m/s',
    'require:sentence not:logic hover_duty:name >:op 55:number %:unit or:logic max:function tip_speed:name 2:number m/s:unit <=:op 3:number m/s:unit',
  ],
  [
    '  rows duty in %, voltage in V from "a.csv"',
    'rows:sentence duty:clause in:clause %:unit voltage:name in:clause V:unit from:clause a.csv:text',
  ],
  ['  note: 3 g', 'note:key 3:number g:unit'],
  ['  title "no end', 'title:name no end:text'],
])('%s', (line, expected) => {
  expect(coloured(line)).toBe(expected);
});

test.each([...PART_WORDS])('%s: begins a part', (kind) => {
  expect(coloured(`${kind} Owl {`), 'add it to syntaxes/fettle.tmLanguage.json').toBe(`${kind}:kind Owl:declared`);
});

test('a string without an end does not colour the next line', () => {
  const first = grammar.tokenizeLine('note "no end', textmate.INITIAL);
  const second = grammar.tokenizeLine('kv: 1 rpm/V', first.ruleStack);
  expect(second.tokens[0]?.scopes.at(-1)).toBe('variable.other.property.fettle');
});
