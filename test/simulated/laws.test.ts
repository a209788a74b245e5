/**
 * What was measured is used rightly: laws over simulated craft, whose truth is known and behaves by another model than the project's.
 * `FETTLE_SIMULATED_CRAFT=300` tries that many; the ordinary run tries fewer, with bounds as much wider as chance makes them.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { templateOf } from '../../packages/language/src/analysis/assess.ts';
import type { Learnt } from '../../packages/language/src/analysis/assessment.ts';
import { fitOf } from '../../packages/language/src/analysis/learn/fit.ts';
import { measuredOf } from '../../packages/language/src/analysis/learn/learn.ts';
import { judgedIn } from '../checks/findings-in.ts';
import { oneIn } from '../long.ts';
import { heldBack } from './held-back.ts';
import {
  ALL_ROWS,
  addDoubled,
  assessed,
  COUNT,
  chance,
  check,
  craftAt,
  craftOf,
  type Found,
  HEALTHY_FROM,
  looser,
  NAMES,
  PACKS,
  SETS,
  some,
  Tally,
  type Tried,
  tallyOf,
  textOf,
  tried,
  triedDoubled,
  withPropellersOff,
  writeReport,
} from './owners-trial.ts';
import type { Simulated } from './simulated-craft.ts';

const LONG = 3_600_000;
const all: Tried[] = [];
let healthy: readonly Simulated[] = [];

beforeAll(async () => {
  healthy = await craftOf(COUNT, {}, HEALTHY_FROM);
  for (const craft of healthy) all.push(await tried(craft));
  if (process.env.FETTLE_AGREEMENT === 'write') writeReport(all);
}, LONG);

describe('counts once', () => {
  test('a figure observed is that figure declared', async () => {
    for (const craft of healthy.slice(0, some(3, 8))) {
      const milliohms = craft.lines.resistance.split(' ').slice(1).join(' ');
      const plain = await assessed(textOf(craft, [craft.lines.scale]));
      const [seen, stated] = [
        await assessed(textOf(craft, [craft.lines.scale, `cell_resistance: ${milliohms}`])),
        await assessed(
          textOf(
            {
              ...craft,
              page: craft.page.replace('pack First {', `pack First { cell_resistance: ${milliohms} measured `),
            },
            [craft.lines.scale],
          ),
        ),
      ];
      const name = 'land_by_hover_voltage';
      const [before, one, other] = [plain, seen, stated].map(({ results }) => results.First[name]);
      if (!before || !one || !other) throw new Error('no such result');
      // What cannot be observed is not required.
      const gap = Math.max(Math.abs(other.value - before.value), 0.02 * before.plusMinus * before.value);
      expect(Math.abs(one.value - other.value)).toBeLessThan(0.05 * gap);
      expect(one.plusMinus / other.plusMinus).toBeGreaterThan(0.95);
      expect(one.plusMinus / other.plusMinus).toBeLessThan(1.05);
    }
  });

  test('its few rounds are enough', async () => {
    const far: number[] = [];
    for (const craft of healthy.slice(0, some(3, 12))) {
      const [lines, stand] = SETS.all(craft);
      const fits = await judgedIn({ 'a.fettle': textOf(craft, lines, stand) }, ({ builds: [build] }) => {
        if (!build) throw new Error('no build');
        const { scenes } = measuredOf(build, templateOf);
        return [fitOf(scenes), fitOf(scenes, 12, 12)] as [Learnt, Learnt];
      });
      const [usual, twelve] = fits['a.fettle'] as [Learnt, Learnt];
      for (const [id, z] of twelve.deviations) far.push(Math.abs(z - (usual.deviations.get(id) ?? 0)));
    }
    expect(Math.max(...far)).toBeLessThan(0.1);
  });
});

/** V of a resting cell at the reserve. */
const RESTING = 3.73;

