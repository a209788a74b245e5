/** How much heavier the pack may be before a requirement fails: text in, grams with their ± out. */
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { type GramsLeft, gramsLeft, withGramsLeft } from '../../packages/language/src/analysis/decide/pack-grams.ts';
import { expanded } from '../../packages/language/src/analysis/uncertainty/estimate.ts';
import { recordedJson } from '../../packages/language/src/report/formats/json.ts';
import { recordOf } from '../../packages/language/src/report/formats/record.ts';
import type { ResultId } from '../../packages/language/src/vocabulary/results.ts';
import { assessedIn, checkedIn, findingsIn } from '../checks/findings-in.ts';
import { SMALL_CRAFT } from '../small-craft.ts';

const PACK_MASS = 78.1;
const requiring = (...lines: string[]): string =>
  SMALL_CRAFT.replace(
    '  item: Strap\n  pack',
    `  item: Strap\n${lines.map((line) => `  require ${line}\n`).join('')}  pack`,
  );

async function assessed(text: string): Promise<Assessment> {
  const assessment = (await assessedIn({ 'a.fettle': text }))['a.fettle']?.[0]?.assessments[0];
  if (!assessment) throw new Error('no build on a pack');
  return assessment;
}

const left = async (...lines: string[]): Promise<readonly GramsLeft[]> =>
  gramsLeft(await assessed(requiring(...lines)));

const grams = (one: GramsLeft | undefined): number => (one?.mass?.value ?? Number.NaN) * 1e3;

const of = (name: ResultId, { results }: Assessment): number => results.get(name)?.estimate.value ?? Number.NaN;

/** The craft with a pack that weighs so much more, g. */
const loaded = (more: number): string => SMALL_CRAFT.replace('mass: 78.1 g', `mass: ${PACK_MASS + more} g`);

describe('grams of pack left', () => {
  test('up to a weight limit: what is left of it, as sure as the weight', async () => {
    const assessment = await assessed(SMALL_CRAFT);
    const weight = assessment.results.get('all_up_weight')?.estimate;
    if (!weight) throw new Error('no weight');
    const [found] = await left('all_up_weight <= 270 g');
    expect(grams(found)).toBeCloseTo(270 - weight.value * 1e3, 6);
    expect(found?.mass && expanded(found.mass)).toBeCloseTo(expanded(weight), 9);
  });

  test.each<[string, ResultId, number]>([
    ['hover_time >= 2.5 min', 'hover_time', 150],
    ['thrust_to_weight >= 2', 'thrust_to_weight', 2],
    ['hover_duty <= 60 %', 'hover_duty', 0.6],
  ])('%s is met to the line by a pack that heavy', async (line, name, requested) => {
    const [found] = await left(line);
    expect(grams(found)).toBeGreaterThan(5);
    expect(of(name, await assessed(loaded(grams(found)))) / requested).toBeCloseTo(1, 4);
  });

  test('their ± is how far the errors of the figures would move them', async () => {
    const [found] = await left('thrust_to_weight >= 2');
    const assessment = await assessed(requiring('thrust_to_weight >= 2'));
    const index = assessment.inputs.findIndex(({ label }) => label === 'mass of Open152');
    const own = (assessment.inputs[index]?.standardUncertainty ?? 0) * 1e3;
    // A gram of frame brings its share of small things, 2 %, and that is so much less pack.
    expect((found?.mass?.contributions[index] ?? 0) * 1e3).toBeCloseTo(-1.02 * own, 3);
    const withCoefficient = (text: string) =>
      requiring('thrust_to_weight >= 2').replace('blades: 3', `blades: 3\n  thrust_coefficient: ${text}`);
    const [weaker, stronger] = await Promise.all(
      ['0.178', '0.18'].map(async (text) => assessed(withCoefficient(text))),
    );
    const moved = grams(stronger && gramsLeft(stronger)[0]) - grams(weaker && gramsLeft(weaker)[0]);
    const stated = await assessed(withCoefficient('0.179 +- 2 % measured'));
    const coefficient = stated.inputs.findIndex(({ label }) => label === 'thrust coefficient of P3022x3');
    const share = gramsLeft(stated)[0]?.mass?.contributions[coefficient] ?? 0;
    expect(share * 1e3).toBeCloseTo((moved / 0.002) * 0.01 * 0.179, 2);
  });

  test('below zero where it fails: by so much the pack is too heavy', async () => {
    const [found] = await left('thrust_to_weight >= 6');
    expect(grams(found)).toBeLessThan(-1);
    expect(of('thrust_to_weight', await assessed(loaded(grams(found))))).toBeCloseTo(6, 3);
  });

  test('end where it no longer lifts itself, with a ± of their own', async () => {
    const [found] = await left('hover_current <= 90 A');
    expect(grams(found)).toBeGreaterThan(50);
    expect(found?.mass && expanded(found.mass)).toBeGreaterThan(5e-3);
    expect(of('hover_current', await assessed(loaded(grams(found) - 0.5)))).toBeLessThan(90);
    expect(of('hover_current', await assessed(loaded(grams(found) + 0.5)))).toBeNaN();
  });

  test('are those of the requirement that fails first; what the mass does not touch has none', async () => {
    const [weight, thrust, voltage] = await left(
      'all_up_weight <= 650 g',
      'thrust_to_weight >= 2',
      'no_load_speed >= 1000 rpm',
    );
    expect(voltage?.reason).toBe('holds with any heavier pack');
    const build = await assessed(requiring('all_up_weight <= 650 g', 'thrust_to_weight >= 2'));
    expect(of('pack_grams_left', withGramsLeft(build)) * 1e3).toBeCloseTo(Math.min(grams(weight), grams(thrust)), 9);
    expect(grams(thrust)).toBeLessThan(grams(weight));
  });

  test('have a reason where there are none', async () => {
    const reason = async (...lines: string[]) =>
      withGramsLeft(await assessed(requiring(...lines))).missing.get('pack_grams_left')?.reason;
    expect(await reason()).toBe('nothing is required of this build on this pack');
    expect(await reason('no_load_speed >= 1000 rpm')).toBe('no requirement depends on the mass of the pack');
    expect(await reason('no_load_speed >= 900000 rpm')).toContain('fails with a lighter pack too');
  });

  test('may be required themselves', async () => {
    const found = await findingsIn({
      'a.fettle': requiring('all_up_weight <= 240 g', 'pack_grams_left >= 60 g'),
    });
    const messages = found['a.fettle']?.map(({ message }) => message).join('\n');
    expect(messages).toMatch(/[a-z ]+ [\d.]+ (?:± [\d.]+|\([\d.]+ to [\d.]+\)) g, required ≥ 60 g/);
  });

  test('are in the JSON that explains, with their ±', async () => {
    const text = requiring('all_up_weight <= 270 g');
    const document = (await checkedIn({ 'a.fettle': text }))['a.fettle'];
    if (!document) throw new Error('no file');
    const json = recordedJson({
      ...document,
      builds: document.builds.map((build) => recordOf(build, 'derivations')),
      failures: [],
      pathOf: (uri: string) => uri,
      sources: { excerpt: () => undefined },
    } as never);
    const [option] = JSON.parse(json).builds[0].options;
    expect(option.results.pack_grams_left.unit).toBe('g');
    expect(option.results.pack_grams_left.plusMinus).toBeGreaterThan(0.5);
  });
});
