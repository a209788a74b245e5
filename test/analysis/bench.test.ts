/** A build flies on what was measured of its propeller: rows of a stand in place of the estimate from its size. */
import { describe, expect, it } from 'vitest';
import { derivationOf } from '../../packages/language/src/analysis/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/estimate.ts';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/model/read.ts';
import { checkedIn, findingsIn } from '../checks/findings-in.ts';
import { Workspace } from '../references/workspace.ts';
import { SMALL_CRAFT } from '../small-craft.ts';

const THRUST_COEFFICIENT = 0.17;
const POWER_COEFFICIENT = 0.13;
const DIAMETER = 0.051;
/** Of dry air at 20 °C and sea level: ISO 2533 gives 1.2250 at 15 °C, and density goes as 1/T. */
const DENSITY = (1.225 * 288.15) / 293.15;

/** Thrust in gf and torque in N m at a speed in rpm, from the definitions alone. */
const row = (rpm: number, thrustShare = 1): string => {
  const turns = rpm / 60;
  const thrust = (THRUST_COEFFICIENT * DENSITY * turns ** 2 * DIAMETER ** 4 * thrustShare) / 9.80665e-3;
  const torque = (POWER_COEFFICIENT * DENSITY * turns ** 2 * DIAMETER ** 5) / (2 * Math.PI);
  return `${rpm}, ${thrust.toFixed(3)}, ${torque.toFixed(7)}`;
};

const stand = (rows: readonly string[]): string => `
bench Kitchen {
  motor: M1104
  propeller: P2020x3
  air: 20 degC at 0 m
  rows speed in rpm, thrust in gf, torque in N*m {
    ${rows.join('\n    ')}
  }
}`;

const assessed = async (text: string) => {
  const assessment = (await checkedIn({ 'a.fettle': text }))['a.fettle']?.builds[0]?.assessments[0];
  if (!assessment) throw new Error('no build');
  return assessment;
};

const coefficient = (assessment: Awaited<ReturnType<typeof assessed>>, symbol: string) =>
  derivationOf(symbol === 'C_T' ? 'hover_speed' : 'hover_duty', assessment)?.terms.find(
    (term) => term.symbol === symbol,
  );

describe('rows with speed and torque', () => {
  const text = `${SMALL_CRAFT}${stand([row(20_000), row(30_000), row(40_000)])}`;

  it('give the coefficients they were made from, with their origin', async () => {
    const assessment = await assessed(text);
    expect(coefficient(assessment, 'C_T')?.value).toBeCloseTo(THRUST_COEFFICIENT, 3);
    expect(coefficient(assessment, 'C_P')?.value).toBeCloseTo(POWER_COEFFICIENT, 3);
    expect(coefficient(assessment, 'C_T')?.origin).toBe('measured');
    expect(coefficient(assessment, 'C_T')?.because).toContain('3 rows of Kitchen');
  });

  it('narrow the ± of the minutes, and beat figures that are declared', async () => {
    const wide = (await assessed(SMALL_CRAFT)).results.get('hover_time')?.estimate;
    const narrow = (await assessed(text)).results.get('hover_time')?.estimate;
    if (!wide || !narrow) throw new Error('it does not fly');
    expect(expanded(narrow) / narrow.value).toBeLessThan((0.75 * expanded(wide)) / wide.value);

    const claimed = text.replace('blades: 3', 'blades: 3\n  thrust_coefficient: 0.1');
    expect(coefficient(await assessed(claimed), 'C_T')?.value).toBeCloseTo(THRUST_COEFFICIENT, 3);
  });

  it('leave a variant of the propeller alone', async () => {
    const other = text
      .replace('with P2020x3', 'with Other')
      .replace('build Healthy', 'propeller Other like P2020x3 { }\nbuild Healthy');
    expect(coefficient(await assessed(other), 'C_T')?.origin).not.toBe('measured');
  });

  it('that contradict each other are shown with their residuals', async () => {
    const odd = `${SMALL_CRAFT}${stand([row(26_000), row(30_000), row(40_000, 1.4)])}`;
    const found = (await findingsIn({ 'a.fettle': odd }))['a.fettle']?.find(({ id }) => id === 'claims-disagree');
    expect(found?.severity).toBe('information');
    expect(found?.message).toContain('row 3 of Kitchen says C_T +40 %');
    expect(found?.related.map(({ message }) => message)).toContain('row 1 of Kitchen: C_T +0 %, C_P +0 %');
  });
});

describe('rows with thrust and speed alone', () => {
  it('leave the power coefficient to follow, so that the pair makes sense', async () => {
    const text = `${SMALL_CRAFT}${stand([row(20_000, 1.2), row(40_000, 1.2)])}`.replace(
      /, torque in N\*m|, \d+\.\d{7}/g,
      '',
    );
    const plain = await assessed(SMALL_CRAFT);
    const measured = await assessed(text);
    const ratio = (symbol: string) =>
      (coefficient(measured, symbol)?.value ?? 0) / (coefficient(plain, symbol)?.value ?? 1);
    expect(coefficient(measured, 'C_T')?.value).toBeCloseTo(1.2 * THRUST_COEFFICIENT, 3);
    expect(ratio('C_P')).toBeCloseTo(ratio('C_T') ** 0.86, 6);
  });
});