describe('more is never less', () => {
  test('a line added hardly ever widens a ±, and hardly ever leads away', () => {
    const steps = [
      ['page', 'scale'],
      ['scale', 'charger'],
      ['charger', 'burst'],
      ['burst', 'hover'],
      ['hover', 'count'],
      ['count', 'all'],
      ['scale', 'rows'],
    ] as const;
    let count = 0;
    let wider = 0;
    let away = 0;
    let widest = 0;
    let doubted = 0;
    for (const { craft, by } of all) {
      for (const [before, after] of steps) {
        for (const pack of PACKS) {
          for (const name of NAMES) {
            const [old, now] = [by[before].results[pack][name], by[after].results[pack][name]];
            const truth = craft.truth[pack][name];
            const growth = (now.plusMinus * now.value) / (old.plusMinus * old.value);
            // The ± of a voltage goes with what the cell has sagged: where more current flows than was thought, it is wider by right.
            const size = ({ value }: Found) => (name === 'land_by_hover_voltage' ? Math.abs(RESTING - value) : value);
            const relative = growth / (size(now) / size(old));
            count++;
            if (Math.min(growth, relative) > 1.02) wider++;
            // By chance a line contradicts the others; a ± that includes both is wider by right.
            if (by[after].isInDoubt) doubted++;
            else widest = Math.max(widest, Math.min(growth, relative));
            const led = Math.abs(now.value - truth) - Math.abs(old.value - truth);
            if (led > (old.plusMinus * old.value) / 2) away++;
          }
        }
      }
    }
    expect(wider / count).toBeLessThan(0.02 + chance(0.02, count));
    expect(widest).toBeLessThan(1.15);
    expect(doubted / count).toBeLessThan(0.01 + chance(0.01, all.length));
    expect(away / count).toBeLessThan(0.015 + chance(0.015, count));
  });
});

describe('reproduces', () => {
  test('what was read on a stand', () => {
    let count = 0;
    let within = 0;
    for (const { by } of all) {
      for (const { from, value, after, error, reading } of by.rows.lines) {
        if (from !== 'Stand' || after === undefined) continue;
        const scale = reading === 'current' ? 0.02 : reading === 'thrust' ? 0.018 : 0;
        count++;
        if (Math.abs(Math.log(value / after)) <= 2 * Math.hypot(error, scale)) within++;
      }
    }
    expect(count).toBe(9 * all.length);
    expect(within / count).toBeGreaterThan(0.99 - chance(0.01, count));
  });
});

describe('narrows', () => {
  const bounds = [
    ['burst', 'hover_time', 6, 12],
    ['burst', 'full_current', 6.5, 12.5],
    ['hover', 'hover_time', 5.5, 11],
    ['count', 'hover_time', 5, 9.5],
    ['log', 'hover_time', 6.5, 13],
    ['log', 'full_current', 7.5, 12.5],
    ['rows', 'hover_power', 4, 8],
    ['all', 'thrust_to_weight', 5, 8],
  ] as const;
  test.each(bounds)('with %s: %s to %f % rms, stated ±%f %', (set, name, rms, plusMinus) => {
    const tally = tallyOf(all, set, name, ['First']);
    expect(100 * tally.rms).toBeLessThan(rms * looser(tally.count));
    expect(100 * tally.plusMinus).toBeLessThan(plusMinus * looser(tally.count));
  });
});

test('the log of a healthy craft warns nobody', () => {
  const warned = all.filter(({ by }) => by.log.findings.some(({ id }) => id === 'observed-disagrees'));
  expect(warned.length / all.length).toBeLessThan(0.02 + chance(0.02, all.length));
});

describe('is honest in the tails', () => {
  test.each(['charger', 'burst', 'hover', 'count', 'log', 'rows', 'all'] as const)('with %s', (set) => {
    for (const name of NAMES.filter((one) => one !== 'all_up_weight')) {
      const { covered, below, above, count } = tallyOf(all, set, name);
      const least = name === 'thrust_to_weight' ? 0.9 : 0.92;
      const what = `${name} with ${set}: ${(100 * covered).toFixed(1)} % of ${count} within`;
      // Two packs of one craft are nearly one draw.
      expect(covered, what).toBeGreaterThan(least - chance(1 - least, count / 2));
      expect(Math.max(below, above), what).toBeLessThan(0.07 + chance(0.07, count / 2));
    }
  });

  test(
    'with twice the error of the model',
    async () => {
      const doubled = await triedDoubled(COUNT);
      if (process.env.FETTLE_AGREEMENT === 'write') addDoubled(doubled);
      for (const [pack, ofPack] of doubled) {
        for (const name of ['hover_time', 'full_current', 'hover_power', 'thrust_to_weight'] as const) {
          const { covered, count } = ofPack.get(name) ?? new Tally();
          expect(covered, `${name} on ${pack}`).toBeGreaterThan(0.85 - chance(0.15, count));
        }
      }
    },
    LONG,
  );
});

