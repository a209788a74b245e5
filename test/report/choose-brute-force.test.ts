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
import { compared } from '../../packages/language/src/report/compare/compare-data.ts';
import type { ResultName } from '../../packages/language/src/vocabulary/results.ts';
import { cases } from '../long.ts';
import { randomNumbers as random } from '../seeded.ts';
import { chosenFrom, labelsOf, PARTS, preferred, read } from './shortlist-craft.ts';

/** With a flight in legs, which some packs are too small for. */
const FLYING = `${PARTS.replace('  pack: Small\n', '  pack: Small\n  flight: Round\n')}
flight Round {
  leg: 20 s climb at 2 m/s
  leg: 7 min hover
}
`;

interface Spec {
  readonly motors: readonly string[];
  readonly propellers: readonly string[];
  readonly packs: readonly string[];
  readonly duties: readonly number[];
  readonly requirements: readonly string[];
  readonly preferences: readonly ResultName[];
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

describe('a shortlist against brute force', () => {
  const draw = random(7);
  const some = <T>(all: readonly T[], least = 1): T[] => {
    const kept = all.filter(() => draw() < 0.6);
    return kept.length >= least ? kept : all.slice(0, least);
  };
  const specs = Array.from({ length: cases(4, 10) }, (_, i): [number, Spec] => [
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
    const rounds = cases(600, 1500);
    const asked = (['hover_time', 'thrust_to_weight', 'hover_power'] as const).map((name) => {
      const measure = resultMeasures(one.build).find((each) => each.name === name);
      const difference = apart(name, other.assessment, one.assessment);
      if (!measure || !difference) throw new Error(`no ${name}`);
      return { name, measure, chance: chanceAboveZero(difference.estimate), above: 0 };
    });
    for (let i = 0; i < rounds; i++) {
      const deviations = new Map(ids.map((id) => [id, normal()]));
      const [a, b] = [one, other].map(({ template }) =>
        evaluate(fill<Setup>(template, withDeviations(deviations)).filled),
      );
      if (!a || !b) throw new Error('no craft');
      for (const each of asked) if ((each.measure.of(b) ?? 0) > (each.measure.of(a) ?? 0)) each.above++;
    }
    for (const { name, chance, above } of asked) {
      const error = Math.sqrt((chance * (1 - chance)) / rounds);
      expect(Math.abs(above / rounds - chance), name).toBeLessThan(4 * error + 0.03);
    }
  });
});
