/** The usual mistakes on ordinary craft, one at a time, at both ends of the range: each gives its finding, and only that. */
import { describe, expect, it } from 'vitest';
import { type CraftName, textOf } from '../ordinary-craft.ts';
import { findingsIn } from './findings-in.ts';

interface Mistake {
  readonly on: CraftName;
  readonly what: string;
  readonly from: string;
  readonly to: string;
  readonly finding: string;
}

const OF_VOLTAGE: readonly Mistake[] = [
  {
    on: 'rafter',
    what: 'two cells more, no duty limit',
    from: 'cells: 3S  capacity',
    to: 'cells: 5S  capacity',
    finding: 'error motor-overvoltage',
  },
  {
    on: 'kestrel',
    what: 'a winding for 4S on 6S, no duty limit',
    from: 'kv: 1850 rpm/V  rated: 6S',
    to: 'kv: 2750 rpm/V  rated: 4S',
    finding: 'error motor-overvoltage',
  },
  {
    on: 'martin',
    what: 'a pack of twice the cells',
    from: 'cells: 3S  capacity',
    to: 'cells: 6S  capacity',
    finding: 'error motor-overvoltage',
  },
  {
    on: 'wren',
    what: 'a second cell on parts for one',
    from: 'cells: 1S  capacity',
    to: 'cells: 2S  capacity',
    finding: 'error esc-overvoltage',
  },
  {
    on: 'spire',
    what: 'a board for 3S on 4S',
    from: 'cells: 3S .. 6S',
    to: 'cells: 2S .. 3S',
    finding: 'error esc-overvoltage',
  },
  {
    on: 'belfry',
    what: 'boards for 4S on 6S',
    from: 'cells: 4S .. 6S',
    to: 'cells: 2S .. 4S',
    finding: 'error esc-overvoltage',
  },
  {
    on: 'kestrel',
    what: 'a pack of 2S on a craft for 6S',
    from: 'cells: 6S  capacity',
    to: 'cells: 2S  capacity',
    finding: 'error esc-undervoltage',
  },
  {
    on: 'wren',
    what: 'a board for 2S on 1S',
    from: 'cells: 1S  cont',
    to: 'cells: 2S .. 4S  cont',
    finding: 'error esc-undervoltage',
  },
  {
    on: 'heron',
    what: 'controllers for 6S on 4S',
    from: 'cells: 3S .. 6S',
    to: 'cells: 6S .. 12S',
    finding: 'error esc-undervoltage',
  },
];

const OF_RAILS: readonly Mistake[] = [
  {
    on: 'rafter',
    what: 'a camera that needs 3.6 V per cell straight off the pack',
    from: 'supply: 5.5 V .. 26 V',
    to: 'supply: 10.9 V .. 26 V',
    finding: 'warning rail-undervoltage',
  },
  {
    on: 'rafter',
    what: 'a receiver straight off the pack',
    from: 'ReceiverTwo from Board16x6.logic',
    to: 'ReceiverTwo from pack',
    finding: 'error rail-overvoltage',
  },
  {
    on: 'kestrel',
    what: 'a camera for 4S straight off 6S',
    from: 'supply: 7 V .. 28 V',
    to: 'supply: 7 V .. 17 V',
    finding: 'error rail-overvoltage',
  },
  {
    on: 'siskin',
    what: 'a receiver straight off the pack',
    from: 'ReceiverFour from Board25.logic',
    to: 'ReceiverFour from pack',
    finding: 'error rail-overvoltage',
  },
  {
    on: 'pipit',
    what: 'a step-down where a step-up is needed',
    from: 'type: boost',
    to: 'type: buck',
    finding: 'error rail-undervoltage',
  },
  {
    on: 'pipit',
    what: 'a rail too weak for its camera',
    from: 'output: 5 V  continuous: 1.5 A',
    to: 'output: 5 V  continuous: 0.4 A',
    finding: 'error rail-overcurrent',
  },
  {
    on: 'martin',
    what: 'the recording camera on a rail for a receiver',
    from: 'RecordingCam from Board30.video',
    to: 'RecordingCam from Board30.logic',
    finding: 'error rail-undervoltage',
  },
];