describe('instruments', () => {
  test(
    'five readings of one sensor are not worth five sensors',
    async () => {
      const tally = new Tally();
      for (const craft of healthy) {
        const one = await assessed(textOf(craft, [craft.lines.scale, craft.lines.again(0)]));
        const others = [1, 2, 3, 4]
          .map((i) => `  observed "day ${i}" with First {\n    ${craft.lines.again(i)}\n  }\n`)
          .join('');
        const five = await assessed(textOf(craft, [craft.lines.scale, craft.lines.again(0)], '', others));
        const [single, all] = [one, five].map(({ results }) => results.First.hover_power);
        if (!single || !all) throw new Error('no such result');
        expect(all.plusMinus / single.plusMinus).toBeGreaterThan(0.85);
        tally.add(all, craft.truth.First.hover_power);
      }
      expect(tally.covered).toBeGreaterThan(0.9 - chance(0.1, tally.count));
    },
    LONG,
  );

  test(
    'a sensor a tenth off is found by the charger',
    async () => {
      const tally = new Tally();
      for (const craft of await craftOf(COUNT, { recorder: 0.1 }, 6001)) {
        const [lines, stand] = SETS.all(craft);
        const { results } = await assessed(textOf(craft, lines, stand));
        tally.add(results.First.full_current, craft.truth.First.full_current);
      }
      expect(100 * tally.rms).toBeLessThan(4.5 * looser(tally.count));
    },
    LONG,
  );
});

describe('blunders', () => {
  const DISAGREES = new Set(['observed-disagrees', 'claims-disagree', 'mass-unexplained']);

  test('healthy craft are hardly ever warned', () => {
    const warned = all.flatMap(({ by }) =>
      (['burst', 'count', 'all'] as const).map((set) => by[set].findings.some(({ id }) => DISAGREES.has(id))),
    );
    expect(warned.filter(Boolean).length / warned.length).toBeLessThan(0.02 + chance(0.02, warned.length));
  });

  test(
    'a hover current 30 % wrong is found, and named',
    async () => {
      let warned = 0;
      let named = 0;
      for (const [index, craft] of healthy.entries()) {
        const factor = index % 2 === 0 ? 1.3 : 1 / 1.3;
        const { scale, charger, burst, hover, counted } = craft.lines;
        const [current = '', ...others] = hover;
        const wrong = current.replace(/[\d.]+(?= A)/, (amperes) => String(Number(amperes) * factor));
        const { findings } = await check(textOf(craft, [scale, ...charger, ...burst, wrong, ...others, counted]));
        const reported = findings.filter(({ id }) => DISAGREES.has(id));
        if (reported.length > 0) warned++;
        if (reported.some(({ message }) => message.includes('current in hover'))) named++;
      }
      expect(warned / healthy.length).toBeGreaterThan(0.8 - chance(0.2, healthy.length));
      expect(named / warned).toBeGreaterThan(0.85 - chance(0.15, warned));
    },
    LONG,
  );
});

