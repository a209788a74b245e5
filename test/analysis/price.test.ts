/** What a build costs: sums by hand, and why there is none. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../packages/language/src/analysis/assess.ts';
import { judge } from '../../packages/language/src/analysis/decide/requirements.ts';
import { SEARCHES } from '../../packages/language/src/analysis/explain/derivation.ts';
import { explanationOf } from '../../packages/language/src/analysis/results/all-results.ts';
import { judgedIn } from '../checks/findings-in.ts';

const text = (pack: string, require = '') => `
motor M { stator: 16 x 6 mm  kv: 3150 rpm/V  mass: 14.7 g  price: 16.40 EUR }
propeller P { diameter: 76 mm  pitch: 2.4 in  blades: 3  mass: 1.6 g  price: 2.80 EUR for 8 }
esc E { continuous: 35 A  mass: 12 g  price: 54 EUR }
airframe F { rotors: 4  mass: 61 g  price: 31 EUR }
pack B { cells: 4S  capacity: 1050 mAh  mass: 121 g  ${pack} }
build Craft {
  airframe: F
  motors: 4 x M with P
  esc: E
  item: 5 g "wire"
  pack: B
  spare: 4 x P
  spare: M
  ${require}
}`;

async function assessed(source: string) {
  const judged = await judgedIn({ 'craft.fettle': source }, ({ builds: [build], problems }) => {
    const [option] = build?.packs ?? [];
    if (!build || !option) throw new Error('no build');
    return { build, problems, assessment: assess(build, option) };
  });
  const craft = judged['craft.fettle'];
  if (!craft) throw new Error('no craft');
  return craft;
}

describe('the price', () => {
  // 5 motors, 8 propellers at 2.80 for 8, a board, a frame and a pack; a mass that a line states is not bought.
  const SUM = 5 * 16.4 + 2.8 + 54 + 31 + 19.8;

  it('is the sum of the parts, the pack and the spares, without a ±', async () => {
    const { assessment, problems } = await assessed(text('price: 19.80 EUR'));
    expect(problems).toEqual([]);
    const price = assessment.results.get('price');
    expect(price?.unit).toBe('EUR');
    expect(price?.estimate.value).toBeCloseTo(SUM, 9);
    expect(price?.estimate.contributions).toHaveLength(0);
    const terms =
      explanationOf({ of: 'craft', result: 'price' })(assessment, SEARCHES)?.terms.flatMap((term) =>
        term ? [term] : [],
      ) ?? [];
    expect(terms.reduce((sum, term) => sum + Number('value' in term ? term.value : 0), 0)).toBeCloseTo(SUM, 9);
  });

  it('is judged by requirements in its own currency', async () => {
    const { build, assessment, problems } = await assessed(
      text('price: 19.80 EUR', 'require price <= 180 EUR\n  require price <= 200 EUR'),
    );
    expect(problems).toEqual([]);
    const verdicts = build.rules.requirements.map((requirement) => judge(requirement, assessment).outcome);
    expect(verdicts).toEqual(['fails', 'holds']);
  });

  it('is not computed while a part states none, or two currencies meet', async () => {
    const without = await assessed(text(''));
    expect(without.assessment.missing.get('price')?.reason).toBe('no price is stated of B');
    const mixed = await assessed(text('price: 17 GBP'));
    expect(mixed.assessment.missing.get('price')?.reason).toBe('prices are in EUR and GBP, and are not converted');
  });

  it('of parts that state none is neither a result nor missing', async () => {
    const { assessment } = await assessed(text('').replaceAll(/price: [\d.]+ EUR(?: for 8)?/g, ''));
    expect(assessment.results.has('price')).toBe(false);
    expect(assessment.missing.has('price')).toBe(false);
  });
});
