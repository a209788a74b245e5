import { describe, expect, it } from 'vitest';
import type { Figure } from '../../packages/language/src/model/build.ts';
import { figureOf, modelOf, partNamed } from './read.ts';

const motorWith = async (lines: string) => partNamed(await modelOf(`motor M {\n${lines}\n}`), 'M');

describe('a figure', () => {
  it('is SI: 10 500 rpm/V are 10 500 · 2π / 60 rad/s for each volt', async () => {
    const motor = await motorWith('kv: 9600 rpm/V');
    expect(figureOf(motor, 'kv').value).toBeCloseTo((9600 * 2 * Math.PI) / 60, 9);
  });

  it('adds up amounts: 4 min 50 s are 290 s', async () => {
    const { builds } = await modelOf('build B {\n  ground: 4 min 50 s\n}');
    expect(builds[0]?.rules.groundTime.value).toBe(290);
  });

  it('keeps its clauses, and where it comes from', async () => {
    const idle = figureOf(
      await motorWith('no_load_current: 0.62 A +- 5 % at 7.4 V measured "clamp meter"'),
      'no_load_current',
    );
    expect(idle).toMatchObject({ value: 0.62, origin: 'measured', source: 'clamp meter' });
    expect(idle.conditions.at?.value).toBe(7.4);
    expect(idle.conditions.at?.standardUncertainty).toBe(0);
  });

  it('counts a price for one piece', async () => {
    const model = await modelOf('propeller P {\n  diameter: 51 mm\n  blades: 3\n  price: 2.40 EUR for 8\n}');
    const price = figureOf(partNamed(model, 'P'), 'price');
    expect(price.value).toBeCloseTo(0.3, 12);
    expect(price.dimension).toMatchObject({ currency: 'EUR', money: 1 });
  });
});

describe('the ± of a figure, as one standard deviation', () => {
  // JCGM 100, 4.3.7: a half-width without further knowledge is rectangular, u = a / √3; a measured one is two standard deviations.
  it.each([
    ['resistance: 100 mohm +- 3 %', 0.003 / Math.sqrt(3)],
    ['resistance: 100 mohm +- 3 mohm', 0.003 / Math.sqrt(3)],
    ['resistance: 100 mohm +- 3 % claimed', 0.003 / Math.sqrt(3)],
    ['resistance: 100 mohm +- 3 % measured', 0.003 / 2],
  ])('%s', async (line, expected) => {
    expect(figureOf(await motorWith(line), 'resistance').standardUncertainty).toBeCloseTo(expected, 12);
  });

  it('is points of a share: 88 % ± 4 % is 84 to 92 %', async () => {
    const model = await modelOf('regulator R {\n  output: 5 V\n  efficiency: 88 % +- 4 %\n}');
    expect(figureOf(partNamed(model, 'R'), 'efficiency').standardUncertainty).toBeCloseTo(0.04 / Math.sqrt(3), 12);
  });

  it('is a plain number behind a plain number', async () => {
    const model = await modelOf(
      'propeller P {\n  diameter: 51 mm\n  blades: 3\n  thrust_coefficient: 0.18 +- 0.01 measured\n}',
    );
    expect(figureOf(partNamed(model, 'P'), 'thrust_coefficient').standardUncertainty).toBeCloseTo(0.005, 12);
  });

  it.each(['+- 120 %', '+- 100 mohm'])(
    '%s of what cannot be nothing is a slip: the usual one is taken',
    async (slip) => {
      const usual = figureOf(await motorWith('resistance: 98 mohm'), 'resistance').standardUncertainty;
      expect(figureOf(await motorWith(`resistance: 98 mohm ${slip}`), 'resistance').standardUncertainty).toBe(usual);
      const { problems } = await modelOf(`motor M {\n  resistance: 98 mohm ${slip}\n}`);
      const found = problems.find(({ id }) => id === 'implausible-value');
      expect(found).toMatchObject({ message: expect.stringContaining('reaches down to nothing') });
      expect(found).not.toHaveProperty('severity');
    },
  );

  it('is a difference of degrees for a temperature', async () => {
    const { builds } = await modelOf('build B {\n  air: 21 degC +- 1 degC at 120 m\n}');
    const air = builds[0]?.rules.airTemperature as Figure;
    expect(air.value).toBeCloseTo(294.15, 9);
    expect(air.standardUncertainty).toBeCloseTo(1 / Math.sqrt(3), 9);
    expect(builds[0]?.rules.altitude.value).toBe(120);
  });

  it('comes from the vocabulary when none is written, smaller for what was measured', async () => {
    const stated = figureOf(await motorWith('resistance: 100 mohm'), 'resistance').standardUncertainty;
    const measured = figureOf(await motorWith('resistance: 100 mohm measured'), 'resistance').standardUncertainty;
    expect(measured).toBeGreaterThan(0);
    expect(stated).toBeGreaterThan(measured);
  });
});

