/** A shortlist against brute force: every candidate written into the file, checked and compared one by one. */
import { EmptyFileSystem, URI } from 'langium';
import { describe, expect, it } from 'vitest';
import { assess, templateOf } from '../../packages/language/src/analysis/assess.ts';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { apart, chanceAboveZero, front, preferenceOf } from '../../packages/language/src/analysis/decide/ranking.ts';
import { evaluate } from '../../packages/language/src/analysis/evaluate/evaluation.ts';
import { resultMeasures } from '../../packages/language/src/analysis/results/all-results.ts';
import type { Setup } from '../../packages/language/src/analysis/setup/setup.ts';
import { fill, withDeviations } from '../../packages/language/src/analysis/setup/template.ts';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { compared } from '../../packages/language/src/report/compare/compare-data.ts';
import { Cancelled, type Chosen, choose, type Row } from '../../packages/language/src/report/decide/choice.ts';
import { chosenData } from '../../packages/language/src/report/decide/choice-text.ts';
import { CannotChoose, spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { edited, editsFor } from '../../packages/language/src/trial/take.ts';
import { partNamed } from '../../packages/language/src/trial/trial.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';
import { randomNumbers as random } from '../analysis/random-builds.ts';

const PARTS = `
motor M { stator: 16 x 6 mm  kv: 3150 rpm/V claimed  resistance: 82 mohm  no_load_current: 0.74 A at 10 V  continuous: 10 A  mass: 14.7 g }
motor Slow like M { kv: 2650 rpm/V claimed  resistance: 116 mohm  no_load_current: 0.6 A at 10 V }
propeller P3 { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g }
propeller P4 { diameter: 102 mm  pitch: 2.2 in  blades: 2  mass: 1.9 g }
propeller P2 like P3 { blades: 2  mass: 1.2 g }
esc E { continuous: 35 A  cells: 3S .. 4S  mass: 12 g }
airframe F { rotors: 4  wheelbase: 148 mm  guard_diameter: 90 mm  bay: 82 x 40 x 30 mm  mass: 61 g }
pack Small { cells: 4S  capacity: 720 mAh  discharge: 80C  size: 62 x 31 x 26 mm  mass: 84 g }
pack Middle like Small { capacity: 1050 mAh  size: 73 x 35 x 27 mm  mass: 121 g }
pack Large like Small { capacity: 1350 mAh  size: 76 x 36 x 32 mm  mass: 152 g }
pack Five like Small { cells: 5S  capacity: 900 mAh  mass: 130 g }
build Craft {
  airframe: F
  motors: 4 x M with P3
  esc: E
  item: 20 g "wire"
  pack: Small
  require hover_time >= 4 min
  observed "one flight" with Small {
    scale: 252 g
    airborne: 5 min
    put_back: 500 mAh
  }
}
`;

/** With a flight in legs, which some packs are too small for. */
const FLYING = `${PARTS.replace('  pack: Small\n', '  pack: Small\n  flight: Round\n')}
flight Round {
  leg: 20 s climb at 2 m/s
  leg: 7 min hover
}
`;

async function read(text: string) {
  const services = createFettleServices(EmptyFileSystem);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const document = LangiumDocumentFactory.fromString<File>(text, URI.parse('memory:///craft.fettle'));
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: false });
  return { services, document };
}

async function chosenFrom(shortlist: string, most?: number, others = '', parts = PARTS): Promise<Chosen> {
  const { services, document } = await read(`${parts}${others}\nshortlist Which {\n  for: Craft\n${shortlist}\n}\n`);
  const node = partNamed(document, 'shortlist', 'Which');
  if (!node) throw new Error('no shortlist');
  return choose(await spaceOf(services, document, node, most));
}

interface Spec {
  readonly motors: readonly string[];
  readonly propellers: readonly string[];
  readonly packs: readonly string[];
  readonly duties: readonly number[];
  readonly requirements: readonly string[];
  readonly preferences: readonly string[];
  readonly flies: boolean;
}

const partsOf = ({ flies }: Spec): string => (flies ? FLYING : PARTS);

