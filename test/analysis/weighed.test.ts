/** A craft that was weighed, and what a build that is `like` it adds, takes out and exchanges. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessPlainly } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn, checkedIn, judgedIn } from '../checks/findings-in.ts';
import { cases } from '../long.ts';

const PARTS = `
motor M { stator: 28 x 6 mm  kv: 1300 rpm/V  mass: 45 g }
motor Heavy like M { mass: 60 g }
propeller P { diameter: 178 mm  blades: 3  mass: 7 g }
esc B { continuous: 45 A  channels: 4  mass: 14 g }
esc Other like B { mass: 20 g }
airframe Frame { mass: 200 g }
airframe Long { mass: 260 g }
pack Big { cells: 6S  capacity: 4000 mAh  mass: 590 g }
pack Small { cells: 6S  capacity: 2000 mAh  mass: 310 g }
load Cam { draw: 5 W  mass: 300 g }
load Unweighed { draw: 5 W }
item Strap { mass: 4 g }
item Nobody { }
lead Main { wire: 12 AWG  length: 100 mm  mass: 12 g }
regulator Step { output: 5 V  mass: 3 g }
mount Gel { mass: 2 g }
build Bare { airframe: Frame  motors: 4 x M with P  esc: B  load: Cam  item: 2 x Strap  item: 25 g "tape"  pack: Big  pack: Small  dry_mass: 900 g }
`;

async function assessed(builds: string, name: string): Promise<readonly Assessment[]> {
  const found = (await assessedIn({ 'craft.fettle': PARTS + builds }))['craft.fettle'];
  return found?.find(({ build }) => build.name === name)?.assessments ?? [];
}

/** g, on each pack; NaN where it cannot be reported. */
const grams = (assessments: readonly Assessment[], name: ResultId = 'all_up_weight'): number[] =>
  assessments.map(({ results }) => 1e3 * (results.get(name)?.estimate.value ?? Number.NaN));

/** g, without any ±, of each build on each pack. */
async function weights(
  builds: string,
  name: ResultId = 'all_up_weight',
): Promise<ReadonlyMap<string, readonly number[]>> {
  const found = await judgedIn({ 'craft.fettle': PARTS + builds }, (model) =>
    model.builds.map(
      (build) =>
        [
          build.name,
          grams(
            build.packs.map((option) => assessPlainly(build, option)),
            name,
          ),
        ] as const,
    ),
  );
  return new Map(found['craft.fettle']);
}

async function dryMass(lines: string, base = 'Bare'): Promise<number> {
  const [weight] = (await weights(`build Heir like ${base} { ${lines} }`, 'dry_mass')).get('Heir') ?? [];
  return weight ?? Number.NaN;
}

