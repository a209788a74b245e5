/** The demo scenario's small ducted craft, by hand: 1104 motors on 2S, a camera on a 10 V rail, a lamp straight off the pack. */
import type { Build, PackOption, Part } from '../../packages/language/src/model/build.ts';
import { build, load, PLACE, packOption, part, rotors, stated, use } from './builds.ts';

export const M1104: Part = part('motor', 'M1104_10500', {
  figures: {
    kv: stated(10500, 'rpm/V', 315),
    resistance: stated(98, 'mohm', 5, { origin: 'measured' }),
    inductance: stated(3.9, 'uH', 2.3, { origin: 'estimated' }),
    no_load_current: stated(0.62, 'A', 0.03, { conditions: { at: stated(7.4, 'V') } }),
    poles: stated(12, ''),
    mass: stated(3.4, 'g', 0.02, { origin: 'measured' }),
    burst: stated(12, 'A'),
  },
  ranges: { rated: [2, 2, 'S'] },
});

export const M1104_7800: Part = part('motor', 'M1104_7800', {
  figures: {
    kv: stated(7800, 'rpm/V', 234),
    resistance: stated(150, 'mohm', 8, { origin: 'measured' }),
    inductance: stated(7.1, 'uH', 4, { origin: 'estimated' }),
    no_load_current: stated(0.45, 'A', 0.03, { conditions: { at: stated(11.1, 'V') } }),
    poles: stated(12, ''),
    mass: stated(3.4, 'g', 0.02, { origin: 'measured' }),
  },
  ranges: { rated: [3, 3, 'S'] },
});

export const P2020x3: Part = part('propeller', 'P2020x3', {
  figures: {
    diameter: stated(51, 'mm', 0.5),
    thrust_coefficient: stated(0.175, '', 0.07, { origin: 'estimated' }),
    power_coefficient: stated(0.14, '', 0.05, { origin: 'estimated' }),
    mass: stated(0.52, 'g', 0.01, { origin: 'measured' }),
  },
});

export const Board18: Part = part('esc', 'Board18', {
  figures: {
    resistance: stated(8, 'mohm', 3, { origin: 'estimated' }),
    pwm_frequency: stated(48, 'kHz', 12, { origin: 'estimated' }),
    standby_current: stated(120, 'mA', 6),
    continuous: stated(18, 'A'),
    burst: stated(22, 'A'),
    mass: stated(6.1, 'g', 0.06, { origin: 'measured' }),
  },
});

const videoPart = part('rail', 'video', {
  figures: {
    output: stated(10, 'V', 0.2),
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
export const video = { name: 'video', part: videoPart, from: { pack: true } as const, place: PLACE };
export const logic = { name: 'logic', part: logicPart, from: { rail: video }, place: PLACE };

const WideCam = part('load', 'WideCam', {
  figures: { draw: stated(2.4, 'W', 0.2), peak: stated(3.1, 'W', 0.3), mass: stated(6.8, 'g', 0.07) },
  ranges: { supply: [6.8, 26, 'V'] },
});
const Receiver = part('load', 'Receiver', {
  figures: { draw: stated(70, 'mA', 7), mass: stated(0.9, 'g', 0.05) },
  ranges: { supply: [4.5, 5.5, 'V'] },
});
const Lamp = part('load', 'Lamp', {
  figures: { draw: stated(1.5, 'W', 0.2), mass: stated(4.2, 'g', 0.2) },
  ranges: { supply: [6, 13, 'V'] },
});
const Duct90 = part('airframe', 'Duct90', {
  figures: { mass: stated(31.5, 'g', 0.3, { origin: 'measured' }), duct_gain: stated(3, '%', 8) },
});
const Strap = part('item', 'Strap', { figures: { mass: stated(1.6, 'g', 0.1) } });

const slim = (name: string, cells: number, grams: number): Part =>
  part('pack', name, {
    cells: [cells, 1],
    words: { chemistry: 'lipo' },
    figures: {
      capacity: stated(480, 'mAh', 24, { origin: 'claimed' }),
      usable: stated(95, '%', 5),
      cell_resistance: stated(14, 'mohm', 1.4, { origin: 'measured' }),
      temperature: stated(20, 'degC', 5),
      lead: stated(60, 'mm', 6, { conditions: { of: stated(20, 'AWG') } }),
      plug_resistance: stated(1, 'mohm', 0.5),
      mass: stated(grams, 'g', 0.3, { origin: 'measured' }),
    },
  });

export const Slim480_2S: PackOption = packOption(slim('Slim480_2S', 2, 28.1));
export const Slim480_3S: PackOption = packOption(slim('Slim480_3S', 3, 40.3), 0.66);

export const Rafter: Build = build({
  name: 'Rafter',
  airframe: use(Duct90),
  rotors: [rotors(4, M1104, P2020x3)],
  escs: [use(Board18)],
  rails: [video, logic],
  loads: [load(WideCam, { rail: video }), load(Receiver, { rail: logic }), load(Lamp)],
  items: [use(Strap)],
  packs: [Slim480_2S, Slim480_3S],
});
