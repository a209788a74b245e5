import { describe, expect, it } from 'vitest';
import { alike, NONE } from '../../packages/language/src/units/dimension.ts';
import { parseUnit, unitNamed } from '../../packages/language/src/units/parse.ts';
import { BLOCK_KINDS, schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import type { Property } from '../../packages/language/src/vocabulary/schema.ts';

const all = BLOCK_KINDS.flatMap((kind) =>
  Object.entries(schemaOf(kind).properties).map(([key, property]) => ({ at: `${kind}.${key}`, kind, key, property })),
);
const numeric = all.filter(({ property }) =>
  ['quantity', 'range', 'size', 'cells', 'count', 'share', 'flown', 'air', 'multiple', 'run', 'pattern'].includes(
    property.shape,
  ),
);
/** Figures that enter a computation, not limits, descriptions or geometry. */
const uncertain = all.filter(
  ({ property }) => ['quantity', 'share', 'air', 'run', 'flown'].includes(property.shape) && property.dimension,
);
const sentences = (property: Property) => [
  property.description,
  ...(property.estimated === undefined ? [] : [property.estimated]),
];

describe.each(all)('$at', ({ key, property }) => {
  it('has its key for a name and sentences that end', () => {
    expect(property.name).toBe(key);
    expect(key).toMatch(/^[a-z]+(_[a-z]+)*$/);
    for (const sentence of sentences(property)) expect(sentence).toMatch(/^\S.{1,160}\.$/);
  });

  it('names units that measure its dimension', () => {
    const { unit, dimension = NONE, shape } = property;
    if (!alike(dimension, NONE)) expect(unit).toBeDefined();
    if (unit !== undefined && shape !== 'money') expect(alike(unitNamed(unit).dimension, dimension)).toBe(true);
    for (const other of property.otherUnits ?? []) expect(parseUnit(other).unit, other).toBeDefined();
  });

  it('leads mistaken units to ones it takes', () => {
    const taken = [property.unit, ...(property.otherUnits ?? [])];
    for (const [mistaken, meant] of Object.entries(property.mistaken ?? {})) {
      expect(taken, `${mistaken} → ${meant}`).toContain(meant);
      expect(taken, `${mistaken} is taken as it stands`).not.toContain(mistaken);
    }
  });

  it('has clauses with units of their dimension', () => {
    for (const rule of Object.values(property.clauses ?? {})) {
      if (rule?.unit !== undefined) expect(alike(unitNamed(rule.unit).dimension, rule.dimension ?? NONE)).toBe(true);
    }
  });

  it('offers words or kinds where it takes nothing else', () => {
    if (property.shape === 'word') expect(property.words ?? [], 'add its choices, `words`').not.toEqual([]);
    if (property.shape === 'part') expect(property.parts ?? [], 'add the kinds that it names, `parts`').not.toEqual([]);
  });
});

it.each(numeric)('$at has a plausible range that begins below its end', ({ property }) => {
  const [low = 0, high = 0] = property.plausible ?? [];
  expect(low, 'add its range, `plausible: [low, high]` in its own unit').toBeLessThan(high);
});

it('has a ± for whatever enters a computation', () => {
  // Limits are compared as written; `tilt`, `max_speed` and ratings are limits.
  const limits = /\.(continuous|burst|max|power|max_temperature|max_speed|wire)$/;
  const without = uncertain.filter(({ at, property }) => !property.tolerance && !limits.test(at)).map(({ at }) => at);
  expect(without).toEqual([]);
});

it('never calls a real part implausible', () => {
  // Ordinary parts of craft of 20 g to 3 kg, smallest and largest (common practice).
  const real: readonly (readonly [string, number, number])[] = [
    ['motor.kv', 280, 30_000],
    ['motor.resistance', 8, 1500],
    ['motor.no_load_current', 0.1, 3],
    ['motor.mass', 0.9, 230],
    ['motor.continuous', 1.5, 90],
    ['motor.rated', 1, 12],
    ['motor.poles', 9, 36],
    ['motor.thermal_resistance', 1, 150],
    ['propeller.diameter', 23, 560],
    ['propeller.pitch', 0.5, 8],
    ['propeller.blades', 1, 8],
    ['propeller.mass', 0.08, 90],
    ['propeller.thrust_coefficient', 0.06, 0.26],
    ['propeller.power_coefficient', 0.02, 0.25],
    ['propeller.max_speed', 6000, 90_000],
    ['esc.continuous', 3, 120],
    ['esc.cells', 1, 12],
    ['esc.resistance', 0.8, 60],
    ['esc.pwm_frequency', 16, 128],
    ['esc.mass', 0.6, 120],
    ['pack.capacity', 75, 22_000],
    ['pack.cells', 1, 12],
    ['pack.discharge', 2, 200],
    ['pack.cell_resistance', 0.5, 400],
    ['pack.mass', 2, 1900],
    ['pack.lead', 15, 300],
    ['load.draw', 0.05, 60],
    ['load.mass', 0.1, 900],
    ['load.supply', 1.8, 52],
    ['rail.output', 1.8, 24],
    ['rail.efficiency', 60, 97],
    ['airframe.wheelbase', 45, 1200],
    ['airframe.guard_diameter', 26, 400],
    ['airframe.mass', 1.5, 1600],
    ['airframe.drag_area', 5, 900],
    ['airframe.duct_gain', -20, 20],
    ['lead.wire', 8, 30],
    ['mount.stiffness', 0.05, 60],
    ['mount.frequency', 8, 300],
    ['rules.ground', 0, 15],
    ['rules.burst', 1.5, 8],
    ['rules.tilt', 10, 70],
    ['build.dry_mass', 12, 2800],
    ['observed.hover_current', 0.8, 120],
    ['observed.burst_current', 3, 400],
    ['observed.airborne', 0.5, 95],
    ['observed.put_back', 30, 20_000],
  ];
  for (const [at, smallest, largest] of real) {
    const [low, high] = all.find((entry) => entry.at === at)?.property.plausible ?? [Number.NaN, Number.NaN];
    expect(low, at).toBeLessThanOrEqual(smallest);
    expect(high, at).toBeGreaterThanOrEqual(largest);
  }
});

it('demands no more than what nine numbers depend on', () => {
  // A shortlist and a flight are no first result: what they need, they need for themselves.
  const required = all
    .filter(({ at, property }) => property.required && !/^(?:shortlist|flight)\./.test(at))
    .map(({ at }) => at);
  expect(required.sort()).toEqual(
    [
      'bench.motor',
      'bench.propeller',
      'build.esc',
      'build.pack',
      'esc.continuous',
      'load.draw',
      'motor.kv',
      'pack.capacity',
      'pack.cells',
      'propeller.blades',
      'propeller.diameter',
      'rail.output',
      'regulator.output',
    ].sort(),
  );
});

it('knows for each word of a build whether a variant replaces or adds', () => {
  const undecided = all.filter(({ kind, property }) => kind === 'build' && !property.inBuild).map(({ at }) => at);
  expect(undecided).toEqual([]);
});

it('does not take what every object has for a property', () => {
  for (const kind of BLOCK_KINDS) expect(schemaOf(kind).properties.constructor).toBeUndefined();
});