const linesOf = ({ motors, propellers, packs, duties, requirements, preferences }: Spec): string =>
  [
    ...[...motors, ...propellers, ...packs].map((name) => `  vary: ${name}`),
    ...(duties.length > 1
      ? [`  vary: duty ${duties[0]} % .. ${duties.at(-1)} % step ${(duties[1] ?? 0) - (duties[0] ?? 0)} %`]
      : []),
    ...requirements.map((text) => `  require ${text}`),
    ...preferences.map((name) => `  prefer: ${name}`),
  ].join('\n');

/** Every combination as a build of the same file; which have no error, and what they are like compared with today's. */
async function bruteForce(spec: Spec) {
  const { motors, propellers, packs, duties, requirements, preferences } = spec;
  const combinations = motors.flatMap((motor) =>
    propellers.flatMap((propeller) =>
      packs.flatMap((pack) => duties.map((duty) => ({ motor, propeller, pack, duty }))),
    ),
  );
  const builds = combinations.map(
    ({ motor, propeller, pack, duty }, i) => `build Craft_${i} like Craft {
  without: Small
  motors: 4 x ${motor} with ${propeller}
  pack: ${pack} duty ${duty} %
${requirements.map((text) => `  require ${text}`).join('\n')}
}`,
  );
  const { document } = await read(`${partsOf(spec)}\n${builds.join('\n')}`);
  const { builds: checked, findings } = checkDocument(readDocument(document));
  const assessmentOf = (name: string): Assessment => {
    const assessment = checked.find(({ build }) => build.name === name)?.assessments[0];
    if (!assessment) throw new Error(`no ${name}`);
    return assessment;
  };
  const today = assessmentOf('Craft');
  const errors = new Map<string, number>();
  const passing = combinations.flatMap((combination, i) => {
    const name = `Craft_${i}`;
    const ids = findings.flatMap(({ id, build, severity, accepted }) =>
      build === name && severity === 'error' && accepted === undefined ? [id] : [],
    );
    for (const id of new Set(ids)) errors.set(id, (errors.get(id) ?? 0) + 1);
    const isOut = ids.length > 0;
    const assessment = assessmentOf(name);
    const values = preferences.map((of) => assessment.results.get(of)?.estimate.value);
    if (isOut || values.includes(undefined)) return [];
    const label = [
      ...(motors.length > 0 ? [combination.motor] : []),
      combination.propeller,
      combination.pack,
      ...(duties.length > 1 ? [`duty ${combination.duty} %`] : []),
    ].join(' · ');
    return [{ label, assessment, values: values.map((value) => value ?? 0) }];
  });
  const isBetter = (a: readonly number[], b: readonly number[]) => {
    const signs = preferences.map((name) => (preferenceOf(name)?.isMoreBetter ? 1 : -1));
    const gains = a.map((value, i) => (value - (b[i] ?? 0)) * (signs[i] ?? 1));
    return gains.every((gain) => gain >= 0) && gains.some((gain) => gain > 0);
  };
  const best =
    preferences.length > 1
      ? passing.filter((one) => !passing.some((other) => isBetter(other.values, one.values)))
      : passing;
  return { count: combinations.length, today, passing, best, errors };
}

const labelsOf = (rows: readonly { label: string }[]) => rows.map(({ label }) => label).sort();

const preferred = (row: Row, name: string) => row.values.find((one) => one.name === name);

