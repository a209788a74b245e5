/** A build flies on what was measured of its propeller: rows of a stand in place of the estimate from its size. */
import { describe, expect, it } from 'vitest';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { buildsUsing } from '../../packages/language/src/resolve/builds-using.ts';
import { fileOf } from '../../packages/language/src/syntax/nodes.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn, findingsIn } from '../checks/findings-in.ts';
import { Workspace } from '../references/memory-workspace.ts';

const THRUST_COEFFICIENT = 0.15;
const POWER_COEFFICIENT = 0.09;
const DIAMETER = 0.102;
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
  motor: M1805
  propeller: P4024x3
  air: 20 degC at 0 m
  rows speed in rpm, thrust in gf, torque in N*m {
    ${rows.join('\n    ')}
  }
}`;

const assessed = async (text: string) => {
  const assessment = (await assessedIn({ 'a.fettle': text }))['a.fettle']?.[0]?.assessments[0];
  if (!assessment) throw new Error('no build');
  return assessment;
};

const coefficient = (assessment: Awaited<ReturnType<typeof assessed>>, symbol: string) =>
  derivationOf(symbol.startsWith('C_T') ? 'hover_speed' : 'hover_duty', assessment)?.terms.find(
    (term) => term.symbol === symbol,
  );

/** How far a coefficient in hover is off. */
const ratioTo = (assessment: Awaited<ReturnType<typeof assessed>>, symbol: string, made: number): number =>
  Math.abs((coefficient(assessment, symbol)?.value ?? 0) / made - 1);

describe('rows with speed and torque', () => {
  const text = `${EXAMPLE_CRAFT}${stand([row(10_000), row(15_000), row(10_000)])}`;

  it('give the coefficients they were made from, with what they were before', async () => {
    const assessment = await assessed(text);
    expect(ratioTo(assessment, 'C_T', THRUST_COEFFICIENT)).toBeLessThan(0.02);
    expect(ratioTo(assessment, 'C_P', POWER_COEFFICIENT)).toBeLessThan(0.03);
    expect(coefficient(assessment, 'C_T0')?.because).toMatch(/before it was observed/);
    expect(assessment.learnt?.from).toEqual(['Kitchen']);
  });

  it('narrow the ± of the minutes, and beat figures that are declared', async () => {
    const wide = (await assessed(EXAMPLE_CRAFT)).results.get('hover_time')?.estimate;
    const narrow = (await assessed(text)).results.get('hover_time')?.estimate;
    if (!wide || !narrow) throw new Error('it does not fly');
    expect(expanded(narrow) / narrow.value).toBeLessThan((0.75 * expanded(wide)) / wide.value);

    const claimed = text.replace('blades: 3', 'blades: 3\n  thrust_coefficient: 0.13 claimed');
    expect(ratioTo(await assessed(claimed), 'C_T', THRUST_COEFFICIENT)).toBeLessThan(0.07);
  });

  it('leave a variant of the propeller alone', async () => {
    const other = text
      .replace('with P4024x3', 'with Other')
      .replace('build Healthy', 'propeller Other like P4024x3 { }\nbuild Healthy');
    expect((await assessed(other)).learnt).toBeUndefined();
  });

  it('that contradict each other are reported', async () => {
    const odd = `${EXAMPLE_CRAFT}${stand([row(13_000), row(15_000), row(20_000, 1.4)])}`;
    const found = (await findingsIn({ 'a.fettle': odd }))['a.fettle']?.find(({ id }) => id === 'claims-disagree');
    expect(found?.severity).toBe('information');
    expect(found?.message).toMatch(/^Thrust in row \d of Kitchen, .* contradicts the others, which give/);
  });
});

describe('rows with thrust and speed alone', () => {
  it('teach the power coefficient as well, since one follows the other', async () => {
    const text = `${EXAMPLE_CRAFT}${stand([row(10_000, 1.2), row(20_000, 1.2)])}`.replace(
      /, torque in N\*m|, \d+\.\d{7}/g,
      '',
    );
    const plain = await assessed(EXAMPLE_CRAFT);
    const measured = await assessed(text);
    expect(ratioTo(measured, 'C_T', 1.2 * THRUST_COEFFICIENT)).toBeLessThan(0.03);
    const grown = (symbol: string) =>
      (coefficient(measured, symbol)?.value ?? 0) / (coefficient(plain, symbol)?.value ?? 1);
    expect(grown('C_T0')).toBeGreaterThan(1.1);
    expect(grown('C_P0')).toBeCloseTo(grown('C_T0') ** 0.86, 2);
  });
});

describe('rows with the electrical side', () => {
  const FULL = `
