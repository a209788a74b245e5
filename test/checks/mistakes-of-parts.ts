/** Usual mistakes in what is put together. */
import type { CraftName } from '../ordinary-craft.ts';

export interface Mistake {
  readonly on: CraftName;
  readonly what: string;
  readonly from: string;
  readonly to: string;
  readonly finding: string;
}

export const OF_VOLTAGE: readonly Mistake[] = [
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

export const OF_RAILS: readonly Mistake[] = [
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

export const OF_CURRENT: readonly Mistake[] = [
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

export const OF_WEIGHT: readonly Mistake[] = [
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

export const OF_GEOMETRY: readonly Mistake[] = [
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