describe('a shortlist against brute force', () => {
  const draw = random(7);
  const some = <T>(all: readonly T[], least = 1): T[] => {
    const kept = all.filter(() => draw() < 0.6);
    return kept.length >= least ? kept : all.slice(0, least);
  };
  const specs = Array.from({ length: 10 }, (_, i): [number, Spec] => [
    i,
    {
      motors: some(['M', 'Slow']),
      propellers: some(['P3', 'P4', 'P2']),
      packs: some(['Small', 'Middle', 'Large', 'Five'], 2),
      duties: draw() < 0.5 ? [100] : [70, 85, 100],
      requirements: some(
        [`thrust_to_weight >= ${(2 + 3 * draw()).toFixed(1)}`, `all_up_weight <= ${Math.round(240 + 80 * draw())} g`],
        0,
      ),
      preferences: draw() < 0.3 ? ['hover_time'] : ['hover_time', draw() < 0.5 ? 'thrust_to_weight' : 'all_up_weight'],
      flies: i % 2 === 1,
    },
  ]);

  it.each(specs)('%i: the same pass, the same front, the same differences', async (_, spec) => {
    const chosen = await chosenFrom(linesOf(spec), undefined, '', partsOf(spec));
    const brute = await bruteForce(spec);
    expect(chosen.count).toBe(brute.count);
    expect(chosen.passing).toBe(brute.passing.length);
    expect(labelsOf(chosen.rows)).toEqual(labelsOf(brute.best));
    const rejected = chosen.rejected.reduce((sum, { count }) => sum + count, 0);
    expect(rejected + chosen.passing).toBe(chosen.count);
    // Each reason is an error that the check reports of as many, and of all only one counts.
    for (const { reason, count } of chosen.rejected)
      if (/^[a-z-]+$/.test(reason)) expect(count, reason).toBeLessThanOrEqual(brute.errors.get(reason) ?? 0);
    for (const row of chosen.rows) {
      const written = brute.best.find(({ label }) => label === row.label);
      if (!written) throw new Error(`no ${row.label}`);
      const { rows } = compared([brute.today, written.assessment]);
      for (const name of spec.preferences) {
        const cell = rows.find((one) => one.name === name)?.cells[1];
        const { level, difference } = preferred(row, name) ?? {};
        expect(level?.value, `${row.label}, ${name}`).toBeCloseTo(cell?.level?.value ?? Number.NaN, 8);
        expect(level?.plusMinus).toBeCloseTo(cell?.level?.plusMinus ?? Number.NaN, 8);
        expect(difference?.value).toBeCloseTo(cell?.difference?.value ?? Number.NaN, 8);
        expect(difference?.plusMinus).toBeCloseTo(cell?.difference?.plusMinus ?? Number.NaN, 8);
      }
    }
  });
});

describe('a flight in legs', () => {
  it('rejects what cannot fly it', async () => {
    const lines = '  vary: Small\n  vary: Middle\n  prefer: all_up_weight';
    const chosen = await chosenFrom(lines, undefined, '', FLYING);
    expect(chosen.rejected).toEqual([{ reason: 'flight-too-long', count: 1 }]);
    expect(labelsOf(chosen.rows)).toEqual(['Middle']);
  });
});

describe('the front', () => {
  it('is what the definition states, on random points', () => {
    const draw = random(11);
    for (let round = 0; round < 200; round++) {
      const points = Array.from({ length: 1 + Math.floor(draw() * 40) }, () =>
        Array.from({ length: 2 + (round % 3) }, () => Math.floor(draw() * 8)),
      );
      const plain = points.filter(
        (one) =>
          !points.some((other) => other.every((x, i) => x >= (one[i] ?? 0)) && other.some((x, i) => x > (one[i] ?? 0))),
      );
      expect(front(points, (point) => point)).toEqual(plain);
    }
  });
});

describe('the chance to be better', () => {
  it('is what Monte Carlo gives, within its error', async () => {
    const { document } = await read(
      PARTS.replace(/observed[^}]*}/, '') +
        'build Other like Craft {\n  without: Small\n  motors: 4 x M with P2\n  pack: Middle duty 90 %\n}',
    );
    const [one, other] = readDocument(document).builds.map((build) => {
      const [option] = build.packs;
      if (!option) throw new Error('no pack');
      return { build, option, assessment: assess(build, option), template: templateOf(build, option).template };
    });
    if (!one || !other) throw new Error('no builds');
    const draw = random(5);
    const normal = () => Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
    const ids = [...new Set([one, other].flatMap(({ assessment }) => assessment.inputs.map(({ id }) => id)))];
    const rounds = 1500;
    for (const name of ['hover_time', 'thrust_to_weight', 'hover_power']) {
      const measure = resultMeasures(one.build).find((each) => each.name === name);
      const difference = apart(name, other.assessment, one.assessment);
      if (!measure || !difference) throw new Error(`no ${name}`);
      let above = 0;
      for (let i = 0; i < rounds; i++) {
        const deviations = new Map(ids.map((id) => [id, normal()]));
        const [a, b] = [one, other].map(({ template }) =>
          measure.of(evaluate(fill<Setup>(template, withDeviations(deviations)).filled)),
        );
        if ((b ?? 0) > (a ?? 0)) above++;
      }
      const chance = chanceAboveZero(difference.estimate);
      const error = Math.sqrt((chance * (1 - chance)) / rounds);
      expect(Math.abs(above / rounds - chance), name).toBeLessThan(4 * error + 0.03);
    }
  });
});