describe('a figure that cannot be read', () => {
  it.each([
    'resistance:',
    'resistance: 98',
    'resistance: 98 Mohm',
    'resistance: 98 mm',
    'resistance: 0,098 ohm',
    'resistance: 98 ohm', // 98 mohm was meant
    'resistance 98 mohm',
    'resistence: 98 mohm',
  ])('%s: is a hole, and is not estimated instead', async (line) => {
    const motor = await motorWith(`kv: 9600 rpm/V\nmass: 3.4 g\n${line}`);
    expect(motor.figure('resistance')).toBeUndefined();
    expect([...motor.holes]).toEqual(['resistance']);
  });

  it('leaves the other lines their figures', async () => {
    const motor = await motorWith('kv: 9600 rpm/V\nresistance:\nmass: 3.4 g');
    expect(figureOf(motor, 'mass').value).toBeCloseTo(0.0034, 12);
    expect(figureOf(motor, 'kv').origin).toBe('stated');
  });
});

describe('an estimated figure', () => {
  it('has a reason and a ±', async () => {
    const resistance = figureOf(await motorWith('kv: 9600 rpm/V\nmass: 3.4 g'), 'resistance');
    expect(resistance.origin).toBe('estimated');
    expect(resistance.place).toBeUndefined();
    expect(resistance.because).toContain('mass and kv');
    expect(resistance.standardUncertainty).toBeGreaterThan(0.1 * resistance.value);
  });

  it('follows what it is estimated from: resistance goes with kv to the power -2', async () => {
    const motor = await motorWith('kv: 9600 rpm/V\nmass: 3.4 g');
    const [kv, resistance] = [figureOf(motor, 'kv'), figureOf(motor, 'resistance')];
    const moved = resistance.recompute?.((figure) => (figure.id === kv.id ? 1.1 * figure.value : figure.value));
    expect((moved ?? 0) / resistance.value).toBeCloseTo(1 / 1.21, 9);
  });

  it('gives way to a declared one', async () => {
    const motor = await motorWith('kv: 9600 rpm/V\nmass: 3.4 g\nresistance: 98 mohm');
    expect(figureOf(motor, 'resistance')).toMatchObject({ value: 0.098, origin: 'stated' });
    expect(figureOf(motor, 'resistance').recompute).toBeUndefined();
  });

  it('is there for a length of wire whose gauge is not stated', async () => {
    const model = await modelOf('pack P {\n  cells: 2S\n  capacity: 450 mAh\n  lead: 60 mm\n}');
    const gauge = figureOf(partNamed(model, 'P'), 'lead').conditions.of;
    expect(gauge?.origin).toBe('estimated');
    expect(gauge?.value).toBeGreaterThan(0.1e-6);
  });
});

