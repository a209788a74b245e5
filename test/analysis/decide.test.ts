/** What is searched for and changed: compared with plain assessments of the same craft written as text. */
import { describe, expect, it } from 'vitest';
import { assess, assessShifted, assessShiftedPlainly } from '../../packages/language/src/analysis/assess.ts';
import { knobNamed, knobsOf } from '../../packages/language/src/analysis/decide/knobs.ts';
import { sensitivities } from '../../packages/language/src/analysis/decide/sensitivities.ts';
import { solve } from '../../packages/language/src/analysis/decide/solver.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { Build } from '../../packages/language/src/model/build.ts';
import { judgedIn } from '../checks/findings-in.ts';

interface Figures {
  kv?: number;
  resistance?: number;
  idle?: number;
  capacity?: number;
  mass?: number;
  cells?: number;
  item?: number;
  pitch?: number;
  air?: number;
  require?: string;
}

const text = ({
  kv = 3150,
  resistance = 82,
  idle = 0.74,
  capacity = 1050,
  mass = 121,
  cells = 8.2,
  item = 12,
  pitch = 2.4,
  air = 10,
  require = '',
}: Figures) => `
motor M { stator: 16 x 6 mm  kv: ${kv} rpm/V claimed  resistance: ${resistance} mohm  no_load_current: ${idle} A at 10 V  mass: 14.7 g }
propeller P { diameter: 76 mm  pitch: ${pitch} in  blades: 3  mass: 1.6 g }
esc E { continuous: 35 A  mass: 12 g }
airframe F { rotors: 4  wheelbase: 148 mm  mass: 61 g }
pack B { cells: 4S  capacity: ${capacity} mAh claimed  cell_resistance: ${cells} mohm  mass: ${mass} g }
build Craft {
  airframe: F
  motors: 4 x M with P
  esc: E
  item: ${item} g "wire"
  pack: B
  air: ${air} degC at 100 m
  ${require}
}`;

async function buildOf(figures: Figures = {}): Promise<Build> {
  const read = await judgedIn({ 'craft.fettle': text(figures) }, ({ builds }) => builds[0]);
  const build = read['craft.fettle'];
  if (!build) throw new Error('no build');
  return build;
}

const packOf = ({ packs: [option] }: Build) => {
  if (!option) throw new Error('no pack');
  return option;
};
const knobOf = (build: Build, name: string) => {
  const { knob } = knobNamed(name, knobsOf(build, packOf(build)));
  if (!knob) throw new Error(`no knob ${name}`);
  return knob;
};
const resultsOf = (build: Build) => assess(build, packOf(build)).results;

/** A knob, a value, and the same craft written down. */
const WRITTEN: readonly (readonly [string, number, Figures])[] = [
  ['item mass', 0.03, { item: 42 }],
  [
    'motor kv',
    (2650 * 2 * Math.PI) / 60,
    { kv: 2650, resistance: 82 * (3150 / 2650) ** 2, idle: (0.74 * 2650) / 3150 },
  ],
  ['pack capacity', 1.5 * 3600, { capacity: 1500, mass: (121 * 1500) / 1050, cells: (8.2 * 1050) / 1500 }],
  ['propeller pitch', 3 * 0.0254, { pitch: 3 }],
  ['air', 263.15, { air: -10 }],
];

/** With two motors wound differently, each with its own propeller. */
const COAXIAL = text({})
  .replace(
    '  motors: 4 x M with P\n',
    '  upper_motors: 2 x M with P\n  lower_motors: 2 x Slow with Wide\n  item: 3 g "tape"\n',
  )
  .replace('esc E', 'motor Slow like M { kv: 2650 rpm/V }\npropeller Wide like P { diameter: 80 mm }\nesc E');

describe('a knob of one of several parts of a kind', () => {
  const knobs = async () => {
    const read = await judgedIn({ 'craft.fettle': COAXIAL }, ({ builds }) => builds[0]);
    const build = read['craft.fettle'];
    if (!build) throw new Error('no build');
    return knobsOf(build, packOf(build));
  };

  it.each([
    ['motor kv', ['M kv', 'Slow kv']],
    ['kv', ['M kv', 'Slow kv']],
    ['propeller.diameter', ['P diameter', 'Wide diameter']],
  ])('has no name in common with the others: %s is one of several, which are named', async (name, several) => {
    const found = knobNamed(name, await knobs());
    expect(found.knob).toBeUndefined();
    expect(found.several.map((one) => one.name)).toEqual(several);
  });

  it.each([
    ['M kv', 'kv of M'],
    ['slow.kv', 'kv of Slow'],
    ['wide diameter', 'diameter of Wide'],
    ['item mass', 'mass on board'],
    ['pack capacity', 'capacity of B'],
  ])('is found by its own: %s', async (name, label) => {
    expect(knobNamed(name, await knobs()).knob?.label).toBe(label);
  });
});