describe('groups', () => {
  it('contain what the figures cannot distinguish, with the measurement that would', async () => {
    const chosen = await chosenFrom('  vary: P3\n  vary: P2\n  vary: P4\n  prefer: hover_time');
    const { groups } = chosenData(chosen);
    expect(groups.length).toBeGreaterThan(0);
    for (const { measure } of groups) expect(measure).toMatch(/\S/);
    expect(JSON.stringify(chosenData(chosen))).not.toContain('ʹ');
  });
});

describe('packs joined', () => {
  it('are named as they are joined, next to the same pack alone', async () => {
    const lines = '  vary: Small\n  vary: 2 x Small in series\n  vary: 2 x Small in parallel\n  prefer: hover_time';
    const { services, document } = await read(`${PARTS}\nshortlist Which {\n  for: Craft\n${lines}\n}\n`);
    const node = partNamed(document, 'shortlist', 'Which');
    if (!node) throw new Error('no shortlist');
    const space = await spaceOf(services, document, node);
    const tried = Array.from({ length: space.count }, (_, i) => space.candidate(i));
    const described = tried.map(({ choices: [choice], option }) => [choice?.label, option.count, option.arrangement]);
    expect(described).toEqual([
      ['Small', 1, 'single'],
      ['2 x Small in series', 2, 'series'],
      ['2 x Small in parallel', 2, 'parallel'],
    ]);
  });
});

describe('packs that should exist', () => {
  it('weigh what those declared weigh per charge', async () => {
    const chosen = await chosenFrom(
      '  vary: capacity in 600 mAh .. 1200 mAh step 300 mAh\n  prefer: all_up_weight\n  prefer: hover_time',
    );
    expect(chosen.count).toBe(3);
    const weights = chosen.rows.map((row) => preferred(row, 'all_up_weight')?.level?.value ?? 0);
    const steps = weights.slice(1).map((weight, i) => weight - (weights[i] ?? 0));
    // Small is the only pack of the build: 84 g for 720 mAh.
    for (const step of steps) expect(Math.abs(step)).toBeCloseTo((0.084 / 720) * 300, 3);
  });
});

describe('any figure of a part', () => {
  it('is changed by itself, as if a part with that figure were declared', async () => {
    const masses = [20, 30, 40];
    // What was measured counts for the same airframe of another weight, and not for another airframe.
    const unmeasured = PARTS.replace(/ {2}observed [^}]*\}\n/, '');
    const line = '  vary: mass of airframe in 20 g .. 40 g step 10 g\n  prefer: hover_time';
    const chosen = await chosenFrom(line, undefined, '', unmeasured);
    const declared = await chosenFrom(
      `${masses.map((mass) => `  vary: F${mass}`).join('\n')}\n  prefer: hover_time`,
      undefined,
      masses.map((mass) => `airframe F${mass} like F { mass: ${mass} g }\n`).join(''),
      unmeasured,
    );
    expect(unmeasured).not.toContain('observed');
    expect(chosen.count).toBe(3);
    const valuesOf = ({ rows }: Chosen) => rows.map((row) => preferred(row, 'hover_time')?.level?.value);
    expect(valuesOf(chosen)).toEqual(valuesOf(declared));
    expect(chosen.rows.map(({ label }) => label)).toEqual(masses.map((mass) => `mass of airframe ${mass} g`));
  });

  it('is every whole number of a count, and a board can be tried', async () => {
    const chosen = await chosenFrom(
      '  vary: blades in 2 .. 3\n  vary: mass of esc in 5 g .. 7 g step 1 g\n  prefer: all_up_weight',
    );
    expect(chosen.count).toBe(6);
    const weights = chosen.rows.map((row) => preferred(row, 'all_up_weight')?.level?.value ?? 0);
    expect((weights.at(-1) ?? 0) - (weights[0] ?? 0)).toBeCloseTo(0.002, 9);
  });
});