describe('rows with the electrical side', () => {
  /** The build's own prediction at two thrusts, as a stand would read it: what comes out must be what went in. */
  it('lead back to the coefficients of the model that made them', async () => {
    const plain = await assessed(SMALL_CRAFT);
    const full = plain.points.full;
    if (!full || 'impossible' in full) throw new Error('no full duty');
    const [state] = full.rotors;
    if (!state) throw new Error('no rotor');
    const rpm = (state.speed * 60) / (2 * Math.PI);
    const bus = full.busVoltage;
    const bare = state.thrust / 1.01 / 9.80665e-3;
    const atMotor = state.motorVoltage * state.motorCurrent;
    const text = `${SMALL_CRAFT}
bench Kitchen {
  motor: M1104
  propeller: P2020x3
  air: 15 degC at 100 m
  rows voltage in V, current in A, thrust in gf, speed in rpm {
    ${bus.toFixed(5)}, ${(atMotor / bus).toFixed(6)}, ${bare.toFixed(5)}, ${rpm.toFixed(3)}
  }
}`;
    const measured = await assessed(text);
    for (const symbol of ['C_T', 'C_P']) {
      const before = coefficient(plain, symbol)?.value ?? 0;
      expect(Math.abs((coefficient(measured, symbol)?.value ?? 0) / before - 1), symbol).toBeLessThan(2e-3);
    }
  });

  const FULL = `
bench Kitchen {
  motor: M1104
  propeller: P2020x3
  air: 15 degC
  rows duty in %, voltage in V, current in A, thrust in gf {
    45, 7.9, 1.6, 27
    100, 7.4, 8.2, 108
  }
}`;

  it('at full duty and near hover replace the model’s own terms', async () => {
    const width = async (text: string, id: string) => {
      const input = (await assessed(text)).inputs.find((figure) => figure.id === id);
      return input && 2 * input.standardUncertainty;
    };
    expect(await width(SMALL_CRAFT, 'model.full_duty')).toBeCloseTo(0.15);
    expect(await width(`${SMALL_CRAFT}${FULL}`, 'model.full_duty')).toBeCloseTo(0.06);
    expect(await width(SMALL_CRAFT, 'model.part_duty')).toBeGreaterThan(0.1);
    expect(await width(`${SMALL_CRAFT}${FULL}`, 'model.part_duty')).toBeCloseTo(0.06);
  });

  it('of another motor leave them as they are', async () => {
    const other = `${SMALL_CRAFT}\nmotor Other like M1104 { kv: 9000 rpm/V }${FULL.replace('motor: M1104', 'motor: Other')}`;
    const term = (await assessed(other)).inputs.find(({ id }) => id === 'model.full_duty');
    expect(2 * (term?.standardUncertainty ?? 0)).toBeCloseTo(0.15);
  });

  it('faster than the winding turns unloaded are doubted', async () => {
    const fast = FULL.replace('thrust in gf {', 'thrust in gf, speed in rpm {')
      .replace(', 27', ', 27, 61000')
      .replace(', 108', ', 108, -');
    const found = (await findingsIn({ 'a.fettle': `${SMALL_CRAFT}${fast}` }))['a.fettle'] ?? [];
    expect(found.map(({ id }) => id)).toContain('claims-disagree');
  });
});

describe('benches in other files', () => {
  const parts = SMALL_CRAFT.slice(0, SMALL_CRAFT.indexOf('build Healthy'));
  const build = `use "../parts"\n${SMALL_CRAFT.slice(SMALL_CRAFT.indexOf('build Healthy'))}`;
  const thrustOf = (workspace: Workspace) => {
    const [checked] = checkDocument(readDocument(workspace.document('builds/a.fettle'))).builds;
    const assessment = checked?.assessments[0];
    return assessment && coefficient(assessment, 'C_T');
  };

  it('count beside the propeller, and their changes reach the build', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': parts,
      'parts/stand.fettle': stand([row(20_000)]),
      'builds/a.fettle': build,
    });
    expect(thrustOf(workspace)?.value).toBeCloseTo(THRUST_COEFFICIENT, 3);
    await workspace.edit('parts/stand.fettle', stand([row(20_000, 1.1)]));
    expect(thrustOf(workspace)?.value).toBeCloseTo(1.1 * THRUST_COEFFICIENT, 3);
    await workspace.edit('parts/stand.fettle', '');
    expect(thrustOf(workspace)?.origin).toBe('estimated');
  });

  it('may stand in a table beside them, whose changes reach the build as well', async () => {
    const table = (share: number) => `speed,thrust,torque\n${row(20_000, share).replaceAll(' ', '')}\n`;
    const workspace = await Workspace.of({
      'parts/p.fettle': parts,
      'parts/rows.csv': table(1),
      'parts/stand.fettle': stand([]).replace(/\{\s*\}\s*\}$/, 'from "rows.csv"\n}'),
      'builds/a.fettle': build,
    });
    expect(thrustOf(workspace)?.value).toBeCloseTo(THRUST_COEFFICIENT, 3);
    await workspace.edit('parts/rows.csv', table(1.1));
    expect(thrustOf(workspace)?.value).toBeCloseTo(1.1 * THRUST_COEFFICIENT, 3);
  });
});