const OF_CURRENT: readonly Mistake[] = [
  {
    on: 'rafter',
    what: 'a far too small board',
    from: 'continuous: 16 A',
    to: 'continuous: 3 A',
    finding: 'warning esc-overcurrent',
  },
  {
    on: 'spire',
    what: 'a far too small board',
    from: 'continuous: 35 A',
    to: 'continuous: 3 A',
    finding: 'error esc-overcurrent',
  },
  {
    on: 'belfry',
    what: 'boards of a small craft',
    from: 'continuous: 50 A',
    to: 'continuous: 15 A',
    finding: 'warning esc-overcurrent',
  },
  {
    on: 'spire',
    what: 'a propeller of 6 inches on a motor for 3',
    from: 'diameter: 3 in',
    to: 'diameter: 6 in',
    finding: 'warning motor-overcurrent',
  },
  {
    on: 'rafter',
    what: 'a tiny pack, charged a hundred times',
    from: 'capacity: 1100 mAh',
    to: 'cycles: 100  capacity: 400 mAh',
    finding: 'warning pack-oversag',
  },
  {
    on: 'kestrel',
    what: 'a pack far too small',
    from: 'capacity: 1300 mAh  discharge: 100C',
    to: 'capacity: 450 mAh  discharge: 45C',
    finding: 'warning pack-oversag',
  },
  {
    on: 'rook',
    what: 'round cells for lamps, not for motors',
    from: 'discharge: 40 A',
    to: 'discharge: 12 A',
    finding: 'error pack-overcurrent',
  },
];

const OF_WEIGHT: readonly Mistake[] = [
  {
    on: 'rafter',
    what: 'a pack of three times the capacity',
    from: 'capacity: 1100 mAh  discharge: 60C  size: 70 x 35 x 21 mm  mass: 94 g',
    to: 'capacity: 3400 mAh  discharge: 60C  mass: 270 g',
    finding: 'hint pack-heavy',
  },
  {
    on: 'gable',
    what: 'a pack of six times the weight',
    from: 'pack: Lipo650_3S',
    to: 'pack: Lipo4000_4S',
    finding: 'hint pack-heavy',
  },
  {
    on: 'rook',
    what: 'a weight it must not have',
    from: 'pack: Round',
    to: 'pack: Round\n  require all_up_weight <= 900 g',
    finding: 'error overweight',
  },
  {
    on: 'wren',
    what: 'a flight it does not make',
    from: 'pack: Stick300',
    to: 'pack: Stick300\n  require hover_time >= 30 min',
    finding: 'error short-flight',
  },
  {
    on: 'pipit',
    what: 'a camera meant for a craft of three times the size',
    from: 'mass: 8.5 g',
    to: 'mass: 80 g',
    finding: 'warning low-thrust',
  },
  {
    on: 'spire',
    what: 'ballast beyond what it lifts',
    from: 'item: 5 g',
    to: 'item: 2.4 kg',
    finding: 'error cannot-hover',
  },
  {
    on: 'heron',
    what: 'a winding far too slow for 4S',
    from: 'kv: 750 rpm/V',
    to: 'kv: 300 rpm/V',
    finding: 'error low-thrust',
  },
  {
    on: 'martin',
    what: 'a duty limit that leaves nothing',
    from: 'pack: P850_3S',
    to: 'pack: P850_3S duty 58 %',
    finding: 'warning low-thrust',
  },
];

const OF_GEOMETRY: readonly Mistake[] = [
  {
    on: 'siskin',
    what: 'six arms for four motors',
    from: 'rotors: 4  wheelbase: 155',
    to: 'rotors: 6  wheelbase: 155',
    finding: 'error rotor-count',
  },
  {
    on: 'rafter',
    what: 'a nought too many in the mass of what it carries, and minutes asked for',
    from: 'item: 6 g "strap, tape"',
    to: 'item: 2200 g "strap, tape"\n  require hover_time >= 4 min',
    finding: 'error cannot-hover',
  },
  {
    on: 'rafter',
    what: 'guards that overlap',
    from: 'guard_diameter: 67 mm',
    to: 'guard_diameter: 67 mm  wheelbase: 100 mm',
    finding: 'warning propeller-close',
  },
  {
    on: 'wren',
    what: 'rings for a smaller propeller',
    from: 'guard_diameter: 33 mm',
    to: 'guard_diameter: 30 mm',
    finding: 'error propeller-too-large',
  },
  {
    on: 'martin',
    what: 'a propeller wider than its duct',
    from: 'diameter: 63.5 mm',
    to: 'diameter: 70 mm',
    finding: 'error propeller-too-large',
  },
  {
    on: 'rafter',
    what: 'five motors',
    from: '6 x M1305',
    to: '5 x M1305',
    finding: 'error rotor-count',
  },
  {
    on: 'heron',
    what: 'a controller short',
    from: '6 x One30',
    to: '5 x One30',
    finding: 'error rotor-count',
  },
  { on: 'belfry', what: 'a board short', from: 'esc: Board50_8 as Bottom', to: '', finding: 'error rotor-count' },
  {
    on: 'rafter',
    what: 'a pack longer than its bay',
    from: 'size: 70 x 35',
    to: 'size: 84 x 35',
    finding: 'error pack-too-large',
  },
];