describe('many combinations', () => {
  it('are thinned by wider steps, and that is reported', async () => {
    const chosen = await chosenFrom(
      '  vary: duty 50 % .. 100 % step 1 %\n  vary: Small\n  vary: Middle\n  prefer: hover_time',
      30,
    );
    expect(chosen.count).toBeLessThanOrEqual(30);
    expect(chosen.notes.join()).toMatch(/^102 combinations are more than 30: of duty 14 of 51 values were tried/);
  });

  it('of parts alone are refused', async () => {
    await expect(
      chosenFrom(
        '  vary: P3\n  vary: P2\n  vary: P4\n  vary: M\n  vary: Slow\n  vary: Small\n  vary: Middle\n  prefer: hover_time',
        1,
      ),
    ).rejects.toThrow(/^12 combinations of Which are more than 10: name fewer parts/);
  });

  it('stop when nobody waits any more', async () => {
    const { services, document } = await read(
      `${PARTS}\nshortlist Which {\n for: Craft\n vary: duty 50 % .. 100 % step 0.1 %\n prefer: hover_time\n}`,
    );
    const node = partNamed(document, 'shortlist', 'Which');
    if (!node) throw new Error('no shortlist');
    let requested = 0;
    const stopped = choose(await spaceOf(services, document, node), { isCancelled: () => ++requested > 2 });
    await expect(stopped).rejects.toThrow(Cancelled);
  });
});

describe('what cannot be tried', () => {
  it.each([
    ['  vary: Small', /prefers nothing yet/],
    ['  prefer: hover_time', /varies nothing yet/],
    ['  vary: duty 80 % .. 120 %\n  prefer: hover_time', /duty is at most 100 %/],
    ['  vary: Small, Middle\n  prefer: hover_time', /a line in \w+ cannot be read: fettle check reports which/],
    ['  vary: Smal\n  prefer: hover_time', /cannot be read: fettle check reports which/],
  ])('%j', async (lines, message) => {
    const failure = await chosenFrom(lines).catch((error) => error);
    expect(failure).toBeInstanceOf(CannotChoose);
    expect(failure.message).toMatch(message);
  });
});

describe('take this one', () => {
  const craft = `${PARTS.slice(0, PARTS.indexOf('build Craft'))}build Craft {
  airframe: F
  motors: 4 x M with P3 // shared
  esc: E
  // which one?
  pack: Small // light
  pack: Middle duty 95 % // long
}
`;
  const taken = async (choices: Parameters<typeof editsFor>[1]) => {
    const { document } = await read(craft);
    const node = partNamed(document, 'build', 'Craft');
    if (!node) throw new Error('no build');
    return edited(craft, editsFor(node, choices)).slice(craft.indexOf('build Craft'));
  };

  it('exchanges a pack, its comment stays', async () => {
    const text = await taken([
      { axis: 'pack', label: '', written: 'Large' },
      { axis: 'duty', label: '', written: '80 %' },
    ]);
    expect(text).toContain('  // which one?\n  pack: Large duty 80 % // light\n  pack: Middle duty 95 % // long\n');
  });

  it('moves a pack that the build has already to the first place', async () => {
    const text = await taken([
      { axis: 'pack', label: '', written: 'Middle' },
      { axis: 'duty', label: '', written: '100 %' },
    ]);
    expect(text).toContain('  // which one?\n  pack: Middle  // long\n  pack: Small // light\n}');
  });

  it('exchanges motors and propellers in their line', async () => {
    const text = await taken([
      { axis: 'motor', label: '', written: 'Slow' },
      { axis: 'propeller', label: '', written: 'P4' },
    ]);
    expect(text).toContain('  motors: 4 x Slow with P4 // shared\n');
  });

  it('refuses what is in no file', async () => {
    await expect(taken([{ axis: 'pack', label: 'capacity 900 mAh' }])).rejects.toThrow(/is in no file yet/);
  });
});
