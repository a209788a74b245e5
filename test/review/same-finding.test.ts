/** Which finding of one version is which of the other: an old one hides no new one, and one that got much worse is reported. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

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
  it('another name that is not known', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, '  esc: Board32', '  item: Strapp\n  esc: Board32').commit();
    repository.edit(RAFTER, '  item: Strapp\n', '').edit(RAFTER, 'rules: HouseRules', 'rules: HausRules');
    const { verdict, text } = repository.json('--base', 'HEAD');
    expect(verdict.sentence).toMatch(/^Stop and check: 1 new error/);
    expect(statusesIn(text)).toEqual(['new unknown-name', 'resolved unknown-name']);
  });

  it('the same wrong word in another part', () => {
    const spare = (mass: string) => `item Spare { mass: 3 ${mass} }\nitem Rest { mass: 3 g }\n`;
    using repository = new Repository({ ...CRAFT, 'builds/items.fettle': `fettle 1\n${spare('gg')}` });
    const swapped = 'item Spare { mass: 3 g }\nitem Rest { mass: 3 gg }\n';
    repository.write({ 'builds/items.fettle': `fettle 1\n${swapped}` });
    expect(statusesIn(repository.json('--base', 'HEAD').text)).toEqual(['new unknown-unit', 'resolved unknown-unit']);
  });

  it('another requirement that fails', () => {
    const required = (current: string, duty: string) =>
      `require hover_current <= ${current}\n  require hover_duty <= ${duty}`;
    const rules = `${CRAFT[HOUSE]}`.replace('require all_up_weight <= 270 g', required('1 A', '90 %'));
    using repository = new Repository({ ...CRAFT, [HOUSE]: rules });
    repository.edit(HOUSE, required('1 A', '90 %'), required('99 A', '5 %'));
    const review = repository.json('--base', 'HEAD');
    expect(review.verdict.sentence).toMatch(
      /^Stop and check: 3 new errors; 1 requirement loosened .*: it hides requirement-fails$/,
    );
    expect(new Set(gravesIn(review, 'Rafter'))).toEqual(new Set(['new requirement-fails', 'hidden requirement-fails']));
  });

  it('another load that burns', () => {
    const loads = (lamp: string, bell: string) => `load Lamp { draw: 2 W  supply: 4.6 V .. ${lamp}  mass: 2 g }
load Bell { draw: 2 W  supply: 4.6 V .. ${bell}  mass: 2 g }
`;
    using repository = new Repository({ ...CRAFT, 'parts/loads.fettle': `fettle 1\n${loads('5.2 V', '26 V')}` });
    repository.edit(RAFTER, '  pack: Slim900', '  load: Lamp from pack\n  load: Bell from pack\n  pack: Slim900');
    repository.commit().write({ 'parts/loads.fettle': `fettle 1\n${loads('26 V', '5.2 V')}` });
    const review = repository.json('--base', 'HEAD');
    // In the craft and in its variant.
    expect(review.verdict.sentence).toMatch(
      /^Stop and check: 2 new errors; 1 limit raised \(supply: .* of load Lamp\): it hides rail-overvoltage$/,
    );
    expect(gravesIn(review, 'Rafter')).toEqual(['new rail-overvoltage', 'hidden rail-overvoltage']);
  });
});

describe('a finding is the same', () => {
  it('with other numbers, at a line that moved, under a requirement that was rewritten', () => {
    using repository = new Repository({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 270 g', '<= 150 g') });
    repository
      .edit(RAFTER, '  pack: Slim900\n', '')
      .edit(RAFTER, '  airframe: Open152', '  pack: Slim900\n  airframe: Open152')
      .edit(HOUSE, 'all_up_weight <= 150 g', '151 g >= all_up_weight')
      .edit(OTHERS, 'mass: 16.2 g', 'mass: 16.1 g');
    const review = repository.json('--base', 'HEAD');
    expect(review.verdict.sentence).not.toMatch(/new error\b(?! or)/);
    expect(new Set(gravesIn(review, 'Rafter'))).toEqual(new Set(['open overweight']));
  });

  it('on a pack that goes by another name, also where it is accepted for that pack', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700 as NoLimit').commit();
    repository.edit(RAFTER, 'NoLimit', 'Unlimited');
    const review = repository.json('--base', 'HEAD', RAFTER);
    expect(review.verdict).toEqual({
      worry: 'none',
      sentence: 'Nothing to worry about: no difference that the ± cannot explain',
    });
    expect(gravesIn(review, 'Rafter')).toEqual(['open motor-overvoltage']);
    const accept = (pack: string) => `${pack}\n  accept motor-overvoltage with ${pack} because "short"`;
    repository.edit(RAFTER, 'Unlimited', accept('Unlimited')).commit();
    repository.edit(RAFTER, accept('Unlimited'), accept('Open'));
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.worry).toBe('none');
  });

  it('of a part that goes by another name', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit();
    const motors = `${CRAFT['parts/motors.fettle']}`.replaceAll(/M1506\b/g, 'M1506_Fast');
    repository.write({ 'parts/motors.fettle': motors }).edit(RAFTER, '4 x M1506 with', '4 x M1506_Fast with');
    const review = repository.json('--base', 'HEAD', RAFTER);
    expect(review.verdict.worry).toBe('none');
    expect(gravesIn(review, 'Rafter')).toEqual(['open motor-overvoltage']);
  });

  it('not on a pack that changed otherwise', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700 as NoLimit').commit();
    repository.edit(RAFTER, 'Slim700 as NoLimit', 'Slim700 as Other duty 97 %');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).toMatch(/^Stop and check: 1 new error/);
  });

  it('in a file that moved', () => {
    using repository = new Repository(CRAFT);
    repository.edit(OTHERS, 'mass: 11.3 g', 'mass: 11.3 gg').commit();
    repository.git('mv', OTHERS, 'parts/things.fettle');
    const { verdict, text } = repository.json('--base', 'HEAD');
    expect(verdict.worry).toBe('none');
    expect(statusesIn(text)).toEqual(['open unknown-unit']);
  });
});

describe('a known finding that gets much worse', () => {
  const quad = 'pack Slim600 { cells: 6S  capacity: 600 mAh  discharge: 70C  cell_resistance: 12 mohm  mass: 108 g }\n';
  const withQuad = { ...CRAFT, [OTHERS]: `${CRAFT[OTHERS]}${quad}` };

  it('is reported with what it was, and is no new one', () => {
    using repository = new Repository(withQuad);
    repository.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700').commit();
    repository.edit(RAFTER, 'pack: Slim700', 'pack: Slim600 as Slim700');
    const { code, out } = repository.review('--base', 'HEAD', RAFTER);
    expect(out).toMatch(/^Check before merging: 1 error got worse\n/);
    expect(out).toMatch(
      /^ {2}worse error {2}motor-overvoltage on Slim700 .*\n.* 2(\.0*)? times.*\n {4}before: .* 1\.67 times/m,
    );
    expect(code).toBe(0);
    const markdown = repository.review('--base', 'HEAD', '--format', 'markdown', RAFTER).out;
    expect(markdown).toMatch(/\*\*worse error\*\* `motor-overvoltage` on `Slim700`: .* Before: .*1\.67 times/);
  });

  it('also where it is accepted', () => {
    using repository = new Repository(withQuad);
    const accept = 'accept motor-overvoltage because "ten seconds"';
    repository.edit(RAFTER, 'pack: Slim700 duty 58 %', `pack: Slim700\n  ${accept}`).commit();
    repository.edit(RAFTER, 'pack: Slim700', 'pack: Slim600 as Slim700');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 accepted error got worse',
    });
  });

  it('on a pack that is not the one that was worst', () => {
    using repository = new Repository(withQuad);
    repository.edit(RAFTER, 'pack: Slim700 duty 58 %', 'pack: Slim700\n  pack: Slim700 as Spare').commit();
    repository.edit(RAFTER, 'pack: Slim700 as Spare', 'pack: Slim600 as Spare');
    const review = repository.json('--base', 'HEAD', RAFTER);
    expect(review.verdict.sentence).toBe('Check before merging: 1 error got worse');
    const worse = review.builds[0].findings.filter(({ status }: { status: string }) => status === 'worse');
    expect(worse).toMatchObject([{ id: 'motor-overvoltage', packs: ['Spare'] }]);
  });

  it('but not by less than the ± can explain', () => {
    using repository = new Repository({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 270 g', '<= 150 g') });
    repository.edit(OTHERS, 'mass: 16.2 g', 'mass: 16.3 g');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).not.toMatch(/got worse/);
    repository.edit(OTHERS, 'mass: 16.3 g', 'mass: 36.2 g');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).toMatch(
      /^Check before merging: \d errors? got worse$/,
    );
  });
});
