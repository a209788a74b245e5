/** Mount transmissibility. */
import { oncePerRevolution, transmissibility } from '../../physics/vibration.ts';
import { ofFigure, ofResult } from '../explain/derivation-terms.ts';
import { softestMount } from '../setup/optional.ts';
import { VIBRATION_SOURCE } from './explaining.ts';
import { inFlight, mostOfLines } from './reading.ts';
import type { ResultComputation } from './result.ts';

export const mountTransmissibility: ResultComputation = {
  needs: ['hover', 'mount'],
  of: inFlight('hover', (at) => {
    const { mount } = at.evaluation.setup;
    if (!mount) return undefined;
    const shaking = oncePerRevolution(mostOfLines(at, ({ speed }) => speed));
    return transmissibility(shaking / mount.frequency, mount.damping);
  }),
  explain: (assessment) => ({
    formula: '√((1 + (2·ζ·r)²) / ((1 − r²)² + (2·ζ·r)²)), r = n/f',
    description: 'The share of a vibration at hover speed that the softest mount passes on.',
    terms: [
      ofResult('n', 'hover_speed', assessment),
      ofResult('f', 'mount_frequency', assessment),
      ofFigure('ζ', softestMount(assessment.build.loads)?.damping),
    ],
    source: VIBRATION_SOURCE,
    neglects: 'rotation and coupling of the motions; resonances of the frame',
  }),
};