describe('a part that is like another', () => {
  const texts = `motor Base "the base" {
  kv: 9600 rpm/V
  resistance: 98 mohm +- 2 % measured "milliohm meter"
  burst: 12 A for 5 s
  mass: 3.4 g measured
}
motor Slow like Base {
  kv: 7800 rpm/V
  resistance: 150 mohm
  burst: none
}`;

  it('replaces a figure whole, with its ± and origin', async () => {
    const slow = partNamed(await modelOf(texts), 'Slow');
    const resistance = figureOf(slow, 'resistance');
    expect(resistance).toMatchObject({ value: 0.15, origin: 'stated' });
    expect(resistance.source).toBeUndefined();
    expect(resistance.standardUncertainty).toBeGreaterThan(0.01 * resistance.value);
  });

  it('shares what it inherits: same figure, same error', async () => {
    const model = await modelOf(texts);
    const [base, slow] = [partNamed(model, 'Base'), partNamed(model, 'Slow')];
    expect(figureOf(slow, 'mass').id).toBe(figureOf(base, 'mass').id);
    expect(figureOf(slow, 'kv').id).not.toBe(figureOf(base, 'kv').id);
    expect(figureOf(slow, 'mass').label).toBe('mass of Base');
  });

  it('takes back with none', async () => {
    const slow = partNamed(await modelOf(texts), 'Slow');
    expect(slow.declared('burst')).toBeUndefined();
    expect(slow.holes.size).toBe(0);
  });

  it('has a title of its own or none', async () => {
    const model = await modelOf(texts);
    expect(partNamed(model, 'Base').title).toBe('the base');
    expect(partNamed(model, 'Slow').title).toBeUndefined();
  });

  it('knows nothing of what it would inherit from a part that is not there', async () => {
    const orphan = partNamed(await modelOf('motor Orphan like Nobody {\n  kv: 7800 rpm/V\n}'), 'Orphan');
    expect(figureOf(orphan, 'kv').origin).toBe('stated');
    expect(orphan.figure('resistance')).toBeUndefined();
    expect(orphan.holes.has('resistance')).toBe(true);
  });

  it('merges rails by name', async () => {
    const model = await modelOf(`esc A {
  continuous: 18 A
  rail video {
    type: buck
    output: 10 V
  }
  rail logic {
    from: video
    output: 5 V
  }
}
esc B like A {
  rail video { output: 9 V }
}`);
    const rails = partNamed(model, 'B').rails;
    expect(rails.map((rail) => rail.name)).toEqual(['video', 'logic']);
    expect(rails[0]?.figure('output')?.value).toBe(9);
    expect(rails[0]?.word('type')).toBe('buck');
    expect(rails[1]?.word('from')).toBe('video');
  });
});

const close = (value: number) => expect.closeTo(value, 12);

describe('values of other shapes', () => {
  it('reads sizes, ranges, bolts and cells', async () => {
    const model = await modelOf(`pack P {
  cells: 3S2P
  capacity: 5 Ah
  size: 61x18x14mm
}
esc E {
  continuous: 18 A
  cells: 2S .. 4S
  supply: 7 .. 26 V
  bolts: 4 x M2 on 25.5 x 25.5 mm
}
motor M {
  kv: 9600 rpm/V
  stator: 11 x 4 mm
  bolts: 3 x M1.4 on 6.6 mm
}`);
    expect(partNamed(model, 'P').cells('cells')).toMatchObject({ series: 3, parallel: 2 });
    expect(partNamed(model, 'P').size('size')?.sides).toEqual([61e-3, 18e-3, 14e-3].map(close));
    expect(partNamed(model, 'E').range('cells')).toMatchObject({ low: 2, high: 4, text: '2S .. 4S' });
    expect(partNamed(model, 'E').range('supply')).toMatchObject({ low: 7, high: 26, unit: 'V' });
    expect(partNamed(model, 'E').bolts('bolts')).toMatchObject({
      count: 4,
      thread: 'M2',
      sides: [25.5e-3, 25.5e-3].map(close),
    });
    expect(partNamed(model, 'M').bolts('bolts')).toMatchObject({ count: 3, thread: 'M1.4', sides: [close(6.6e-3)] });
    expect(partNamed(model, 'M').size('stator')?.named).toEqual({ diameter: close(11e-3), height: close(4e-3) });
    expect(partNamed(model, 'M').holes.size).toBe(0);
  });
});
