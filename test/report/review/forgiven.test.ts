/** A change that permits more cures nothing: what it hides is found by checking the new craft under the old limits. */
import { describe, expect, it } from 'vitest';
import { CRAFT, FLOWN, SPIRE } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';

describe('a raised limit', () => {
  it('next to the duty limit that went is named with what it hides, in every format', async () => {
    const change = new Change(CRAFT);
    change.edit(MOTORS, 'burst: 17 A', 'burst: 8.5 A').commit();
    change
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700')
      .edit(MOTORS, 'rated: 3S\n', 'rated: 3S .. 5S\n')
      .edit(MOTORS, 'continuous: 11 A', 'continuous: 18 A')
      .edit(MOTORS, 'burst: 8.5 A', 'burst: 30 A');
    const sentence = 'Check before merging: 3 limits raised: they hide motor-overvoltage and motor-overcurrent';
    const printed = await change.json();
    expect(printed.verdict).toEqual({ worry: 'warning', sentence });
    const { relaxations } = printed.builds.find(({ name }: { name: string }) => name === 'Rafter');
    expect(relaxations).toMatchObject([
      {
        what: 'limit',
        how: 'raised',
        of: 'motor M1506',
        before: 'rated: 3S',
        after: 'rated: 3S .. 5S',
        file: MOTORS,
        hides: [{ id: 'motor-overvoltage', severity: 'error', pack: 'Slim700' }],
      },
      { after: 'continuous: 18 A claimed' },
      { after: 'burst: 30 A for 5 s claimed', hides: [{ id: 'motor-overcurrent' }] },
    ]);
    const markdown = await change.markdown();
    expect(markdown.split('\n')[0]).toBe(`## ${sentence}`);
    expect(markdown).toContain(
      '- **limit of motor M1506 raised** `rated: 3S` → `rated: 3S .. 5S`, `parts/motors.fettle:8`',
    );
    expect(markdown).toContain('  - it hides error `motor-overvoltage` on `Slim700`: M1506 is wound for 3S; ');
    const out = await change.text();
    expect(out.split('\n')[0]).toBe(sentence);
    expect(out).toMatch(/it hides error motor-overvoltage on Slim700$/m);
    expect(await change.fails('error')).toBe(false);
  });

  it('by which alone a standing error goes: it is hidden, not resolved', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit();
    change.edit(MOTORS, 'rated: 3S\n', 'rated: 5S\n');
    const printed = await change.json();
    expect(printed.verdict).toEqual({
      worry: 'warning',
      sentence:
        'Check before merging: 1 limit raised (rated: 3S → rated: 5S of motor M1506): it hides motor-overvoltage',
    });
    const { findings: changes } = printed.builds.find(({ name }: { name: string }) => name === 'Rafter');
    expect(changes).toContainEqual(expect.objectContaining({ status: 'hidden', id: 'motor-overvoltage' }));
    expect(changes).not.toContainEqual(expect.objectContaining({ status: 'resolved' }));
  });

  it('that hides nothing yet is named all the same', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'continuous: 32 A', 'continuous: 35 A');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 limit raised (continuous: 32 A → continuous: 35 A of esc Board32)',
    });
  });

  it('in a copy of the part under another name', async () => {
    const change = new Change(CRAFT);
    change
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700')
      .edit(RAFTER, '4 x M1506 with', '4 x M1506_Hot with')
      .edit(MOTORS, 'motor M1506_Slow', 'motor M1506_Hot like M1506 { rated: 5S  burst: 30 A }\n\nmotor M1506_Slow');
    expect((await change.json()).verdict.sentence).toBe(
      'Check before merging: 2 limits raised: they hide motor-overvoltage',
    );
  });

  it('where a rating is put in the place of an estimated one, or one property represents the other', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'continuous: 32 A  burst: 40 A for 10 s', 'continuous: 5 A').commit();
    change.edit(RAFTER, 'Slim700 duty 58 %', 'Slim700').edit(OTHERS, 'continuous: 5 A', 'continuous: 5 A  burst: 40 A');
    expect((await change.json()).verdict.sentence).toMatch(
      /1 limit raised \(burst: 40 A of esc Board32\): it hides esc-overcurrent$/,
    );
  });

  it('is distinguished from one that is lower now, and from the same in another unit', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'continuous: 32 A', 'continuous: 32000 mA').edit(MOTORS, 'burst: 17 A', 'burst: 16.9 A');
    expect((await change.json()).verdict.sentence).not.toContain('limit');
  });

  it('is not folded away beneath many other changes', async () => {
    const change = new Change(CRAFT);
    const items = (mass: string) => Array.from({ length: 12 }, (_, i) => `item Screw${i} { mass: ${mass} }\n`).join('');
    const fitted = Array.from({ length: 12 }, (_, i) => `  item: Screw${i}\n`).join('');
    change.write({ 'parts/items.fettle': `fettle 1\n${items('0.1 g')}` });
    change.edit(RAFTER, '  pack: Slim900', `${fitted}  pack: Slim900`).commit();
    change
      .write({ 'parts/items.fettle': `fettle 1\n${items('0.11 g')}` })
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700')
      .edit(MOTORS, 'rated: 3S\n', 'rated: 5S\n');
    const out = await change.markdown();
    const open = out.replace(/<details>[\s\S]*?<\/details>/g, '');
    expect(open).toContain('**limit of motor M1506 raised** `rated: 3S` → `rated: 5S`');
    expect(open.split('\n')[0]).toContain('1 limit raised');
  });
});

