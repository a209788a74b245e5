/** A three-inch craft in rings of the demo scenario, by hand: 1506 motors wound for 3S, a camera on a 12 V rail, a lamp supplied by the pack. */
import type { Build, PackOption, Part } from '../../packages/language/src/model/build.ts';
import { build, load, PLACE, packOption, part, rotors, stated, use } from './handmade-builds.ts';

export const M1506: Part<'motor'> = part('motor', 'M1506_3900', {
  figures: {
    kv: stated(3900, 'rpm/V', 117),
    resistance: stated(74, 'mohm', 4, { origin: 'measured' }),
    inductance: stated(8.5, 'uH', 5, { origin: 'estimated' }),
    no_load_current: stated(0.86, 'A', 0.04, { conditions: { at: stated(11.1, 'V') } }),
    poles: stated(12, ''),
    mass: stated(12.4, 'g', 0.06, { origin: 'measured' }),
    burst: stated(17, 'A'),
  },
  ranges: { rated: [3, 3, 'S'] },
});

export const M1506_2400: Part<'motor'> = part('motor', 'M1506_2400', {
  figures: {
    kv: stated(2400, 'rpm/V', 72),
    resistance: stated(188, 'mohm', 9, { origin: 'measured' }),
    inductance: stated(22, 'uH', 12, { origin: 'estimated' }),
    no_load_current: stated(0.55, 'A', 0.04, { conditions: { at: stated(18.5, 'V') } }),
    poles: stated(12, ''),
    mass: stated(12.4, 'g', 0.06, { origin: 'measured' }),
  },
  ranges: { rated: [5, 5, 'S'] },
});

export const P3022x3: Part<'propeller'> = part('propeller', 'P3022x3', {
  figures: {
    diameter: stated(76, 'mm', 0.7),
    thrust_coefficient: stated(0.15, '', 0.05, { origin: 'estimated' }),
    power_coefficient: stated(0.09, '', 0.03, { origin: 'estimated' }),
    mass: stated(1.52, 'g', 0.01, { origin: 'measured' }),
  },
});

export const Board32: Part<'esc'> = part('esc', 'Board32', {
  figures: {
    resistance: stated(8, 'mohm', 3, { origin: 'estimated' }),
    pwm_frequency: stated(48, 'kHz', 12, { origin: 'estimated' }),
    standby_current: stated(120, 'mA', 6),
    continuous: stated(32, 'A'),
    burst: stated(40, 'A'),
    mass: stated(11.3, 'g', 0.1, { origin: 'measured' }),
  },
});

const videoPart = part('rail', 'video', {
  figures: {
    output: stated(12, 'V', 0.24),
    dropout: stated(0.6, 'V', 0.3),
    efficiency: stated(88, '%', 4),
    standby_current: stated(5, 'mA', 2),
  },
  words: { type: 'buck' },
});
const logicPart = part('rail', 'logic', {
  figures: {
    output: stated(5, 'V', 0.1),
    dropout: stated(1, 'V', 0.5),
    efficiency: stated(100, '%'),
    standby_current: stated(5, 'mA', 2),
  },
  words: { type: 'linear' },
});
const video = { name: 'video', part: videoPart, from: { pack: true } as const, place: PLACE };
const logic = { name: 'logic', part: logicPart, from: { rail: video }, place: PLACE };

const WideCam = part('load', 'WideCam', {
  figures: { draw: stated(4.8, 'W', 0.4), peak: stated(6.2, 'W', 0.6), mass: stated(16.2, 'g', 0.2) },
  ranges: { supply: [10.2, 28, 'V'] },
});
const Receiver = part('load', 'Receiver', {
  figures: { draw: stated(85, 'mA', 8), mass: stated(1.2, 'g', 0.05) },
  ranges: { supply: [4.5, 5.5, 'V'] },
});
const Lamp = part('load', 'Lamp', {
  figures: { draw: stated(2.6, 'W', 0.3), mass: stated(5.2, 'g', 0.2) },
  ranges: { supply: [8, 26, 'V'] },
});
const Ring160 = part('airframe', 'Ring160', {
  figures: { mass: stated(47.5, 'g', 0.4, { origin: 'measured' }), duct_gain: stated(4, '%', 8) },
});
const Strap = part('item', 'Strap', { figures: { mass: stated(1.6, 'g', 0.1) } });

const slim = (name: string, cells: number, grams: number): Part<'pack'> =>
  part('pack', name, {
    cells: [cells, 1],
    words: { chemistry: 'lipo' },
    figures: {
      capacity: stated(900, 'mAh', 45, { origin: 'claimed' }),
      cell_resistance: stated(9, 'mohm', 0.9, { origin: 'measured' }),
      temperature: stated(20, 'degC', 5),
      lead: stated(60, 'mm', 6, { conditions: { of: stated(18, 'AWG') } }),
      plug_resistance: stated(1, 'mohm', 0.5),
      mass: stated(grams, 'g', 0.3, { origin: 'measured' }),
    },
  });

export const Slim900_3S: PackOption = packOption(slim('Slim900_3S', 3, 78.1));
export const Slim900_5S: PackOption = packOption(slim('Slim900_5S', 5, 126.3), 0.58);

export const Rafter: Build = build({
  name: 'Rafter',
  airframe: use(Ring160),
  rotors: [rotors(4, M1506, P3022x3)],
  escs: [use(Board32)],
  rails: [video, logic],
  loads: [load(WideCam, { rail: video }), load(Receiver, { rail: logic }), load(Lamp)],
  items: [use(Strap)],
  packs: [Slim900_3S, Slim900_5S],
});
