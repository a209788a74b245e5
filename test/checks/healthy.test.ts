/** A healthy craft shows no red: ordinary builds from page figures, over the whole range, and the usual mistakes made on them. */
import { describe, expect, it } from 'vitest';
import { ORDINARY } from '../ordinary-craft.ts';
import { findingsIn } from './findings-in.ts';

const found = async (text: string): Promise<string[]> => {
  const findings = (await findingsIn({ 'craft.fettle': text }))['craft.fettle'] ?? [];
  return findings.map(({ severity, id }) => `${severity} ${id}`);
};

/** Without the one note on estimates. */
const foundBesideEstimates = async (text: string): Promise<string[]> =>
  (await found(text)).filter((line) => !line.endsWith(' estimates'));

/** The library's parts as they are: only what differs is said. */
const FROM_THE_LIBRARY = `
motor Mine like Stator1404 { kv: 4600 rpm/V }
build Gable {
  airframe: Open145
  motors: 4 x Mine with Propeller76x2
  esc: FourInOne20
  load: DigitalCamera
  load: Receiver
  item: LightStrap
  pack: Lipo650_3S
}`;

const NINE_NUMBERS = `
motor Mine { stator: 12 x 4 mm  kv: 6000 rpm/V }
propeller Three { diameter: 63.5 mm  blades: 3 }
esc Fifteen { continuous: 15 A }
load Video { draw: 4 W }
pack Blue { cells: 3S  capacity: 450 mAh }
build Fledgling { motors: 4 x Mine with Three  esc: Fifteen  load: Video  pack: Blue  dry_mass: 92 g }`;

const HEALTHY = [
  ...ORDINARY,
  { name: 'one made of the library’s parts', text: FROM_THE_LIBRARY },
  { name: 'one of nine numbers', text: NINE_NUMBERS },
];

describe('healthy', () => {
  it.each(HEALTHY)('$name: at most one note on estimates, nothing else', async ({ text }) => {
    const all = await found(text);
    expect(all.filter((line) => !line.endsWith(' estimates'))).toEqual([]);
    expect(all.length).toBeLessThanOrEqual(1);
  });

  it.each(HEALTHY)('$name: the same with CRLF and with its lines in another order', async ({ text }) => {
    const usual = await found(text);
    expect(await found(text.replaceAll('\n', '\r\n'))).toEqual(usual);
    const blocks = text.trim().split(/\n(?=\w)/);
    expect(await found(blocks.toReversed().join('\n'))).toEqual(usual);
  });
});

/** One mistake at a time: what is replaced, and the one finding that it gives. */
interface Mistake {
  readonly on: string;
  readonly what: string;
  readonly from: string;
  readonly to: string;
  readonly finding: string;
}

const WREN = 'a ducted 65 mm craft on a single high-voltage cell';
const RAFTER = 'a ducted 90 mm craft on 2S';
const SPIRE = 'an open 3-inch craft on 4S';
const KESTREL = 'an open 5-inch craft on 6S';
const ROOK = 'a 7-inch craft for long flights on round cells';
const BELFRY = 'eight rotors in stacked pairs, 2.5 kg';

const MISTAKES: readonly Mistake[] = [
  {
    on: RAFTER,
    what: 'one cell more, no limit',
    from: 'cells: 2S  cap',
    to: 'cells: 3S  cap',
    finding: 'error motor-overvoltage',
  },
  {
    on: KESTREL,
    what: 'a winding for 4S on 6S',
    from: 'rated: 6S',
    to: 'rated: 4S',
    finding: 'error motor-overvoltage',
  },
  {
    on: SPIRE,
    what: 'a board for 3S on 4S',
    from: 'cells: 3S .. 6S',
    to: 'cells: 2S .. 3S',
    finding: 'error esc-overvoltage',
  },
  {
    on: WREN,
    what: 'a board for 2S on 1S',
    from: 'cells: 1S  cont',
    to: 'cells: 2S .. 4S  cont',
    finding: 'error esc-undervoltage',
  },
  {
    on: SPIRE,
    what: 'a far too small board',
    from: 'continuous: 35 A',
    to: 'continuous: 3 A',
    finding: 'error esc-overcurrent',
  },
  {
    on: KESTREL,
    what: 'a camera for 4S on 6S',
    from: 'supply: 7 V .. 28 V',
    to: 'supply: 7 V .. 17 V',
    finding: 'error rail-overvoltage',
  },
  {
    on: RAFTER,
    what: 'a camera that needs 8 V on 2S',
    from: 'supply: 4.5 V',
    to: 'supply: 8 V',
    finding: 'error rail-undervoltage',
  },
  {
    on: RAFTER,
    what: 'a propeller wider than its duct',
    from: 'diameter: 51 mm',
    to: 'diameter: 55 mm',
    finding: 'error propeller-too-large',
  },
  {
    on: KESTREL,
    what: 'a motor short',
    from: 'airframe Five {',
    to: 'airframe Five { rotors: 6 ',
    finding: 'error rotor-count',
  },
  { on: BELFRY, what: 'a board short', from: 'esc: Board as Bottom', to: '', finding: 'error rotor-count' },
  {
    on: ROOK,
    what: 'a weight it must not have',
    from: 'pack: Round ',
    to: 'pack: Round  require all_up_weight <= 700 g ',
    finding: 'error overweight',
  },
  {
    on: WREN,
    what: 'a flight it does not make',
    from: 'pack: Stick ',
    to: 'pack: Stick  require hover_time >= 30 min ',
    finding: 'error short-flight',
  },
  { on: SPIRE, what: 'far too much ballast', from: 'item: 5 g', to: 'item: 1.9 kg', finding: 'error cannot-hover' },
  { on: SPIRE, what: 'kilovolts', from: '3800 rpm/V', to: '3800 kV', finding: 'error wrong-dimension' },
  { on: SPIRE, what: 'a colon forgotten', from: 'esc: Board', to: 'esc Board', finding: 'error syntax' },
  { on: KESTREL, what: 'a pack misspelt', from: 'pack: P1300', to: 'pack: P1301', finding: 'error unknown-name' },
];

describe('a mistake gives its finding, and only that', () => {
  it.each(MISTAKES)('$on: $what', async ({ on, from, to, finding }) => {
    const text = ORDINARY.find(({ name }) => name === on)?.text ?? '';
    expect(text).toContain(from);
    expect(await foundBesideEstimates(text.replace(from, to))).toEqual([finding]);
  });
});