describe('a part under another name', () => {
  const NEW = (more: string, resistance: string) => `motor M1507 {
  stator: 15 x 6 mm
  kv: 3900 rpm/V +- 3 % claimed
  resistance: ${resistance}
  no_load_current: 0.86 A at 11.1 V measured
  ${more}
}

motor M1506_Slow`;
  const sentenceWith = async (change: Change, more: string, resistance = '74 mohm measured'): Promise<string> => {
    change
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700')
      .edit(RAFTER, '4 x M1506 with', '4 x M1507 with')
      .edit(MOTORS, 'motor M1506_Slow', NEW(more, resistance));
    return (await change.json()).verdict.sentence;
  };

  it('that differs by a trifle is the same one with other limits', async () => {
    const change = new Change(CRAFT);
    const sentence = await sentenceWith(
      change,
      'rated: 5S  continuous: 11 A claimed  burst: 17 A for 5 s claimed  mass: 12.6 g',
    );
    expect(sentence).toBe(
      'Check before merging: 1 limit raised (rated: 3S → rated: 5S of motor M1507): it hides motor-overvoltage',
    );
    expect(await change.fails('forgiven')).toBe(true);
  });

  it('on some of the rotors is compared with the one on the others', async () => {
    const change = new Change(CRAFT);
    change
      .edit(RAFTER, 'Slim700 duty 58 %', 'Slim700')
      .edit(
        RAFTER,
        'motors: 4 x M1506 with P3022',
        'motors: 2 x M1506_Hot with P3022\n  motors: 2 x M1506_Top with P3022',
      )
      .edit(
        MOTORS,
        'motor M1506_Slow',
        'motor M1506_Hot like M1506 { rated: 5S }\n\nmotor M1506_Top like M1506 { rated: 6S }\n\nmotor M1506_Slow',
      );
    expect((await change.json()).verdict.sentence).toMatch(/2 limits raised: they hide motor-overvoltage$/);
  });

  it('that is a copy but for one figure is no other thing', async () => {
    const change = new Change(CRAFT);
    const limits = 'rated: 5S  continuous: 14 A claimed  burst: 22 A for 5 s claimed';
    expect(await sentenceWith(change, `${limits}  mass: 17 g`)).toMatch(
      /1 limit raised .*: it hides motor-overvoltage$/,
    );
    expect(await change.fails('forgiven')).toBe(true);
  });

  it('that is another thing is reported as exchanged, with what its higher limits settle', async () => {
    const change = new Change(CRAFT);
    const sentence = await sentenceWith(
      change,
      'rated: 5S  continuous: 14 A claimed  burst: 22 A for 5 s claimed  mass: 17 g',
      '52 mohm measured',
    );
    expect(sentence).toMatch(
      /^No new error or warning; .*1 part exchanged for another with higher limits \(motor M1506 → motor M1507\): it settles motor-overvoltage$/,
    );
    expect(await change.fails('forgiven')).toBe(false);
  });

  it.each(FLOWN)(
    'that replaces another one is compared in amperes, and is not mixed with it: $on',
    async ({ files }) => {
      const change = new Change(files);
      change.edit(SPIRE, '  pack: Mast720_4S', '  pack: Round2600_3S');
      // 80C of 720 mAh are 58 A, more than the 30 A of the round cells.
      const { verdict, builds } = await change.json();
      expect(verdict.sentence).not.toContain('exchanged');
      expect(builds.flatMap(({ relaxations }: { relaxations: unknown[] }) => relaxations)).toEqual([]);
    },
  );

  describe.each(FLOWN)('of a pack, on $on', ({ files }) => {
    it.each([
      ['discharge: 80C claimed', 'discharge: 100 A claimed', ['pack Mast720_4S']],
      ['discharge: 80C claimed', 'discharge: 50 A claimed', []],
      ['reserve: 30 % of capacity', 'reserve: 15 % of capacity', ['pack Mast1050_4S', 'pack Mast720_4S']],
      ['reserve: 30 % of capacity', 'reserve: 40 % of capacity', []],
    ])('%s → %s: raised on %s', async (before, after, packs) => {
      const change = new Change(files);
      const PACKS = 'parts/packs.fettle';
      change.edit(PACKS, 'discharge: 80C claimed', 'discharge: 80C claimed\n  reserve: 30 % of capacity').commit();
      change.edit(PACKS, before, after);
      const raised = (await change.json()).builds
        .flatMap(({ relaxations }: { relaxations: readonly object[] }) => relaxations)
        .filter((one: { what: string; how: string }) => one.what === 'limit' && one.how === 'raised')
        .map(({ of }: { of: string }) => of);
      expect([...new Set(raised)].sort()).toEqual(expect.arrayContaining(packs));
      if (packs.length === 0) expect(raised).toEqual([]);
      if (after.endsWith('A claimed')) expect(raised).not.toContain('pack Mast1350_4S');
    });
  });

  it('in a build that is new itself is compared with what was declared before', async () => {
    const change = new Change(CRAFT);
    change.edit(MOTORS, 'rated: 3S\n', 'rated: 5S\n').write({
      'builds/new.fettle': `fettle 1
use "../parts"
build New { airframe: Open152  motors: 4 x M1506 with P3022  esc: Board32  pack: Slim700 as Five }
`,
    });
    change.delete(RAFTER).delete('builds/quiet.fettle');
    expect((await change.json()).verdict.sentence).toContain(
      '1 limit raised (rated: 3S → rated: 5S of motor M1506): it hides motor-overvoltage',
    );
  });

  it('a rating of a plug of one’s own is a limit, too', async () => {
    const change = new Change(CRAFT);
    change
      .edit(OTHERS, 'pack Slim900 {', 'plug Gold { continuous: 3 A }\npack Slim900 { plug: Gold')
      .commit()
      .edit(OTHERS, 'continuous: 3 A', 'continuous: 90 A');
    expect((await change.json()).verdict.sentence).toMatch(
      /1 limit raised \(continuous: 3 A → continuous: 90 A of plug Gold\): it hides plug-overcurrent$/,
    );
  });
});

