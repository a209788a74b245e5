/**
 * The log of the examples: a flight of a craft like Spire that exists only here. `node test/simulated/example-log.ts` writes it anew. The craft was drawn
 * once from what Spire’s page leaves open, as the one that flies about as its other observation shows; its numbers are fixed here, so that a change of
 * the examples’ parts or of an estimate does not change what was “flown”.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvOf, flown, plan, type Recorder } from './flown.ts';
import type { TrueCraft } from './physics.ts';

export const EXAMPLE_LOG = join(import.meta.dirname, '../../examples/logs/2026-05-21.csv');

/** With 298 g on the scale it hovers on 5.75 A. */
const CRAFT: TrueCraft = {
  mass: 0.298,
  density: 1.2317,
  dutyLimit: 1,
  draw: 7.491,
  peak: 9.426,
  pack: {
    cells: 4,
    resistance: 6.783e-3,
    leads: 6.351e-3,
    capacity: 3475,
    label: 3753,
    highVoltage: false,
    offset: 0.01645,
    tilt: 0.01314,
    growth: 0.9327,
    reserve: 0.22,
  },
  drive: {
    count: 4,
    gain: 1,
    escResistance: 5.746e-3,
    pwmFrequency: 45819,
    partDutyLoss: 0.02234,
    motor: {
      speedConstant: 334.93,
      resistance: 0.09729,
      commutation: 3.9924e-5,
      lossShare: 0.19526,
      saturation: -0.03084,
      inductance: 1.2044e-5,
      noLoadCurrent: 0.7369,
      noLoadSpeed: 3349.3,
    },
    propeller: {
      diameter: 0.075473,
      thrustCoefficient: 0.14941,
      powerCoefficient: 0.10885,
      speed: 2782.4,
      thrust: [0.14164, -0.02138],
      power: [-0.09326, 0.02863],
    },
  },
};

/** Reads 3 % high. */
const RECORDER: Recorder = { amperes: 1.03, volts: 0.998, zero: 0.03, step: 0.5 };

export function exampleLog(): string {
  const flight = flown(CRAFT, plan(240), RECORDER, 1);
  if (!flight) throw new Error('it does not fly');
  return csvOf(flight);
}

if (import.meta.main) writeFileSync(EXAMPLE_LOG, exampleLog());
