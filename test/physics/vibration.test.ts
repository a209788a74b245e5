import { describe, expect, test } from 'vitest';
import {
  peakFrequencyRatio,
  resonanceFrequency,
  resonanceFromSag,
  transmissibility,
  worstTransmissibility,
} from '../../packages/language/src/physics/vibration.ts';
import { below, record, worst } from '../agreement.ts';
import { DAMPING_RATIOS, DEFLECTION, RESONANCE, TRANSMISSIBILITY } from '../reference/transmissibility.ts';

describe('transmissibility: Den Hartog, ch. 2; Rao, sec. 9.10', () => {
  test.each(TRANSMISSIBILITY)('at a frequency ratio of %d', (ratio, ...published) => {
    published.forEach((value, i) => {
      expect(transmissibility(ratio, DAMPING_RATIOS[i] as number) / value).toBeCloseTo(1, 6);
    });
  });

  test('one at √2, whatever the damping', () => {
    for (let damping = 0; damping <= 1; damping += 0.05) {
      expect(transmissibility(Math.SQRT2, damping)).toBeCloseTo(1, 12);
    }
  });

  test.each(RESONANCE)('damping ratio %d peaks at %d with %d', (damping, ratio, peak) => {
    expect(peakFrequencyRatio(damping)).toBeCloseTo(ratio, 6);
    expect(worstTransmissibility(0.5 * 80, 2 * 80, 80, damping)).toBeCloseTo(peak, 4);
  });

  test('a band next to the resonance is worst at its nearer end', () => {
    expect(worstTransmissibility(150, 400, 80, 0.1)).toBe(transmissibility(150 / 80, 0.1));
    expect(worstTransmissibility(20, 40, 80, 0.1)).toBe(transmissibility(40 / 80, 0.1));
  });

  test('J. L. Meriam, L. G. Kraige, Dynamics, Sample Problem 8/6: 67.8 lb transmitted (result from memory)', () => {
    // 100 lb on 200 lb/in, damping ratio 0.4923, 30 rad/s, 0.625 psi on 80 in².
    const resonance = resonanceFrequency(2400, 100 / 32.2) * 2 * Math.PI;
    expect(resonance).toBeCloseTo(27.79928, 4);
    expect(0.625 * 80 * transmissibility(30 / resonance, 0.4922789)).toBeCloseTo(67.8531, 3);
  });
});

test.each(DEFLECTION)('a mount that sinks %d mm resonates at %d Hz (Harris)', (sag, frequency) => {
  expect(resonanceFromSag(sag / 1000) / frequency).toBeCloseTo(1, 6);
});

test('agreement of transmissibility with its table', () => {
  const difference = worst(
    TRANSMISSIBILITY.flatMap(([ratio, ...published]) =>
      published.map((value, i) => transmissibility(ratio, DAMPING_RATIOS[i] as number) / value - 1),
    ),
  );
  record({
    id: 'vibration',
    check: `transmissibility at ${TRANSMISSIBILITY.length} frequency ratios and ${DAMPING_RATIOS.length} damping ratios; one at √2`,
    source:
      'J. P. Den Hartog, Mechanical Vibrations, 4th ed. 1956, ch. 2; S. S. Rao, Mechanical Vibrations, 5th ed., sec. 9.10',
    standing: 'computed',
    suite: 'test/physics/vibration.test.ts',
    found: `largest difference ${below(difference)}`,
  });
});
