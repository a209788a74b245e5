/** Searches read a craft without any ±, number by number: each is that of the whole assessment. */
import { expect, test } from 'vitest';
import { assess, assessChanged, assessPlainly } from '../../packages/language/src/analysis/assess.ts';
import { assessedIn } from '../checks/findings-in.ts';
import { oneIn } from '../long.ts';
import { ORDINARY } from '../ordinary-craft.ts';
import { SMALL_CRAFT } from '../small-craft.ts';

const FLIES = `${SMALL_CRAFT}
flight Round { leg: 20 s climb at 2 m/s  leg: 100 m at 6 m/s against 2 m/s  leg: home at 6 m/s  leg: 20 s descent at 2 m/s }
build Flies like Healthy { flight: Round  require flight.Round.charge_left >= 20 % }
build Sinks like Healthy { item: 1800 g "ballast" }
motor Warm like M1506 { thermal_resistance: 9 K/W measured }
build Heated like Healthy { motors: 4 x Warm with P3022x3 }
build Bare { pack: Slim900_3S }
`;

const texts = {
  ...Object.fromEntries(oneIn(4, ORDINARY).map(({ file, text }) => [file, text])),
  'flies.fettle': FLIES,
};

test('in any order, with the reasons of those that there are not', async () => {
  const builds = Object.values(await assessedIn(texts)).flat();
  const named = new Set(builds.map(({ build }) => build.name));
  for (const name of ['Flies', 'Sinks', 'Heated', 'Bare']) expect(named).toContain(name);
  for (const { build } of builds) {
    for (const option of build.packs) {
      const [whole, plain] = [assess(build, option), assessPlainly(build, option)];
      for (const [name, { estimate, label, unit }] of [...whole.results].reverse()) {
        const found = plain.results.get(name);
        expect([found?.label, found?.unit], name).toEqual([label, unit]);
        expect(Math.abs((found?.estimate.value ?? Number.NaN) / estimate.value - 1) || 0, name).toBeLessThan(1e-12);
        expect(found?.estimate.contributions.length).toBe(0);
      }
      expect(new Set(plain.results.keys())).toEqual(new Set(whole.results.keys()));
      expect(new Map([...plain.missing].map(([name, { reason }]) => [name, reason]))).toEqual(
        new Map([...whole.missing].map(([name, { reason }]) => [name, reason])),
      );
      const parts = ({ rotors, loads, rails }: typeof whole) => ({
        rotors: rotors.map(({ fullCurrent }) => fullCurrent?.value),
        loads: loads.map(({ burstVoltage }) => burstVoltage?.value),
        rails: rails.map(({ dropsOut }) => dropsOut),
      });
      expect(parts(plain)).toEqual(parts(whole));
      expect(plain.masses).toEqual(whole.masses);
      expect(JSON.stringify(plain.flights.map(({ flown }) => flown))).toBe(
        JSON.stringify(whole.flights.map(({ flown }) => flown)),
      );
    }
  }
});

test('with their ±, of whichever results are read', async () => {
  const builds = (await assessedIn({ 'flies.fettle': FLIES }))['flies.fettle'] ?? [];
  for (const { build } of builds) {
    for (const option of build.packs) {
      const whole = assess(build, option);
      const read = assessChanged(build, option, (setup) => setup, ['hover_time', 'thrust_to_weight']);
      for (const name of ['thrust_to_weight', 'all_up_weight', 'hover_time', 'flight.Round.charge_left'] as const) {
        const [one, other] = [read, whole].map(({ results }) => results.get(name)?.estimate);
        expect(one?.value, name).toBe(other?.value);
        expect([...(one?.contributions ?? [])], name).toEqual([...(other?.contributions ?? [])]);
      }
    }
  }
});
