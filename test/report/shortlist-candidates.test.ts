/** What the candidates of a shortlist are, in which groups they come, which cannot be tried, and what taking one writes. */
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { Cancelled, type Chosen, choose } from '../../packages/language/src/report/decide/choice.ts';
import { chosenData } from '../../packages/language/src/report/decide/choice-text.ts';
import { CannotChoose, spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { edited, editsFor } from '../../packages/language/src/trial/take.ts';
import { partOfKindNamed } from '../../packages/language/src/trial/trial.ts';
import { chosenFrom, PARTS, preferred, read } from './shortlist-craft.ts';

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
    const node = partOfKindNamed(document, 'shortlist', 'Which');
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

describe('today', () => {
  it('is the candidate with these very parts, and no other one of their names', async () => {
    const { services, document } = await read(
      `use "../shelf" as Shelf\n${PARTS}\nshortlist Which {\n  for: Craft\n  vary: M\n  vary: Shelf.M\n  prefer: hover_time\n}\n`,
      { '../shelf/motors.fettle': 'motor M { stator: 16 x 6 mm  kv: 2900 rpm/V  resistance: 92 mohm  mass: 16 g }\n' },
    );
    const node = partOfKindNamed(document, 'shortlist', 'Which');
    if (!node) throw new Error('no shortlist');
    const { rows } = await choose(await spaceOf(services, document, node));
    expect(rows.map(({ label, isToday }) => [label, isToday]).sort()).toEqual([
      ['M', true],
      ['Shelf.M', false],
    ]);
  });

  it('has its packs joined as they are today', async () => {
    const half = 'pack Half { cells: 2S  capacity: 720 mAh  discharge: 80C  mass: 42 g }\n';
    const parts = PARTS.replace(/ {2}observed [^}]*\}\n| {2}cells: 3S .. 4S| {2}require .*\n/g, '');
    const lines = '  vary: 2 x Half in series\n  vary: 2 x Half in parallel\n  prefer: all_up_weight';
    const today = parts.replace('pack: Small', 'pack: 2 x Half in parallel');
    const { rows } = await chosenFrom(lines, undefined, half, today);
    expect(rows.map(({ label, isToday }) => [label, isToday]).sort()).toEqual([
      ['2 x Half in parallel', true],
      ['2 x Half in series', false],
    ]);
  });
});

describe('a craft that was weighed', () => {
  it('weighs as much more or less as a part that varies in weight', async () => {
    const weighed = PARTS.replace(/ {2}observed [^}]*\}\n/, '  dry_mass: 160 g\n');
    const line = '  vary: mass of airframe in 51 g .. 71 g step 10 g\n  prefer: all_up_weight';
    const { rows } = await chosenFrom(line, undefined, '', weighed);
    const grams = rows.map((row) => 1e3 * (preferred(row, 'all_up_weight')?.level?.value ?? 0));
    // 160 g and a pack of 84 g, with an airframe of 61 g.
    for (const [i, expected] of [234, 244, 254].entries()) expect(grams.sort()[i]).toBeCloseTo(expected, 6);
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
    const node = partOfKindNamed(document, 'shortlist', 'Which');
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
  const taken = async (choices: Parameters<typeof editsFor>[1], text = craft) => {
    const { document } = await read(text);
    const node = partOfKindNamed(document, 'build', 'Craft');
    if (!node) throw new Error('no build');
    return edited(text, editsFor(node, choices)).slice(text.indexOf('build Craft'));
  };

  /** As a shortlist tries it. */
  const pack = async (written: string): Promise<Parameters<typeof editsFor>[1][number]> => {
    const { document } = await read(`${PARTS}build Tried like Craft {\n  without: Small\n  pack: ${written}\n}\n`);
    const option = readDocument(document).builds.find(({ name }) => name === 'Tried')?.packs[0];
    if (!option) throw new Error(`no pack ${written}`);
    return { axis: 'pack', label: '', written, option };
  };

  it('exchanges a pack, its comment stays', async () => {
    const text = await taken([await pack('Large'), { axis: 'duty', label: '', written: '80 %' }]);
    expect(text).toContain('  // which one?\n  pack: Large duty 80 % // light\n  pack: Middle duty 95 % // long\n');
  });

  it('moves a pack that the build has already to the first place', async () => {
    const text = await taken([await pack('Middle'), { axis: 'duty', label: '', written: '100 %' }]);
    expect(text).toContain('  // which one?\n  pack: Middle  // long\n  pack: Small // light\n}');
  });

  it.each([
    ['pack: Small // light', '2 x Small in parallel', 'pack: 2 x Small in parallel // light'],
    ['pack: Small // light', 'Small with Middle in parallel', 'pack: Small with Middle in parallel // light'],
    ['pack: 2 x Small duty 80 % in parallel', 'Small', 'pack: Small duty 80 %'],
    ['pack: 2 x Small in parallel duty 80 %', '2 x Large in series', 'pack: 2 x Large in series duty 80 %'],
    ['pack: Small with Middle in parallel', 'Middle', 'pack: Middle'],
    ['pack: Small', 'Small', 'pack: Small'],
    ['pack: Small as Light', 'Small', 'pack: Small as Light'],
    ['pack: Middle with Small in parallel', 'Small with Middle in parallel', 'pack: Middle with Small in parallel'],
  ])('compares how packs are arranged, not their names: in %s the row of %s', async (before, row, after) => {
    const only = `${craft.slice(0, craft.indexOf('  pack: Small'))}  ${before}\n}\n`;
    expect(await taken([await pack(row)], only)).toContain(`// which one?\n  ${after}\n}`);
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