describe('what else loosens', () => {
  it('a pack under another name with another duty limit is the same option: what was required on it stays required', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, '  pack: Slim900\n', '  pack: Slim900\n  require hover_time >= 30 min with Slim700\n').commit();
    change
      .edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700 as Five duty 57 %')
      .edit(RAFTER, '  require hover_time >= 30 min with Slim700\n', '');
    expect((await change.json()).verdict.sentence).toMatch(/1 requirement taken away \(.*\): it hides short-flight$/);
  });

  it('a finding that the rules of a new build lower is named with what it lowers', async () => {
    const change = new Change(CRAFT);
    change.write({
      'builds/new.fettle': `fettle 1
use "../parts"
build New { airframe: Open152  motors: 4 x M1506 with P3022  esc: Board32  pack: Slim700
  lower motor-overvoltage to hint because "short" }
`,
    });
    expect((await change.json()).verdict.sentence).toMatch(
      /^Check before merging: 1 finding lowered \(.*\): it lowers motor-overvoltage$/,
    );
  });

  it('a flight that is shorter than before is named with the requirement that it meets by that', async () => {
    const change = new Change(CRAFT);
    const flight = (length: string) => `flight Round { leg: ${length} at 9 m/s\n  leg: home at 9 m/s }\n`;
    change
      .write({ 'parts/flights.fettle': `fettle 1\n${flight('2 km')}` })
      .edit(
        'parts/others.fettle',
        'airframe Open152 { mass: 47 g measured',
        'airframe Open152 { drag_area: 60 cm^2  mass: 47 g measured',
      )
      .edit(
        RAFTER,
        '  pack: Slim900\n',
        '  pack: Slim900\n  flight: Round\n  require flight.Round.charge_left >= 90 %\n',
      )
      .commit();
    change.write({ 'parts/flights.fettle': `fettle 1\n${flight('50 m')}` });
    const { sentence } = (await change.json()).verdict;
    expect(sentence).toMatch(/1 flight changed \(.*2 km at 9 m\/s.*\): it hides requirement-/);
  });
});