describe('a build like one that was weighed', () => {
  it.each([
    ['weighs the same when it states nothing', '', 900],
    ['adds a load and an item', 'load: Cam as Second  item: 500 g "payload"', 1700],
    ['adds several of one', 'item: 5 x Strap', 920],
    ['adds what its loads are mounted on', 'load: Cam as Second on Gel', 1202],
    ['adds leads, regulators and mounts', 'lead: 2 x Main  regulator: Step  mount: Gel', 929],
    ['takes out', 'without: Cam', 600],
    ['takes out what stands by its label', 'without: tape', 875],
    ['takes all of one out', 'without: Strap', 892],
    ['takes out by none', 'load: none', 600],
    ['exchanges motors', 'motors: 4 x Heavy with P', 960],
    ['exchanges for fewer', 'motors: 3 x M with P', 848],
    ['states the same motors again', 'motors: 4 x M with P', 900],
    ['exchanges board and frame', 'esc: Other  airframe: Long', 966],
    ['exchanges one load for another of the same part', 'without: Cam  load: Cam as Second', 900],
    ['is weighed again', 'load: Cam as Second  dry_mass: 1210 g', 1210],
    ['leaves the rest of the label lines alone', 'without: Strap  item: 10 g "glue"', 902],
  ])('%s', async (_, lines, expected) => {
    expect(await dryMass(lines)).toBeCloseTo(expected, 6);
  });

  it('takes the scale back with none: the sum of its parts again', async () => {
    const listed = 200 + 4 * 52 + 14 + 300 + 8 + 25;
    expect(await dryMass('dry_mass: none')).toBeCloseTo(listed, 6);
  });

  it('counts along the whole chain from the nearest weighing', async () => {
    const chain =
      'build Middle like Bare { load: Cam as Second }  build Heir like Middle { without: Cam  item: 9 g "x" }';
    expect(grams(await assessed(chain, 'Heir'), 'dry_mass')[0]).toBeCloseTo(909, 6);
    const weighedAgain =
      'build Middle like Bare { load: Cam as Second  dry_mass: 1150 g }  build Heir like Middle { without: Second }';
    expect(grams(await assessed(weighedAgain, 'Heir'), 'dry_mass')[0]).toBeCloseTo(850, 6);
  });

  it('knows that the scale felt a frame, motors and a board that the weighed build does not name', async () => {
    const named = 'build Nine { motors: 4 x M with P  esc: B  pack: Big  dry_mass: 900 g }';
    const heir = `${named}  build Heir like Nine { airframe: Frame }`;
    expect(grams(await assessed(heir, 'Heir'), 'dry_mass')[0]).toBeCloseTo(900, 6);
  });

  it('estimates what nobody weighed, with its ±, and reports it', async () => {
    const builds = 'build Heir like Bare { load: Unweighed }';
    const checked = (await checkedIn({ 'craft.fettle': PARTS + builds }))['craft.fettle'];
    const heir = checked?.builds.find(({ build }) => build.name === 'Heir')?.assessments[0];
    const mass = heir?.results.get('dry_mass')?.estimate;
    expect(1e3 * (mass?.value ?? 0)).toBeCloseTo(910, 6);
    expect(1e3 * (mass ? expanded(mass) : 0)).toBeGreaterThan(10);
    expect(heir?.inputs.map(({ label }) => label)).toContain('mass of Unweighed');
    expect(heir && derivationOf('dry_mass', heir)?.terms.map(({ label }) => label)).toContain('mass of Unweighed');
  });

  it('lists what came and went, and no line that stayed, whatever its number is by now', async () => {
    const [heir] = await assessed(
      'build Kept like Bare { item: 8 g  dry_mass: 905 g }  build Heir like Kept { without: Strap  item: 9 g }',
      'Heir',
    );
    expect(heir?.masses.map(({ label }) => label)).toEqual([
      'dry mass of Kept, weighed',
      'without Strap',
      'item 3',
      'Big',
    ]);
  });

  it('has no weight where that of what was added is unknown', async () => {
    const [heir] = await assessed('build Heir like Bare { item: Nobody }', 'Heir');
    expect(heir?.missing.get('dry_mass')?.reason).toBe('the mass of Nobody is not known');
  });

  it('has no weight while a line of it cannot be read, or when more is taken out than was weighed', async () => {
    const [half] = await assessed('build Heir like Bare { item: }', 'Heir');
    expect(half?.missing.get('dry_mass')?.reason).toMatch(/cannot be read yet/);
    const [light] = await assessed(
      'build Wrong like Bare { dry_mass: 270 g }  build Heir like Wrong { without: Cam }',
      'Heir',
    );
    expect(light?.missing.get('dry_mass')?.reason).toMatch(/taken out weighs more/);
  });

  it('shows in ledger and explanation what was weighed, added and taken out; the lines add up', async () => {
    const [heir] = await assessed('build Heir like Bare { item: 500 g "payload"  without: Cam }', 'Heir');
    expect(heir?.masses.map(({ label, mass }) => [label, Math.round(1e3 * mass.value)])).toEqual([
      ['dry mass of Bare, weighed', 900],
      ['without Cam', -300],
      ['payload', 500],
      ['Big', 590],
    ]);
    const derivation = heir && derivationOf('dry_mass', heir);
    expect(derivation?.description).toBe('Bare weighed 900 g, 500 g added, 300 g taken out.');
    expect(1e3 * (derivation?.terms.reduce((sum, { value }) => sum + value, 0) ?? 0)).toBeCloseTo(1100, 6);
  });

  it('has the error of the scale once, in base and heir: their difference is as sure as what was added', async () => {
    const [bare] = await assessed('', 'Bare');
    const [heir] = await assessed('build Heir like Bare { item: 500 g "payload" }', 'Heir');
    const scale = (one: Assessment | undefined) => one?.inputs.find(({ label }) => label === 'dry mass of Bare')?.id;
    expect(scale(heir)).toBeDefined();
    expect(scale(heir)).toBe(scale(bare));
  });
});