bench Kitchen {
  motor: M1805
  propeller: P4024x3
  air: 15 degC
  rows duty in %, voltage in V, current in A, thrust in gf {
    45, 15.8, 1.3, 90
    100, 14.8, 9.8, 470
  }
}`;

  it('narrow what the model itself leaves open', async () => {
    const width = async (text: string, name: ResultId) => {
      const estimate = (await assessed(text)).results.get(name)?.estimate;
      return estimate ? expanded(estimate) / estimate.value : Number.NaN;
    };
    expect(await width(EXAMPLE_CRAFT, 'full_current')).toBeGreaterThan(0.25);
    expect(await width(`${EXAMPLE_CRAFT}${FULL}`, 'full_current')).toBeLessThan(0.14);
    expect(await width(EXAMPLE_CRAFT, 'hover_power')).toBeGreaterThan(0.25);
    expect(await width(`${EXAMPLE_CRAFT}${FULL}`, 'hover_power')).toBeLessThan(0.16);
  });

  it('state the same without the duty, or with watts for amperes', async () => {
    const of = async (text: string) => (await assessed(text)).results.get('hover_power')?.estimate.value ?? Number.NaN;
    const withSpeed = `
bench Kitchen {
  motor: M1805
  propeller: P4024x3
  rows duty in %, voltage in V, current in A, thrust in gf, speed in rpm {
    45, 15.8, 1.3, 90, 12300
  }
}`;
    const withoutDuty = withSpeed.replace('duty in %, ', '').replace('45, ', '');
    const inWatts = withoutDuty.replace('current in A', 'power in W').replace('1.3', String(15.8 * 1.3));
    const [one, two, three] = await Promise.all(
      [withSpeed, withoutDuty, inWatts].map((rows) => of(EXAMPLE_CRAFT + rows)),
    );
    expect(Math.abs((two ?? 0) / (one ?? 1) - 1)).toBeLessThan(0.04);
    expect((three ?? 0) / (two ?? 1)).toBeCloseTo(1, 3);
  });

  it('faster than the winding turns unloaded are doubted', async () => {
    const fast = FULL.replace('thrust in gf {', 'thrust in gf, speed in rpm {')
      .replace(', 90', ', 90, 31000')
      .replace(', 470', ', 470, -');
    const found = (await findingsIn({ 'a.fettle': `${EXAMPLE_CRAFT}${fast}` }))['a.fettle'] ?? [];
    expect(found.map(({ id }) => id)).toContain('claims-disagree');
  });
});

describe('benches in other files', () => {
  const parts = EXAMPLE_CRAFT.slice(0, EXAMPLE_CRAFT.indexOf('build Healthy'));
  const build = `use "../parts"\n${EXAMPLE_CRAFT.slice(EXAMPLE_CRAFT.indexOf('build Healthy'))}`;
  const thrustOf = (workspace: Workspace) => {
    const [checked] = checkDocument(readDocument(workspace.document('builds/a.fettle'))).builds;
    const assessment = checked?.assessments[0];
    return assessment && { assessment, value: coefficient(assessment, 'C_T')?.value ?? 0 };
  };
  const isAbout = (value: number | undefined, share = 1) =>
    expect(Math.abs((value ?? 0) / (share * THRUST_COEFFICIENT) - 1)).toBeLessThan(0.05);

  it('count in addition to the propeller, and their changes reach the build', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': parts,
      'parts/stand.fettle': stand([row(10_000)]),
      'builds/a.fettle': build,
    });
    isAbout(thrustOf(workspace)?.value);
    await workspace.edit('parts/stand.fettle', stand([row(10_000, 1.1)]));
    isAbout(thrustOf(workspace)?.value, 1.1);
    await workspace.edit('parts/stand.fettle', '');
    expect(thrustOf(workspace)?.assessment.learnt).toBeUndefined();
  });

  it('count for a build whose base sees them, and their changes reach it', async () => {
    const workspace = await Workspace.of({
      'parts/p.fettle': parts,
      'stands/s.fettle': `use "../parts"\n${stand([row(10_000)])}`,
      'base/b.fettle': `use "../stands"\n${build}`,
      'builds/a.fettle': 'use "../base"\nuse "../parts"\nbuild Heir like Healthy { }',
    });
    isAbout(thrustOf(workspace)?.value);
    const [bench] = fileOf(workspace.document('stands/s.fettle')).parts;
    const users = bench && buildsUsing(bench, workspace.services.shared.workspace.IndexManager);
    expect(users?.map(({ name }) => name)).toEqual(expect.arrayContaining(['Healthy', 'Heir']));
    await workspace.edit('stands/s.fettle', `use "../parts"\n${stand([row(10_000, 1.1)])}`);
    isAbout(thrustOf(workspace)?.value, 1.1);
    await workspace.edit('base/b.fettle', build);
    expect(thrustOf(workspace)?.assessment.learnt).toBeUndefined();
  });

  it('may be in a table of their own, whose changes reach the build as well', async () => {
    const table = (share: number) => `speed,thrust,torque\n${row(10_000, share).replaceAll(' ', '')}\n`;
    const workspace = await Workspace.of({
      'parts/p.fettle': parts,
      'parts/rows.csv': table(1),
      'parts/stand.fettle': stand([]).replace(/\{\s*\}\s*\}$/, 'from "rows.csv"\n}'),
      'builds/a.fettle': build,
    });
    isAbout(thrustOf(workspace)?.value);
    await workspace.edit('parts/rows.csv', table(1.1));
    isAbout(thrustOf(workspace)?.value, 1.1);
  });
});