describe('nothing is ignored without a word', () => {
  test('neither order nor unit nor the split of equal motors matters', async () => {
    for (const craft of healthy.slice(0, some(2, 4))) {
      const [lines, stand] = SETS.all(craft);
      const usual = await assessed(textOf(craft, lines, stand));
      const inAmpereHours = lines.map((line) => line.replace(/([\d.]+) mAh/, (_, mAh) => `${Number(mAh) / 1000} Ah`));
      const others = [
        textOf(craft, lines.toReversed(), stand),
        `${textOf(craft, lines)}${stand}`,
        textOf(craft, inAmpereHours, stand),
        ...['2 x', '3 x'].map((some) =>
          textOf(craft, lines, stand).replace(
            '4 x Stator with Blade',
            `${some} Stator with Blade\n  motors: ${4 - Number(some[0])} x Stator with Blade`,
          ),
        ),
      ];
      for (const [index, text] of others.entries()) {
        const { results } = await assessed(text);
        for (const pack of PACKS) {
          for (const name of NAMES) {
            const [one, other] = [usual.results[pack][name], results[pack][name]];
            expect(Math.abs(other.value / one.value - 1), `${name}, ${index}`).toBeLessThan(1e-9);
            expect(Math.abs(other.plusMinus / one.plusMinus - 1), `± of ${name}, ${index}`).toBeLessThan(1e-9);
          }
        }
      }
    }
  });

  test(
    'a row that was left out lies where the others put it',
    async () => {
      let within = 0;
      let count = 0;
      for (const craft of healthy) {
        const text = textOf(craft, [craft.lines.scale], craft.lines.stand(ALL_ROWS));
        for (const { far } of await heldBack(text, ({ label }) => label.includes('row 3'))) {
          count++;
          if (Math.abs(far) <= 2) within++;
        }
      }
      expect(count).toBe(3 * healthy.length);
      expect(within / count).toBeGreaterThan(0.92 - chance(0.08, count / 3));
    },
    LONG,
  );
});

/** Craft on which an earlier fit failed: warned without cause, far outside its own ±, or less sure (140: a plug that changed with its pack’s ±; 3, 86, 217: a contradiction with what hardly bears on it). */
test.each(oneIn(4, [3, 27, 33, 75, 86, 99, 140, 180, 217, 256]))('craft %i of earlier failures', async (seed) => {
  const craft = await craftAt(seed);
  if (!craft) throw new Error('it does not fly');
  const { by } = await tried(craft);
  for (const pack of PACKS)
    for (const name of ['hover_time', 'hover_power', 'full_current'] as const)
      expect(by.burst.results[pack][name].plusMinus).toBeLessThan(1.15 * by.charger.results[pack][name].plusMinus);
  for (const set of ['log', 'rows', 'count', 'all'] as const) {
    const { results, findings } = by[set];
    for (const pack of PACKS)
      for (const name of ['hover_time', 'hover_power', 'full_current'] as const)
        expect(results[pack][name].plusMinus).toBeLessThan(by.scale.results[pack][name].plusMinus);
    expect(findings.filter(({ id }) => id === 'observed-disagrees' || id === 'measurement-set-aside')).toEqual([]);
    for (const pack of PACKS) {
      for (const name of NAMES) {
        const { value, plusMinus } = results[pack][name];
        const off = Math.log(craft.truth[pack][name] / value) / (plusMinus / 2);
        // The scale of three of them is past three standard deviations of the list of parts, by chance.
        expect(Math.abs(off), `${name} with ${set}`).toBeLessThan(name === 'all_up_weight' ? 4 : 3.2);
      }
    }
  }
});

describe('an estimate gives way', () => {
  const description = async (craft: Simulated, withTorque = true): Promise<boolean> => {
    const { findings } = await check(textOf(craft, [craft.lines.scale], craft.lines.stand(ALL_ROWS, withTorque)));
    return findings.some(({ id }) => id === 'estimate-gives-way');
  };

  test(
    'where a propeller is three standard deviations off its page, after three rows',
    async () => {
      const off = await withPropellersOff(COUNT);
      let reported = 0;
      for (const craft of off) if (await description(craft)) reported++;
      expect(reported / off.length).toBeGreaterThan(0.85 - chance(0.15, off.length));
    },
    LONG,
  );

  test(
    'hardly ever on a healthy craft',
    async () => {
      const gave = all.flatMap(({ by }) =>
        (['charger', 'count', 'rows', 'all'] as const).map((set) =>
          by[set].findings.some(({ id }) => id === 'estimate-gives-way'),
        ),
      );
      expect(gave.filter(Boolean).length / gave.length).toBeLessThan(0.07 + chance(0.07, gave.length));
    },
    LONG,
  );
});
