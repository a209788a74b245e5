/** What was observed on one build counts for others: those that are like it, and those that see it. */
import { describe, expect, test } from 'vitest';
import type { Assessment } from '../../packages/language/src/analysis/assessment.ts';
import { derivationOf } from '../../packages/language/src/analysis/explain/derivation.ts';
import { calibrationOf } from '../../packages/language/src/analysis/learn/calibration.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { calibratedWords } from '../../packages/language/src/report/present/taught-words.ts';
import { assessedIn } from '../checks/findings-in.ts';
import { amperes, assessed, flying, plain, relative, result, WEIGHED } from './learning-craft.ts';

describe('a build that is like another', () => {
  const MEASURED = `hover_current: ${amperes(plain, 'hover_current', 1.3)} at 60 % +- 4 %`;
  const text = (variant: string) => `${flying(MEASURED)}build Variant like Healthy {\n${variant}\n}\n`;
  const variantOf = async (variant: string): Promise<Assessment> => {
    const builds = (await assessedIn({ 'a.fettle': text(variant) }))['a.fettle'] ?? [];
    const found = builds.find(({ build }) => build.name === 'Variant')?.assessments[0];
    if (!found) throw new Error('no variant');
    return found;
  };

  test('keeps what was observed on that one', async () => {
    const [two] = await assessed(flying(MEASURED));
    const variant = await variantOf('');
    expect(variant.learnt?.from).toEqual(['old granary']);
    expect(result(variant, 'hover_current').value).toBeCloseTo(result(two, 'hover_current').value, 6);
    expect(relative(variant, 'hover_current')).toBeCloseTo(relative(two, 'hover_current'), 6);
  });

  test('forgets what concerned a part that it no longer has', async () => {
    const others = 'motors: 4 x M1805 with Other';
    const base = EXAMPLE_CRAFT.slice(EXAMPLE_CRAFT.indexOf('propeller P4024x3'), EXAMPLE_CRAFT.indexOf('esc Board28'));
    const other = base.replace('propeller P4024x3', 'propeller Other');
    const builds = (await assessedIn({ 'a.fettle': `${other}${text(others)}` }))['a.fettle'] ?? [];
    const variant = builds.find(({ build }) => build.name === 'Variant')?.assessments[0];
    if (!variant) throw new Error('no variant');
    // Motor and pack are still there, and teach a little; the propeller was most of it.
    expect(relative(variant, 'hover_current')).toBeGreaterThan(0.8 * relative(plain, 'hover_current'));
    const moved = result(variant, 'hover_current').value / result(plain, 'hover_current').value;
    expect(Math.abs(moved - 1)).toBeLessThan(0.08);
    expect(derivationOf('hover_current', variant)?.taught?.forgets).toEqual(['P4024x3']);
  });
});

describe('what was observed reaches', () => {
  const MEASURED = `hover_current: ${amperes(plain, 'hover_current', 1.3)} at 60 % +- 4 %`;
  const at = WEIGHED.lastIndexOf('build ');
  const [parts, build] = [WEIGHED.slice(0, at), WEIGHED.slice(at)];
  const measured = `${build.slice(0, build.lastIndexOf('}'))}  observed "old granary" with Mast900_4S {\n    ${MEASURED}\n  }\n}\n`;
  const sister = build.replace('build Healthy', 'build Sister');

  const sisterIn = async (texts: Readonly<Record<string, string>>, file: string): Promise<Assessment> => {
    const [assessment] =
      (await assessedIn(texts, [file]))[file]?.find(({ build: { name } }) => name === 'Sister')?.assessments ?? [];
    if (!assessment) throw new Error('no sister');
    return assessment;
  };

  test('builds of another file of the folder, and those that open it', async () => {
    const alone = await sisterIn({ 'parts/a.fettle': parts, 'x/s.fettle': `use "../parts"\n${sister}` }, 'x/s.fettle');
    const beside = await sisterIn(
      {
        'parts/a.fettle': parts,
        'x/h.fettle': `use "../parts"\n${measured}`,
        'x/s.fettle': `use "../parts"\n${sister}`,
      },
      'x/s.fettle',
    );
    const opening = await sisterIn(
      {
        'parts/a.fettle': parts,
        'x/h.fettle': `use "../parts"\n${measured}`,
        'y/s.fettle': `use "../parts"\nuse "../x"\n${sister}`,
      },
      'y/s.fettle',
    );
    expect(beside.learnt?.from).toEqual(['old granary']);
    const calibration = calibrationOf(beside);
    expect(calibration && calibratedWords(calibration)).toBe('calibrated by “old granary” of Healthy');
    expect(relative(beside, 'hover_current')).toBeLessThan(0.3 * relative(alone, 'hover_current'));
    expect(relative(opening, 'hover_current')).toBeCloseTo(relative(beside, 'hover_current'), 9);
  });

  test('a craft that has only one of its joined packs in common with it', async () => {
    const own = sister.replace('4 x M1805 with P4024x3', '4 x Other with OtherP');
    const text = `motor Other like M1805 { }
propeller OtherP like P4024x3 { }
pack Twin like Mast900_4S { }
${parts}${build.slice(0, build.lastIndexOf('}'))}  observed "at the charger" with Mast900_4S { cell_resistance: 14 mohm at 20 degC +- 2 % }
}
${own.replace('pack: Mast900_4S', 'pack: Mast900_4S with Twin in parallel')}`;
    const joined = await sisterIn({ 'a.fettle': text }, 'a.fettle');
    expect(joined.learnt?.from).toEqual(['at the charger']);
  });

  test('no build that does not see it', async () => {
    const texts = {
      'parts/a.fettle': parts,
      'x/h.fettle': `use "../parts"\n${measured}`,
      'y/s.fettle': `use "../parts"\n${sister}`,
    };
    expect((await sisterIn(texts, 'y/s.fettle')).learnt).toBeUndefined();
  });
});