const OF_TEXT: readonly Mistake[] = [
  { on: 'spire', what: 'kilovolts', from: '3800 rpm/V', to: '3800 kV', finding: 'error wrong-dimension' },
  {
    on: 'wren',
    what: 'a mass in millimetres',
    from: 'mass: 1.9 g',
    to: 'mass: 1.9 mm',
    finding: 'error wrong-dimension',
  },
  { on: 'spire', what: 'a colon forgotten', from: 'esc: Board35', to: 'esc Board35', finding: 'error syntax' },
  { on: 'belfry', what: 'a colon forgotten', from: 'kv: 900', to: 'kv 900', finding: 'error syntax' },
  { on: 'wren', what: 'a unit forgotten', from: 'kv: 19000 rpm/V', to: 'kv: 19000', finding: 'error missing-unit' },
  {
    on: 'rook',
    what: 'no such unit',
    from: 'capacity: 6000 mAh',
    to: 'capacity: 6000 mAhh',
    finding: 'error unknown-unit',
  },
  { on: 'wren', what: 'a decimal comma', from: 'draw: 1.2 W', to: 'draw: 1,2 W', finding: 'error number-form' },
  { on: 'gable', what: 'a nought too many', from: '4600 rpm/V', to: '46000 rpm/V', finding: 'error implausible-value' },
  { on: 'heron', what: 'a nought too few', from: '750 rpm/V', to: '75 rpm/V', finding: 'error implausible-value' },
  {
    on: 'martin',
    what: 'a nought in the cells',
    from: 'cells: 3S',
    to: 'cells: 30S',
    finding: 'error implausible-value',
  },
  {
    on: 'siskin',
    what: 'a point in the wrong place',
    from: 'diameter: 3.5 in',
    to: 'diameter: 0.35 in',
    finding: 'error implausible-value',
  },
  { on: 'martin', what: 'a range the wrong way round', from: '7 V ..', to: '70 V ..', finding: 'error number-form' },
  {
    on: 'rafter',
    what: 'a nought too many in the capacity',
    from: 'capacity: 1100 mAh',
    to: 'capacity: 11000 mAh',
    finding: 'error claims-disagree',
  },
  {
    on: 'siskin',
    what: 'a nought too few in the capacity',
    from: 'capacity: 850 mAh',
    to: 'capacity: 85 mAh',
    finding: 'error claims-disagree',
  },
  {
    on: 'spire',
    what: 'a nought too many in the mass of the pack',
    from: 'mass: 98 g',
    to: 'mass: 980 g',
    finding: 'error claims-disagree',
  },
  {
    on: 'rafter',
    what: 'a dry mass far below that of its parts',
    from: 'pack: P1100',
    to: 'pack: P1100\n  dry_mass: 100 g',
    finding: 'warning claims-disagree',
  },
  {
    on: 'rafter',
    what: 'a decimal comma in a requirement',
    from: 'pack: P1100',
    to: 'pack: P1100\n  require hover_time >= 1,5 min',
    finding: 'error number-form',
  },
  {
    on: 'siskin',
    what: 'a nought too many in kv',
    from: '3000 rpm/V',
    to: '30000 rpm/V',
    finding: 'error claims-disagree',
  },
  {
    on: 'belfry',
    what: 'a nought too many in kv',
    from: '900 rpm/V',
    to: '9000 rpm/V',
    finding: 'error claims-disagree',
  },
  {
    on: 'rafter',
    what: 'a flight without its pack, of two',
    from: 'pack: P1100',
    to: 'pack: P1100\n  pack: P1100 as Other\n  observed "barn" { scale: 262.6 g }',
    finding: 'error missing-value',
  },
  { on: 'rafter', what: 'a kind misspelt', from: 'motor M1305 {', to: 'moter M1305 {', finding: 'error unknown-name' },
  { on: 'rafter', what: 'a needed word misspelt', from: 'kv: 4200', to: 'kvv: 4200', finding: 'error unknown-name' },
  {
    on: 'rafter',
    what: 'a pack misspelt that a requirement names',
    from: 'pack: P1100',
    to: 'pack: P1001\n  require hover_time >= 2 min with P1100',
    finding: 'error unknown-name',
  },
  {
    on: 'rafter',
    what: 'no pack, but a requirement for one',
    from: 'pack: P1100',
    to: 'require hover_time >= 2 min with P1100',
    finding: 'error missing-value',
  },
  {
    on: 'rafter',
    what: 'eight cells on a board for six',
    from: 'cells: 3S  capacity',
    to: 'cells: 8S  capacity',
    finding: 'error esc-overvoltage',
  },
  {
    on: 'rafter',
    what: 'an item without its mass',
    from: 'item: 6 g "strap, tape"',
    to: 'item: "strap, tape"',
    finding: 'error missing-value',
  },
  {
    on: 'rafter',
    what: 'a wire for a lead',
    from: 'pack: P1100',
    to: 'pack: P1100\n  lead: 80 mm of 20 AWG',
    finding: 'error wrong-kind',
  },
  {
    on: 'rafter',
    what: 'a peak below the draw',
    from: 'draw: 5.5 W',
    to: 'draw: 5.5 W  peak: 2 W',
    finding: 'warning implausible-value',
  },
  {
    on: 'rafter',
    what: 'a burst below the continuous rating',
    from: 'continuous: 16 A',
    to: 'continuous: 16 A  burst: 12 A for 5 s',
    finding: 'warning implausible-value',
  },
  {
    on: 'rafter',
    what: 'more put back than the pack holds',
    from: 'pack: P1100',
    to: 'pack: P1100\n  observed "first flight" with P1100 { airborne: 5 min  put_back: 2200 mAh }',
    finding: 'warning observed-disagrees',
  },
  { on: 'rafter', what: 'ampere-hours', from: '1100 mAh', to: '1100 Ah', finding: 'error implausible-value' },
  {
    on: 'kestrel',
    what: 'a pack misspelt',
    from: 'pack: P1300_6S',
    to: 'pack: P1300_6s',
    finding: 'error unknown-name',
  },
  {
    on: 'pipit',
    what: 'a rail misspelt',
    from: 'LightCam from Board12.video',
    to: 'LightCam from Board12.vidoe',
    finding: 'error unknown-name',
  },
  { on: 'siskin', what: 'a motor for a propeller', from: 'with P89x3', to: 'with M2004', finding: 'error wrong-kind' },
  {
    on: 'heron',
    what: 'a part twice',
    from: 'pack P5000',
    to: 'load Pilot { draw: 3 W }\npack P5000',
    finding: 'error duplicate',
  },
  {
    on: 'fledgling',
    what: 'one of the nine numbers left out',
    from: 'blades: 3 ',
    to: '',
    finding: 'error missing-value',
  },
];

const MISTAKES = {
  'of voltage': OF_VOLTAGE,
  'of rails': OF_RAILS,
  'of current': OF_CURRENT,
  'of weight': OF_WEIGHT,
  'of geometry': OF_GEOMETRY,
  'of text': OF_TEXT,
};

describe.each(Object.entries(MISTAKES))('mistakes %s', (_, mistakes) => {
  it.each(mistakes)('$on: $what', async ({ on, from, to, finding }) => {
    const text = textOf(on);
    expect(text).toContain(from);
    const found = (await findingsIn({ 'craft.fettle': text.replace(from, to) }))['craft.fettle'] ?? [];
    const beside = found.filter(({ id }) => id !== 'estimates');
    expect(beside.map(({ severity, id, message }) => `${severity} ${id}: ${message}`)).toEqual([
      expect.stringMatching(new RegExp(`^${finding}: `)),
    ]);
  });
});
