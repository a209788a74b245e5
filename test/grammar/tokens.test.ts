import { describe, expect, it } from 'vitest';
import { CURRENCY_SIGNS, UNITS } from '../../packages/language/src/units/table.ts';
import { createFettleLexer } from './lexer.ts';

const tokenize = createFettleLexer();

// What a word is depends on its place. Written here as `sort:text`; words and signs of the grammar represent themselves.
describe('a unit is only behind a number, on its line', () => {
  it.each([
    ['mass: 3.4 g', 'KEY:mass : NUMBER:3.4 UNIT:g'],
    ['kv: 11000rpm/V±3%', 'KEY:kv : NUMBER:11000 UNIT:rpm/V +- NUMBER:3 UNIT:%'],
    ['cells: 3S2P', 'KEY:cells : NUMBER:3 UNIT:S NUMBER:2 UNIT:P'],
    ['airborne: 4min50s', 'KEY:airborne : NUMBER:4 UNIT:min NUMBER:50 UNIT:s'],
    ['size: 62x17x14mm', 'KEY:size : NUMBER:62 TIMES:x NUMBER:17 TIMES:x NUMBER:14 UNIT:mm'],
    ['size: 62mmx17mm', 'KEY:size : NUMBER:62 UNIT:mm TIMES:x NUMBER:17 UNIT:mm'],
    ['size: 62 × 17 mm', 'KEY:size : NUMBER:62 TIMES:× NUMBER:17 UNIT:mm'],
    ['pitch: 2.0 in', 'KEY:pitch : NUMBER:2.0 UNIT:in'],
    ['keep 20 % in reserve', 'keep NUMBER:20 UNIT:% in ID:reserve'],
    ['rows duty in %, voltage in V', 'rows duty in UNIT:% , ID:voltage in UNIT:V'],
    ['area: 38 cm²', 'KEY:area : NUMBER:38 UNIT:cm²'],
    ['area: 38 cm2', 'KEY:area : NUMBER:38 UNIT:cm2'],
    ['area: 38 cm^2', 'KEY:area : NUMBER:38 UNIT:cm^2'],
    ['torque: 3 N*m', 'KEY:torque : NUMBER:3 UNIT:N*m'],
    ['torque: 3 N·m', 'KEY:torque : NUMBER:3 UNIT:N·m'],
    ['resistance: 98 mΩ', 'KEY:resistance : NUMBER:98 UNIT:mΩ'],
    ['time: 5 µs', 'KEY:time : NUMBER:5 UNIT:µs'],
    ['air: −5 °C', 'KEY:air : - NUMBER:5 UNIT:°C'],
    ['price: 9 €', 'KEY:price : NUMBER:9 UNIT:€'],
    ['require a >= 3 g/€', 'require ID:a >= NUMBER:3 UNIT:g/€'],
    ['kv: 11000 rpm / V', 'KEY:kv : NUMBER:11000 UNIT:rpm / ID:V'],
    ['kv: 11000 rpm/', 'KEY:kv : NUMBER:11000 UNIT:rpm/'],
    ['require a >= 3 A/2', 'require ID:a >= NUMBER:3 UNIT:A / NUMBER:2'],
    ['flown: 25 % at 1.4 x hover', 'KEY:flown : NUMBER:25 UNIT:% at NUMBER:1.4 TIMES:x ID:hover'],
    ['no_load_current: 0.6 at 7 V', 'KEY:no_load_current : NUMBER:0.6 at NUMBER:7 UNIT:V'],
    ['blades: 3\n g', 'KEY:blades : NUMBER:3 FIRST:g'],
    ['cells: 2 mass: 3 g', 'KEY:cells : NUMBER:2 KEY:mass : NUMBER:3 UNIT:g'],
    ['price: 3 note "x"', 'KEY:price : NUMBER:3 note STRING:"x"'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('every name of a unit is one token behind its number', () => {
  const names = [...UNITS.flatMap(({ name, aliases = [] }) => [name, ...aliases]), ...Object.keys(CURRENCY_SIGNS)];
  it.each([...names, '\u03bcs', 'm\u2126'])('%s', (name) => {
    expect(tokenize(`a: 20 ${name}`)).toBe(`KEY:a : NUMBER:20 UNIT:${name}`);
    expect(tokenize(`a: 20${name} "x"`)).toBe(`KEY:a : NUMBER:20 UNIT:${name} STRING:"x"`);
  });
});

describe('a number', () => {
  it.each([
    ['.5', 'NUMBER:.5'],
    ['7.', 'NUMBER:7.'],
    ['7..8', 'NUMBER:7 .. NUMBER:8'],
    ['7…8', 'NUMBER:7 .. NUMBER:8'],
    ['7 V...8 V', 'NUMBER:7 UNIT:V .. NUMBER:8 UNIT:V'],
    ['1.5e3', 'NUMBER:1.5e3'],
    ['0,62', 'NUMBER:0 , NUMBER:62'],
    ['from Board32.5', 'FIRST:from ID:Board32 . NUMBER:5'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('a date is only behind a colon', () => {
  it.each([
    ['on: 2026-10-04', 'KEY:on : DATE:2026-10-04'],
    ['on: 2026-10-', 'KEY:on : DATE:2026-10-'],
    ['on: 2026-', 'KEY:on : DATE:2026-'],
    ['on: 4.10.2026', 'KEY:on : DATE:4.10.2026'],
    ['mass: 2026', 'KEY:mass : NUMBER:2026'],
    ['kv: 2000..2100 rpm/V', 'KEY:kv : NUMBER:2000 .. NUMBER:2100 UNIT:rpm/V'],
    ['require a > 2026-10-04', 'require ID:a > NUMBER:2026 - NUMBER:10 - NUMBER:04'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('x multiplies behind a number or a unit, and is a name elsewhere', () => {
  it.each([
    ['motors: 4xM1506_3900', 'KEY:motors : NUMBER:4 TIMES:x ID:M1506_3900'],
    ['motors: 4x M1', 'KEY:motors : NUMBER:4 TIMES:x ID:M1'],
    ['motors: 4 M1506', 'KEY:motors : NUMBER:4 ID:M1506'],
    ['motors: 4 xray', 'KEY:motors : NUMBER:4 UNIT:xray'],
    ['bolts: 3 x M1.4 on 6.6 mm', 'KEY:bolts : NUMBER:3 TIMES:x ID:M1.4 on NUMBER:6.6 UNIT:mm'],
    ['esc: x', 'KEY:esc : ID:x'],
    ['require x > 2', 'require ID:x > NUMBER:2'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('a kind is a keyword where a header begins', () => {
  it.each([
    ['motor M1 {', 'motor ID:M1 {'],
    ['motor M1 "t" like M2\n{', 'motor ID:M1 STRING:"t" like ID:M2 {'],
    ['motor M1', 'motor ID:M1'],
    ['  esc Board32\n', 'FIRST:esc ID:Board32'],
    ['load: Lamp from pack', 'KEY:load : ID:Lamp from ID:pack'],
    ['load: X from pack } motor M1 {', 'KEY:load : ID:X from ID:pack } motor ID:M1 {'],
    ['observed with pack {', 'observed with ID:pack {'],
    ['motor: M1', 'KEY:motor : ID:M1'],
    ['motor build {', 'motor ID:build {'],
    ['  rail video {', 'rail ID:video {'],
    ['  rail vid', 'rail ID:vid'],
    ['require rail.video.voltage', 'require ID:rail . ID:video . ID:voltage'],
    ['channels: 4 rail logic {', 'KEY:channels : NUMBER:4 rail ID:logic {'],
    ['motor "a: {b" {', 'motor STRING:"a: {b" {'],
    ['motor M1 // {\n', 'motor ID:M1'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('sentence words are names where a name is wanted', () => {
  it.each([
    ['note "a" for assembly', 'note STRING:"a" for ID:assembly'],
    ['motor note {', 'motor ID:note {'],
    ['load: X from rows.keep', 'KEY:load : ID:X from ID:rows . ID:keep'],
    ['fettle 1\nmotor fettle {', 'fettle NUMBER:1 motor ID:fettle {'],
    ['accept pack-overcurrent below 30 A', 'accept FINDING:pack-overcurrent below NUMBER:30 UNIT:A'],
    ['accept below 30 A', 'accept below NUMBER:30 UNIT:A'],
    ['raise X', 'raise ID:X'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('a word at the start of a line ends what is open above', () => {
  it.each([
    ['kv 11000\n esc Quad', 'FIRST:kv NUMBER:11000 FIRST:esc ID:Quad'],
    ['esc:\n Board32', 'KEY:esc : FIRST:Board32'],
    ['motors: M1\n with', 'KEY:motors : ID:M1 FIRST:with'],
    ['require a +\n b', 'require ID:a + ID:b'],
    ['require a > 2\n and b > 3', 'require ID:a > NUMBER:2 and ID:b > NUMBER:3'],
    ['require a > 2\n because "x"', 'require ID:a > NUMBER:2 because STRING:"x"'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('operators have twins', () => {
  it.each([
    ['a ≤ b ≥ c =< d => e', 'FIRST:a <= ID:b >= ID:c <= ID:d >= ID:e'],
    ['a == b – c − d · e', 'FIRST:a = ID:b - ID:c - ID:d * ID:e'],
    ['3 ± 1 +/- 2 +- 3', 'NUMBER:3 +- NUMBER:1 +- NUMBER:2 +- NUMBER:3'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('a string ends at its line', () => {
  it.each([
    ['note "abc\nmass: 3 g', 'note STRING:"abc KEY:mass : NUMBER:3 UNIT:g'],
    ['build B "abc {\n', 'build ID:B STRING:"abc  {'],
    ['note "a \\" b" for x', 'note STRING:"a \\" b" for ID:x'],
    ['note "a\\\r\n', 'note STRING:"a\\'],
    ['note "{ // no comment"', 'note STRING:"{ // no comment"'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});

describe('names in other scripts', () => {
  it.each([
    ['load: Käuzchen', 'KEY:load : ID:Käuzchen'],
    ['größe: 3 g', 'KEY:größe : NUMBER:3 UNIT:g'],
    ['load: コウモリ', 'KEY:load : ID:コウモリ'],
  ])('%s', (text, expected) => expect(tokenize(text)).toBe(expected));
});