describe('over random builds', () => {
  /** What a line adds to the scale, g. */
  const addition = fc.oneof(
    fc.integer({ min: 1, max: 9000 }).map((tenths) => ({ line: `item: ${tenths / 10} g "x"`, mass: tenths / 10 })),
    fc.integer({ min: 1, max: 9 }).map((count) => ({ line: `item: ${count} x Strap`, mass: 4 * count })),
    fc.integer({ min: 1, max: 3 }).map((count) => ({ line: `load: ${count} x Cam as Again`, mass: 300 * count })),
    fc.constantFrom(
      { line: 'lead: Main', mass: 12 },
      { line: 'regulator: Step', mass: 3 },
      { line: 'mount: 2 x Gel', mass: 4 },
    ),
  );
  /** What a line exchanges or takes out; each word once. */
  const exchange = fc.subarray([
    { line: 'motors: 4 x Heavy with P', mass: 60 },
    { line: 'esc: 2 x Other', mass: 26 },
    { line: 'airframe: Long', mass: 60 },
    { line: 'without: Cam', mass: -300 },
    { line: 'without: tape', mass: -25 },
  ]);

  const sum = (lines: readonly { readonly mass: number }[]) => lines.reduce((total, { mass }) => total + mass, 0);
  const text = (lines: readonly { readonly line: string }[]) => lines.map(({ line }) => line).join('\n');

  it('x g added always add x g to the all-up weight on each pack; taken out and exchanged likewise; in any order', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(addition, { maxLength: 5 }), exchange, async (added, exchanged) => {
        const lines = [...added, ...exchanged];
        const change = sum(lines);
        const heirs = `build Heir like Bare {\n${text(lines)}\n}\nbuild Turned like Bare {\n${text(lines.toReversed())}\n}`;
        const found = await weights(heirs);
        const bare = found.get('Bare') ?? [];
        expect(bare).toHaveLength(2);
        for (const name of ['Heir', 'Turned']) {
          const heir = found.get(name) ?? [];
          expect(heir).toHaveLength(2);
          for (const [i, weight] of bare.entries()) expect((heir[i] ?? Number.NaN) - weight).toBeCloseTo(change, 6);
        }
      }),
      { seed: 41, numRuns: cases(8, 60) },
    );
  }, 60_000);

  it('two steps of a chain weigh what both weigh in one; what was added and taken out again weighs nothing', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(addition, { maxLength: 3 }), fc.array(addition, { maxLength: 3 }), async (one, two) => {
        const chain = `build First like Bare {\n${text(one)}\n}\nbuild Second like First {\n${text(two)}\nitem: 77 g "back"\n}
          build Third like Second { without: back }\nbuild Whole like Bare {\n${text([...one, ...two])}\n}`;
        const found = await weights(chain);
        const of = (name: string) => found.get(name)?.[0] ?? Number.NaN;
        expect(of('Third')).toBeCloseTo(of('Whole'), 6);
        expect(of('Second')).toBeCloseTo(of('Third') + 77, 6);
      }),
      { seed: 42, numRuns: cases(6, 40) },
    );
  }, 60_000);
});

describe('a craft that was put on the scale ready to fly', () => {
  const CLAIMED = `
airframe Light { mass: 200 g claimed }
build Claimed { airframe: Light  motors: 4 x M with P  esc: B  pack: Big  pack: Small  require all_up_weight <= 1100 g`;

  it('weighs what the scale showed, whatever its parts claim; its other packs make up the difference', async () => {
    const observed = await assessed(`${CLAIMED}  observed "scale" with Big { scale: 1200 g } }`, 'Claimed');
    expect(grams(observed)).toEqual([expect.closeTo(1200, 6), expect.closeTo(920, 6)]);
    const estimate = observed[0]?.results.get('all_up_weight')?.estimate;
    // The pack's own ± is not in it.
    expect(1e3 * (estimate ? expanded(estimate) : Number.NaN)).toBeCloseTo(6, 5);
    expect(observed[0]?.masses.reduce((sum, { mass }) => sum + mass.value, 0)).toBeCloseTo(1.2, 9);
    const derivation = observed[0] && derivationOf('dry_mass', observed[0]);
    expect(derivation?.description).toBe('Weighed ready to fly, less the pack that was on it.');
  });

  it('is judged by it where a weight is required', async () => {
    const found = async (lines: string) =>
      (await checkedIn({ 'craft.fettle': `${PARTS}${CLAIMED}  ${lines} }` }))['craft.fettle']?.findings.filter(
        ({ id }) => id === 'overweight',
      ) ?? [];
    expect(await found('')).toEqual([]);
    const [heavy] = await found('observed "scale" with Big { scale: 1200 g }');
    expect(heavy).toMatchObject({ severity: 'error', pack: 'Big' });
  });

  it('counts in addition to a dry mass that was stated: two readings of one craft', async () => {
    const both = await assessed(
      `${CLAIMED}  dry_mass: 500 g  observed "scale" with Big { scale: 1200 g } }`,
      'Claimed',
    );
    // The dry mass alone would make it 1090 g.
    expect(grams(both)[0]).toBeGreaterThan(1100);
    expect(grams(both)[0]).toBeLessThan(1200);
  });
});