describe('a knob', () => {
  it.each(WRITTEN)('%s at %d gives what the same craft gives that is written so', async (name, value, figures) => {
    const build = await buildOf();
    const turned = assessShiftedPlainly(build, knobOf(build, name).at(value)).results;
    const written = resultsOf(await buildOf(figures));
    expect(written.size).toBeGreaterThan(30);
    for (const [result, { estimate }] of written)
      expect(turned.get(result)?.estimate.value, result).toBeCloseTo(estimate.value, 7);
  });

  it('left where it is changes nothing, its ± least of all', async () => {
    const build = await buildOf();
    const now = resultsOf(build);
    for (const knob of knobsOf(build, packOf(build))) {
      const { results } = assessShifted(build, knob.at(knob.now));
      for (const [name, { estimate }] of now) {
        const same = results.get(name)?.estimate;
        expect(same?.value, `${knob.name}, ${name}`).toBeCloseTo(estimate.value, 9);
        const apart = same ? Math.abs(expanded(same) - expanded(estimate)) : Number.NaN;
        expect(apart, `± of ${name} at ${knob.name}`).toBeLessThan(1e-3 * expanded(estimate) + 1e-9);
      }
    }
  });
});

describe('solve', () => {
  const solved = async (knob: string, direction: 'most' | 'least', require: string) => {
    const build = await buildOf({ require: `require ${require}` });
    return solve(build, knobOf(build, knob), direction, build.rules.requirements);
  };

  it.each([
    [
      'item mass',
      'most',
      'thrust_to_weight >= 3',
      (value: number) => ({ item: 12 + value * 1e3 }),
      'thrust_to_weight',
      3,
    ],
    [
      'pack capacity',
      'least',
      'hover_time >= 8 min',
      (value: number) => {
        const scale = value / 3.6 / 1050;
        return { capacity: value / 3.6, mass: 121 * scale, cells: 8.2 / scale };
      },
      'hover_time',
      480,
    ],
  ] as const)(
    '%s: the craft that is written with the %s just meets %s',
    async (knob, direction, require, written, result, limit) => {
      const found = await solved(knob, direction, require);
      if (!found || !('value' in found)) throw new Error('nothing found');
      expect(found.stop.text).toBe(require);
      expect(expanded(found.value)).toBeGreaterThan(0);
      const craft = resultsOf(await buildOf(written(found.value.value)));
      expect((craft.get(result)?.estimate.value ?? 0) / limit).toBeCloseTo(1, 5);
    },
  );

  it('finds both ends of a requirement that holds in between only', async () => {
    const [least, most] = [
      await solved('pack capacity', 'least', 'hover_time >= 9 min'),
      await solved('pack capacity', 'most', 'hover_time >= 9 min'),
    ];
    if (!least || !('value' in least)) throw new Error('no least');
    const upper = most && ('value' in most ? most.value.value : 'unlimited' in most ? most.unlimited : 0);
    expect(upper).toBeGreaterThan(least.value.value);
  });

  it('of two requirements reports the one that stops it, and none where none does', async () => {
    const build = await buildOf({ require: 'require thrust_to_weight >= 3\n  require hover_time >= 8 min' });
    const found = solve(build, knobOf(build, 'item mass'), 'most', build.rules.requirements);
    expect(found && 'stop' in found && found.stop.text).toBe('hover_time >= 8 min');
    const free = await solved('item mass', 'most', 'effective_kv >= 2000 rpm/V');
    expect(free).toMatchObject({ unlimited: 5 });
  });

  it('reports what is nearest where nothing helps', async () => {
    const found = await solved('item mass', 'most', 'hover_time >= 60 min');
    expect(found).toMatchObject({ never: { text: 'hover_time >= 60 min' } });
  });

  it('has the ± by which the answer scatters when the inputs do: with a pack known to 3 % the payload has such a ±', async () => {
    const found = await solved('pack capacity', 'least', 'charge_used >= 900 mAh');
    if (!found || !('value' in found)) throw new Error('nothing found');
    // Charge used goes as capacity: the relative ± of both is the same.
    const build = await buildOf();
    const used = resultsOf(build).get('charge_used')?.estimate;
    if (!used) throw new Error('no charge');
    expect(expanded(found.value) / found.value.value).toBeCloseTo(expanded(used) / used.value, 3);
  });
});

describe('sensitivities', () => {
  it('are differences of the turned craft, the strongest first', async () => {
    const build = await buildOf();
    const turns = sensitivities('hover_time', build, packOf(build)) ?? [];
    const now = resultsOf(build).get('hover_time')?.estimate.value ?? 0;
    expect(turns.length).toBeGreaterThan(6);
    const sizes = turns.map(({ effect }) => Math.abs(effect?.value ?? Number.POSITIVE_INFINITY));
    expect(sizes).toEqual(sizes.toSorted((a, b) => b - a));
    const mass = turns.find(({ knob }) => knob.name === 'item mass');
    const heavier = resultsOf(await buildOf({ item: 22 })).get('hover_time')?.estimate.value ?? 0;
    expect(mass?.step).toBe(0.01);
    expect(mass?.effect?.value).toBeCloseTo(heavier - now, 6);
    expect(mass?.effect?.plusMinus).toBeLessThan(0.5 * Math.abs(heavier - now));
  });

  it('of a result that does not exist are none', async () => {
    const build = await buildOf();
    expect(sensitivities('flight.None.time', build, packOf(build))).toBeUndefined();
  });
});
