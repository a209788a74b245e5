/** Which finding of one version is which of the other: an old one hides no new one, and one that got much worse is reported. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const HOUSE = 'rules/house.fettle';
const OTHERS = 'parts/others.fettle';

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const statusesIn = (list: any[]): string[] => list.map(({ status, id }) => `${status} ${id}`);

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const gravesIn = (review: any, name: string): string[] =>
  statusesIn(
    review.builds
      .find((build: { name: string }) => build.name === name)
      .findings.filter(({ severity }: { severity: string }) => severity === 'error' || severity === 'warning'),
  );

describe('an old finding hides no new one of the same kind', () => {
  it('another name that is not known', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, '  esc: Board32', '  item: Strapp\n  esc: Board32').commit();
    change.edit(RAFTER, '  item: Strapp\n', '').edit(RAFTER, 'rules: HouseRules', 'rules: HausRules');
    const { verdict, text } = await change.json();
    expect(verdict.sentence).toMatch(/^Stop and check: 1 new error/);
    expect(statusesIn(text)).toEqual(['new unknown-name', 'resolved unknown-name']);
  });

  it('the same wrong word in another part', async () => {
    const spare = (mass: string) => `item Spare { mass: 3 ${mass} }\nitem Rest { mass: 3 g }\n`;
    const change = new Change({ ...CRAFT, 'builds/items.fettle': `fettle 1\n${spare('gg')}` });
    const swapped = 'item Spare { mass: 3 g }\nitem Rest { mass: 3 gg }\n';
    change.write({ 'builds/items.fettle': `fettle 1\n${swapped}` });
    expect(statusesIn((await change.json()).text)).toEqual(['new unknown-unit', 'resolved unknown-unit']);
  });

  it('another requirement that fails', async () => {
    const required = (current: string, duty: string) =>
      `require hover_current <= ${current}\n  require hover_duty <= ${duty}`;
    const rules = `${CRAFT[HOUSE]}`.replace('require all_up_weight <= 270 g', required('1 A', '90 %'));
    const change = new Change({ ...CRAFT, [HOUSE]: rules });
    change.edit(HOUSE, required('1 A', '90 %'), required('99 A', '5 %'));
    const review = await change.json();
    expect(review.verdict.sentence).toMatch(
      /^Stop and check: 3 new errors; 1 requirement loosened .*: it hides requirement-fails$/,
    );
    expect(new Set(gravesIn(review, 'Rafter'))).toEqual(new Set(['new requirement-fails', 'hidden requirement-fails']));
  });

  it('another load that burns', async () => {
    const loads = (lamp: string, bell: string) => `load Lamp { draw: 2 W  supply: 4.6 V .. ${lamp}  mass: 2 g }
load Bell { draw: 2 W  supply: 4.6 V .. ${bell}  mass: 2 g }
`;
    const change = new Change({ ...CRAFT, 'parts/loads.fettle': `fettle 1\n${loads('5.2 V', '26 V')}` });
    change.edit(RAFTER, '  pack: Slim900', '  load: Lamp from pack\n  load: Bell from pack\n  pack: Slim900');
    change.commit().write({ 'parts/loads.fettle': `fettle 1\n${loads('26 V', '5.2 V')}` });
    const review = await change.json();
    // In the craft and in its variant.
    expect(review.verdict.sentence).toMatch(
      /^Stop and check: 2 new errors; 1 limit raised \(supply: .* of load Lamp\): it hides rail-overvoltage$/,
    );
    expect(gravesIn(review, 'Rafter')).toEqual(['new rail-overvoltage', 'hidden rail-overvoltage']);
  });

  // As units are in each message.
  it('another motor of the same board, where both have names of one letter', async () => {
    const motors = (a: string, v: string) => `fettle 1
motor A like M1506 { burst: ${a} for 5 s }
motor V like M1506 { burst: ${v} for 5 s }
`;
    const change = new Change({ ...CRAFT, 'parts/letters.fettle': motors('3 A', '60 A') });
    change.edit(RAFTER, '4 x M1506 with P3022', '2 x A with P3022\n  motors: 2 x V with P3022').commit();
    change.write({ 'parts/letters.fettle': motors('60 A', '3 A') });
    const statuses = gravesIn(await change.json([RAFTER]), 'Rafter');
    expect(new Set(statuses)).toEqual(new Set(['new motor-overcurrent', 'resolved motor-overcurrent']));
  });
});

describe('a finding is the same', () => {
  it('with other numbers, at a line that moved, under a requirement that was rewritten', async () => {
    const change = new Change({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 270 g', '<= 150 g') });
    change
      .edit(RAFTER, '  pack: Slim900\n', '')
      .edit(RAFTER, '  airframe: Open152', '  pack: Slim900\n  airframe: Open152')
      .edit(HOUSE, 'all_up_weight <= 150 g', '151 g >= all_up_weight')
      .edit(OTHERS, 'mass: 16.2 g', 'mass: 16.1 g');
    const review = await change.json();
    expect(review.verdict.sentence).not.toMatch(/new error\b(?! or)/);
    expect(new Set(gravesIn(review, 'Rafter'))).toEqual(new Set(['open overweight']));
  });

  it('on a pack that goes by another name, also where it is accepted for that pack', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700 as NoLimit').commit();
    change.edit(RAFTER, 'NoLimit', 'Unlimited');
    const review = await change.json([RAFTER]);
    expect(review.verdict).toEqual({
      worry: 'none',
      sentence: 'Nothing to worry about: no difference that the ± cannot explain',
    });
    expect(gravesIn(review, 'Rafter')).toEqual(['open motor-overvoltage']);
    const accept = (pack: string) => `${pack}\n  accept motor-overvoltage with ${pack} because "short"`;
    change.edit(RAFTER, 'Unlimited', accept('Unlimited')).commit();
    change.edit(RAFTER, accept('Unlimited'), accept('Open'));
    expect((await change.json([RAFTER])).verdict.worry).toBe('none');
  });

  it('of a part that goes by another name', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit();
    const motors = `${CRAFT['parts/motors.fettle']}`.replaceAll(/M1506\b/g, 'M1506_Fast');
    change.write({ 'parts/motors.fettle': motors }).edit(RAFTER, '4 x M1506 with', '4 x M1506_Fast with');
    const review = await change.json([RAFTER]);
    expect(review.verdict.worry).toBe('none');
    expect(gravesIn(review, 'Rafter')).toEqual(['open motor-overvoltage']);
  });

  it('not on a pack that changed otherwise', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700 as NoLimit').commit();
    change.edit(RAFTER, 'Slim700 as NoLimit', 'Slim700 as Other duty 97 %');
    expect((await change.json([RAFTER])).verdict.sentence).toMatch(/^Stop and check: 1 new error/);
  });

  it.each([
    ['implausible-value', 'mass: 900 kg', 'mass: 950 kg'],
    ['missing-unit', 'mass: 12', 'mass: 13'],
    ['number-form', 'mass: 3 g 4', 'mass: 3 g 5'],
  ])('of a text in which another number is wrong in the same way: %s', async (id, one, other) => {
    const spare = (mass: string) => ({ 'builds/items.fettle': `fettle 1\nitem Spare { ${mass} }\n` });
    const change = new Change({ ...CRAFT, ...spare(one) });
    change.write(spare(other));
    expect(statusesIn((await change.json()).text)).toEqual([`open ${id}`]);
  });

  it('in a file that moved', async () => {
    const change = new Change(CRAFT);
    change.edit(OTHERS, 'mass: 11.3 g', 'mass: 11.3 gg').commit();
    change.move(OTHERS, 'parts/things.fettle');
    const { verdict, text } = await change.json();
    expect(verdict.worry).toBe('none');
    expect(statusesIn(text)).toEqual(['open unknown-unit']);
  });
});

describe('a known finding that gets much worse', () => {
  const quad = 'pack Slim600 { cells: 6S  capacity: 600 mAh  discharge: 70C  cell_resistance: 12 mohm  mass: 108 g }\n';
  const withQuad = { ...CRAFT, [OTHERS]: `${CRAFT[OTHERS]}${quad}` };

  it('is reported with what it was, and is no new one', async () => {
    const change = new Change(withQuad, [RAFTER]);
    change.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700').commit();
    change.edit(RAFTER, 'pack: Slim700', 'pack: Slim600 as Slim700');
    const out = await change.text();
    expect(out).toMatch(/^Check before merging: 1 error got worse\n/);
    expect(out).toMatch(
      /^ {2}worse error {2}motor-overvoltage on Slim700 .*\n.* 2(\.0*)? times.*\n {4}before: .* 1\.67 times/m,
    );
    expect(await change.fails('error')).toBe(false);
    const markdown = await change.markdown();
    expect(markdown).toMatch(/\*\*worse error\*\* `motor-overvoltage` on `Slim700`: .* Before: .*1\.67 times/);
  });

  it('also where it is accepted', async () => {
    const change = new Change(withQuad);
    const accept = 'accept motor-overvoltage because "ten seconds"';
    change.edit(RAFTER, 'pack: Slim700 duty 58 %', `pack: Slim700\n  ${accept}`).commit();
    change.edit(RAFTER, 'pack: Slim700', 'pack: Slim600 as Slim700');
    expect((await change.json([RAFTER])).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 accepted error got worse',
    });
  });

  it('on a pack that is not the one that was worst', async () => {
    const change = new Change(withQuad);
    change.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700\n  pack: Slim700 as Spare').commit();
    change.edit(RAFTER, 'pack: Slim700 as Spare', 'pack: Slim600 as Spare');
    const review = await change.json([RAFTER]);
    expect(review.verdict.sentence).toBe('Check before merging: 1 error got worse');
    const worse = review.builds[0].findings.filter(({ status }: { status: string }) => status === 'worse');
    expect(worse).toMatchObject([{ id: 'motor-overvoltage', packs: ['Spare'] }]);
  });

  it('but not by less than the ± can explain', async () => {
    const change = new Change({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 270 g', '<= 150 g') });
    change.edit(OTHERS, 'mass: 16.2 g', 'mass: 16.3 g');
    expect((await change.json([RAFTER])).verdict.sentence).not.toMatch(/got worse/);
    change.edit(OTHERS, 'mass: 16.3 g', 'mass: 36.2 g');
    expect((await change.json([RAFTER])).verdict.sentence).toMatch(/^Check before merging: \d errors? got worse$/);
  });
});
