/** Random craft over the range the trade flies, every figure with a ±; the same ones for the same seed. */

import type { Build, PackOption } from '../../packages/language/src/model/build.ts';
import { between, logBetween, pick, randomNumbers } from '../seeded.ts';
import { build, load, PLACE, packOption, part, rotors, stated, use } from './handmade-builds.ts';

export interface RandomCraft {
  readonly build: Build;
  readonly option: PackOption;
}

/** @param uncertainty multiplies every ±; 1 is what pages and practice give */
export function randomCraft(seed: number, uncertainty = 1): RandomCraft {
  const random = randomNumbers(seed);
  const figure = (value: number, unit: string, relative: number) =>
    stated(value, unit, uncertainty * relative * Math.abs(value));

  // One size sets the scale: diameters in mm, masses and windings that belong to them.
  const diameter = logBetween(random, 40, 180);
  const mass = 95 * (diameter / 51) ** 2.2 * between(random, 0.8, 1.2);
  const cells = diameter < 55 ? pick(random, [2, 3]) : diameter < 110 ? pick(random, [3, 4]) : pick(random, [4, 6]);
  const kv = (((0.4 * 340 * 60) / (Math.PI * diameter * 1e-3)) * 1.7) / (cells * 3.7);
  const ampere = 6.5 * (mass / 95) * (2 / cells);

  const thermalResistance = figure(logBetween(random, 3, 8) * (95 / mass) ** 0.6, 'K/W', 0.3);
  const motor = part('motor', 'Motor', {
    figures: {
      kv: figure(kv, 'rpm/V', 0.03),
      resistance: figure((0.09 * cells * 3.7) / ampere, 'ohm', 0.2),
      inductance: figure(((3.9e-6 * cells * 3.7) / ampere) * 1.2, 'H', 0.4),
      no_load_current: { ...figure(0.06 * ampere, 'A', 0.2), conditions: { at: stated(cells * 3.7, 'V') } },
      poles: stated(diameter < 80 ? 12 : 14, ''),
      mass: figure(0.14 * mass, 'g', 0.02),
      // Every second one knows how its motors shed heat; in the others copper is as warm as usual.
      ...(seed % 2 === 0 && { thermal_resistance: thermalResistance }),
    },
  });
  const propeller = part('propeller', 'Propeller', {
    figures: {
      diameter: figure(diameter, 'mm', 0.01),
      thrust_coefficient: figure(between(random, 0.13, 0.19), '', 0.1),
      power_coefficient: figure(between(random, 0.08, 0.14), '', 0.1),
      mass: figure(0.006 * mass, 'g', 0.05),
    },
  });
  const esc = part('esc', 'Board', {
    figures: {
      resistance: figure(0.14 / (2 * ampere), 'ohm', 0.4),
      pwm_frequency: figure(pick(random, [24, 48, 96]), 'kHz', 0.1),
      standby_current: figure(80, 'mA', 0.3),
      burst: stated(2.4 * ampere, 'A'),
      mass: figure(0.06 * mass, 'g', 0.05),
    },
  });
  const rail = {
    name: 'video',
    part: part('rail', 'video', {
      figures: {
        output: figure(5, 'V', 0.02),
        dropout: figure(0.5, 'V', 0.3),
        efficiency: stated(88, '%', 4 * uncertainty),
        standby_current: figure(5, 'mA', 0.4),
      },
      words: { type: pick(random, ['buck', 'buck', 'buck_boost']) },
    }),
    from: { pack: true } as const,
    place: PLACE,
  };
  const camera = part('load', 'Camera', {
    figures: { draw: figure(3, 'W', 0.1), peak: figure(4, 'W', 0.1), mass: figure(6, 'g', 0.05) },
    ranges: { supply: [4, 26, 'V'] },
  });
  const lamp = part('load', 'Lamp', { figures: { draw: figure(0.2, 'A', 0.1), mass: figure(2, 'g', 0.05) } });
  const airframe = part('airframe', 'Frame', {
    figures: {
      mass: figure(0.25 * mass, 'g', 0.02),
      duct_gain: stated(2, '%', 5 * uncertainty),
      drag_area: figure(0.6e-4 * mass, 'm^2', 0.3),
    },
  });
  const capacity = (480 * (mass / 95) * 2) / cells;
  const pack = part('pack', 'Pack', {
    cells: [cells, 1],
    words: { chemistry: pick(random, ['lipo', 'lipo', 'lihv', 'liion']) },
    figures: {
      capacity: figure(capacity, 'mAh', 0.05),
      cell_resistance: figure(6.5 / capacity, 'ohm', 0.2),
      temperature: stated(20, 'degC', 5 * uncertainty),
      lead: { ...figure(60, 'mm', 0.1), conditions: { of: stated(0.5 * (mass / 95), 'mm^2') } },
      plug_resistance: figure(1, 'mohm', 0.3),
      mass: figure(0.3 * mass, 'g', 0.03),
    },
  });
  const option = packOption(pack, pick(random, [1, 1, 0.85]));
  return {
    option,
    build: build({
      name: `Random${seed}`,
      airframe: use(airframe),
      rotors: [rotors(4, motor, propeller)],
      escs: [use(esc)],
      rails: [rail],
      loads: [load(camera, { rail }), load(lamp)],
      packs: [option],
    }),
  };
}
