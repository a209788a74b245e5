/** However far a reading lies off, it moves what is predicted steadily: laws over simulated craft. */
import { describe, expect, test } from 'vitest';
import { oneIn } from '../long.ts';
import {
  assessed,
  COUNT,
  chance,
  craftOf,
  HEALTHY_FROM,
  looser,
  Tally,
  textOf,
  withPropellersOff,
} from './owners-trial.ts';
import type { Simulated } from './simulated-craft.ts';

const LONG = 3_600_000;

describe('knows no cliff', () => {
  test(
    'a reading moves a result steadily, however far it lies off',
    async () => {
      const [craft] = await craftOf(1, {}, HEALTHY_FROM);
      if (!craft) throw new Error('no such result');
      const { predicted, sd } = await predictionOf(craft);
      const at = async (far: number) => {
        const amperes = predicted * Math.exp(far * sd);
        const { results } = await assessed(textOf(craft, [`hover_current: ${amperes.toFixed(6)} A at 60 %`]));
        return Math.log(results.First.hover_time.value);
      };
      let before = Number.POSITIVE_INFINITY;
      const steps = Array.from({ length: 17 }, (_, i) => i / 2 - 4);
      for (const far of oneIn(2, steps)) {
        const now = await at(far);
        expect(now).toBeLessThan(before);
        before = now;
      }
      const slope = async (far: number) => ((await at(far + 0.05)) - (await at(far - 0.05))) / 0.1;
      const [inside, outside] = [await slope(1.9), await slope(2.1)];
      expect(outside / inside).toBeGreaterThan(0.95);
      expect(outside / inside).toBeLessThan(1.05);
    },
    LONG,
  );

  test(
    'a propeller three sigma off is learnt from one flight',
    async () => {
      const tally = new Tally();
      for (const craft of await withPropellersOff(COUNT)) {
        const { scale, charger, hover } = craft.lines;
        const { results } = await assessed(textOf(craft, [scale, ...charger, ...hover]));
        tally.add(results.First.hover_time, craft.truth.First.hover_time);
      }
      expect(100 * tally.rms).toBeLessThan(6 * looser(tally.count));
      expect(tally.covered).toBeGreaterThan(0.92 - chance(0.08, tally.count));
    },
    LONG,
  );
});

/** What is predicted of a hover at 60 % before anything was measured. */
async function predictionOf(craft: Simulated): Promise<{ predicted: number; sd: number }> {
  const { lines } = await assessed(textOf(craft, ['hover_current: 5 A at 60 %']));
  const [line] = lines;
  if (!line?.before) throw new Error('no line');
  return { predicted: line.before, sd: Math.hypot(line.beforeDeviation, line.error) };
}
