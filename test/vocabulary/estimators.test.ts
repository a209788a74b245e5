import { describe, expect, it } from 'vitest';
import { NONE } from '../../packages/language/src/units/dimension.ts';
import { unitFor, unitNamed } from '../../packages/language/src/units/parse.ts';
import type { Dimension } from '../../packages/language/src/units/quantity.ts';
import { allEstimates, type Estimator, type KnownFigures } from '../../packages/language/src/vocabulary/estimators.ts';
import { BLOCK_KINDS, schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';

/** A part of which only these figures are declared: `mass: '3.4 g'`; whatever else is requested is estimated. */
function part(kind: BlockKind, declared: Readonly<Record<string, string>>): KnownFigures {
  const split = (path: string) => declared[path]?.split(' ') ?? [];
  const known: KnownFigures = {
    number: (path) => {
      const [number, unit] = split(path);
      if (number !== undefined) return unit === undefined ? Number(number) : unitNamed(unit).toSI(Number(number));
      return estimate(kind, path, known)?.value;
    },
    word: (path) => declared[path],
    dimension: (path): Dimension | undefined => {
      const [, unit] = split(path);
      return unit === undefined ? undefined : unitNamed(unit).dimension;
    },
  };
  return known;
}

function estimate(
  kind: BlockKind,
  path: string,
  known: KnownFigures,
): { value: number; estimator: Estimator } | undefined {
  const first = [...allEstimates()].find((one) => one.kind === kind && one.property === path)?.estimator;
  for (let estimator = first; estimator; estimator = estimator.otherwise) {
    const value = estimator.value(known);
    if (value !== undefined) return { value, estimator };
  }
  return undefined;
}

function estimated(kind: BlockKind, path: string, declared: Readonly<Record<string, string>>, unit: string): number {
  const { value } = estimate(kind, path, part(kind, declared)) ?? {};
  expect(value).toBeDefined();
  return unitNamed(unit).fromSI(value ?? Number.NaN);
}

const M1606 = { 'stator.diameter': '16 mm', 'stator.height': '6 mm', kv: '3150 rpm/V', mass: '14.7 g' };
const SIDES = { 'size.length': '30 mm', 'size.width': '19 mm', 'size.height': '19 mm' };
/** Just enough of each kind for everything to have an estimate. */
const SAMPLES: Partial<Record<BlockKind, Readonly<Record<string, string>>>> = {
  motor: M1606,
  propeller: { diameter: '76 mm', blades: '3' },
  esc: { continuous: '35 A', channels: '4' },
  rail: { type: 'linear' },
  regulator: { type: 'buck' },
  pack: { chemistry: 'liion', capacity: '1050 mAh', 'cells.series': '4', 'cells.parallel': '1', discharge: '75 C' },
  airframe: { guard_diameter: '81 mm', wheelbase: '148 mm' },
  load: { draw: '4 W', ...SIDES },
  item: SIDES,
};

/** Of what a craft is flown in and how, and of what decides nothing but which formula is taken, the model has the default. */
const CIRCUMSTANCES = ['reserve', 'air', 'humidity', 'flown', 'burst', 'ground', 'tilt'];
const WITH_DEFAULT = [
  ...['rules', 'build'].flatMap((kind) => CIRCUMSTANCES.map((name) => `${kind} ${name}`)),
  'observed air',
  'observed flown',
  'bench air',
  'airframe coaxial',
  'motor stator',
  'propeller pitch',
  'esc channels',
  'regulator type',
  'rail type',
  'rail from',
  'pack chemistry',
  'pack reserve',
  'pack cycles',
  'load peak',
  'plug mates',
];

describe('a property that documents its estimate', () => {
  const documented = BLOCK_KINDS.flatMap((kind) =>
    Object.entries(schemaOf(kind).properties).flatMap(([name, { estimated }]) =>
      estimated === undefined ? [] : `${kind} ${name}`,
    ),
  );

  it('has one, or is one of those that have a default where they are read', () => {
    const made = new Set([...allEstimates()].map(({ kind, property }) => `${kind} ${property.split('.')[0]}`));
    expect(documented.filter((one) => !made.has(one)).sort()).toEqual(WITH_DEFAULT.toSorted());
  });
});

describe.each([...allEstimates()])('$kind $property', ({ kind, property, estimator }) => {
  const known = part(kind, SAMPLES[kind] ?? {});
  const [name = '', clause] = property.split('.');
  const schema = schemaOf(kind).properties[name];

  it('belongs to a property that documents it', () => {
    expect(schema).toBeDefined();
    expect(schema?.estimated).toBeDefined();
  });

  it('has a value, a ± and a reason at every step', () => {
    for (let step: Estimator | undefined = estimator; step; step = step.otherwise) {
      expect(step.value(known), step.because).toBeGreaterThanOrEqual(0);
      const scatter = step.scatter(known);
      expect('relative' in scatter ? scatter.relative : scatter.absolute).toBeGreaterThan(0);
      expect(step.because).toMatch(/^[^.]+(\.\d[^.]*)*$/);
    }
  });

  it('gives nothing when what it needs is missing', () => {
    const nothing: KnownFigures = { number: () => undefined, word: () => undefined, dimension: () => undefined };
    if (estimator.needs.length > 0) expect(estimator.value(nothing)).toBeUndefined();
  });

  it('lies in the plausible range', () => {
    if (!schema?.plausible || clause !== undefined) return;
    const unit = unitFor(unitNamed(schema.unit ?? 'cell'), schema.dimension ?? NONE) ?? unitNamed('cell');
    const [low, high] = schema.plausible;
    const value = unit.fromSI(estimator.value(known) ?? Number.NaN);
    expect(value).toBeGreaterThanOrEqual(low);
    expect(value).toBeLessThanOrEqual(high);
  });
});

describe('masses', () => {
  // What parts of these sizes weigh, common practice: each estimate's ± (k = 2) must reach them.
  it.each([
    ['motor', { 'stator.diameter': '14 mm', 'stator.height': '4 mm' }, 8.5],
    ['motor', { 'stator.diameter': '28 mm', 'stator.height': '6 mm' }, 46],
    ['propeller', { diameter: '51 mm', blades: '3' }, 0.56],
    ['propeller', { diameter: '127 mm', blades: '2' }, 3.1],
    ['propeller', { diameter: '381 mm', blades: '2' }, 33],
    ['esc', { continuous: '20 A', channels: '4' }, 7.5],
    ['esc', { continuous: '80 A', channels: '4' }, 33],
    ['esc', { continuous: '20 A', channels: '1' }, 4.5],
    ['lead', { wire: '20 AWG', length: '60 mm' }, 1.8],
    ['lead', { wire: '12 AWG', length: '100 mm' }, 12],
    ['load', { draw: '4 W' }, 12],
    ['airframe', { wheelbase: '220 mm' }, 110],
  ] as const)('a %s of %o weighs about %d g', (kind, declared, grams) => {
    const found = estimate(kind, 'mass', part(kind, declared));
    const scatter = found?.estimator.scatter(part(kind, declared));
    const value = 1e3 * (found?.value ?? Number.NaN);
    const ratio = Math.abs(Math.log(value / grams));
    expect(ratio).toBeLessThanOrEqual(2 * (scatter && 'relative' in scatter ? scatter.relative : 0));
  });
});

describe('motors', () => {
  // Data-sheet figures of ordinary windings of these sizes, unverified: a weak oracle. Each estimate's ± must cover them.
  const windings = [
    { stator: [8, 2], mass: 1.9, kv: 19_000, resistance: 150, idle: 0.6 },
    { stator: [11, 4], mass: 3.5, kv: 8600, resistance: 107, idle: 0.5 },
    { stator: [14, 4], mass: 8.5, kv: 4600, resistance: 110, idle: 0.6 },
    { stator: [15, 7], mass: 13.2, kv: 3800, resistance: 90, idle: 0.9 },
    { stator: [22, 7], mass: 32, kv: 1950, resistance: 55, idle: 1.2 },
    { stator: [23, 6], mass: 32, kv: 2450, resistance: 45, idle: 1.5 },
    { stator: [28, 6.5], mass: 46, kv: 1300, resistance: 60, idle: 1.0 },
    { stator: [28, 12], mass: 74, kv: 900, resistance: 55, idle: 1.1 },
  ] as const;

  const cases = windings.flatMap(({ stator: [diameter, height], mass, kv, resistance, idle }) => {
    const size = { 'stator.diameter': `${diameter} mm`, 'stator.height': `${height} mm` };
    const name = `${diameter}${String(height).padStart(2, '0')}`;
    return [
      { name: `${name}, by size`, declared: { ...size, kv: `${kv} rpm/V` }, resistance, idle },
      { name: `${name}, by mass`, declared: { mass: `${mass} g`, kv: `${kv} rpm/V` }, resistance, idle },
    ];
  });

  it.each(cases)('$name: the ± covers what data sheets state', ({ declared, resistance, idle }) => {
    for (const [property, unit, expected] of [
      ['resistance', 'mohm', resistance],
      ['no_load_current', 'A', idle],
    ] as const) {
      const known = part('motor', declared);
      const found = estimate('motor', property, known);
      const scatter = found?.estimator.scatter(known);
      const relative = scatter && 'relative' in scatter ? scatter.relative : Number.NaN;
      const value = unitNamed(unit).fromSI(found?.value ?? Number.NaN);
      // As a factor: a resistance may be twice or half of it, never negative.
      expect(Math.abs(Math.log(expected / value)), `${property} ${value}`).toBeLessThan(2 * relative);
    }
  });

  it('moves resistance and inductance with 1/kv²', () => {
    const slow = { ...M1606, kv: '1575 rpm/V' };
    expect(
      estimated('motor', 'resistance', slow, 'mohm') / estimated('motor', 'resistance', M1606, 'mohm'),
    ).toBeCloseTo(4, 9);
    expect(estimated('motor', 'inductance', slow, 'uH') / estimated('motor', 'inductance', M1606, 'uH')).toBeCloseTo(
      4,
      9,
    );
  });

  it('finds the same stator from a resistance as made it', () => {
    // 0.35 · 10 mm high: the aspect that the estimate supposes.
    const size = { 'stator.diameter': '10 mm', 'stator.height': '3.5 mm', kv: '8000 rpm/V' };
    const resistance = estimated('motor', 'resistance', size, 'mohm');
    const inductance = estimated('motor', 'inductance', size, 'uH');
    expect(estimated('motor', 'inductance', { resistance: `${resistance} mohm`, kv: '8000 rpm/V' }, 'uH')).toBeCloseTo(
      inductance,
      6,
    );
  });

  it('counts magnets', () => {
    expect(estimated('motor', 'poles', { 'stator.diameter': '11 mm' }, 'cell')).toBe(12);
    expect(estimated('motor', 'poles', { 'stator.diameter': '14 mm' }, 'cell')).toBe(12);
    expect(estimated('motor', 'poles', { 'stator.diameter': '22 mm' }, 'cell')).toBe(14);
    expect(estimated('motor', 'poles', { mass: '3 g' }, 'cell')).toBe(12);
    expect(estimated('motor', 'poles', {}, 'cell')).toBe(14);
  });
});

describe('propellers', () => {
  const size = { diameter: '127 mm', pitch: '4.3 in', blades: '3' };

  it('a propeller that pulls more takes more', () => {
    const usual = Number(part('propeller', size).number('thrust_coefficient'));
    const power = (thrust: number) =>
      estimated('propeller', 'power_coefficient', { ...size, thrust_coefficient: String(thrust) }, 'cell');
    expect(power(1.1 * usual)).toBeGreaterThan(1.05 * power(usual));
    expect(power(1.1 * usual)).toBeLessThan(1.15 * power(usual));
  });

  // Ranges seen in practice (common practice).
  it.each([
    ['40 mm', '3', 0.17, 0.22, 0.14, 0.2],
    ['51 mm', '3', 0.16, 0.2, 0.12, 0.17],
    ['76 mm', '3', 0.15, 0.18, 0.11, 0.14],
    ['129 mm', '3', 0.16, 0.19, 0.11, 0.135],
  ])(
    '%s with %s blades: within twice the scatter of the range',
    (diameter, blades, thrustLow, thrustHigh, powerLow, powerHigh) => {
      const known = part('propeller', { diameter, blades });
      for (const [property, low, high] of [
        ['thrust_coefficient', thrustLow, thrustHigh],
        ['power_coefficient', powerLow, powerHigh],
      ] as const) {
        const value = Number(known.number(property));
        expect(value, property).toBeGreaterThan(low * 0.7);
        expect(value, property).toBeLessThan(high * 1.4);
      }
    },
  );
});

describe('packs', () => {
  // Tested packs of 25C to 50C give resistance · capacity · claimed rate of 518 mV with 14 % scatter (published tests of 69 packs).
  it.each([25, 35, 50])('a pack of %dC loses about half a volt per cell at its claim', (rate) => {
    const resistance = estimated('pack', 'cell_resistance', { capacity: '1500 mAh', discharge: `${rate} C` }, 'ohm');
    expect(resistance * 1.5 * rate).toBeGreaterThan(0.518 * (1 - 2 * 0.14));
    expect(resistance * 1.5 * rate).toBeLessThan(0.518 * (1 + 2 * 0.14));
  });

  it('reads a claim in amperes like the same claim as a rate', () => {
    const byRate = estimated('pack', 'cell_resistance', { capacity: '5 Ah', discharge: '30 C' }, 'mohm');
    const byCurrent = estimated('pack', 'cell_resistance', { capacity: '5 Ah', discharge: '150 A' }, 'mohm');
    expect(byCurrent).toBeCloseTo(byRate, 9);
  });

  it('gives round cells their own, each of the cells in parallel its share of the capacity', () => {
    const declared = { chemistry: 'liion', capacity: '6 Ah', 'cells.parallel': '2' };
    expect(estimated('pack', 'cell_resistance', declared, 'mohm')).toBeCloseTo(20, 9);
  });

  it('gives small single cells more', () => {
    const small = estimated('pack', 'cell_resistance', { capacity: '75 mAh', discharge: '50 C' }, 'ohm') * 75;
    const large = estimated('pack', 'cell_resistance', { capacity: '750 mAh', discharge: '50 C' }, 'ohm') * 750;
    expect(small / large).toBeGreaterThan(2);
    expect(small / large).toBeLessThan(4.5);
  });

  it('takes the plug by its type', () => {
    expect(estimated('pack', 'plug_resistance', { capacity: '450 mAh', plug: 'Bullet2' }, 'mohm')).toBeCloseTo(1, 9);
    expect(estimated('pack', 'plug_resistance', { capacity: '450 mAh', plug: 'constructor' }, 'mohm')).toBeCloseTo(
      2,
      9,
    );
  });

  it('gives a pack of 450 mAh the lead that such packs have', () => {
    expect(estimated('pack', 'lead.of', { capacity: '450 mAh' }, 'AWG')).toBeCloseTo(20, 0);
    expect(estimated('pack', 'lead.of', { capacity: '2200 mAh' }, 'AWG')).toBeCloseTo(12, 0);
  });
});

// 10 A 14 mohm, 20 A 7, 35 A 4, 50 A 3: common practice.
it.each([
  [10, 14],
  [20, 7],
  [35, 4],
  [50, 2.8],
])('a channel of %d A has about %d mohm', (continuous, resistance) => {
  expect(estimated('esc', 'resistance', { continuous: `${continuous} A` }, 'mohm')).toBeCloseTo(resistance, 6);
});
