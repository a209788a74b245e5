/** Which finding of one version is which of the other: an old one hides no new one, and one that got much worse is told. Needs the build. */
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
    repository.edit(RAFTER, '  esc: Board20', '  item: Strapp\n  esc: Board20').commit();
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
    const asked = (current: string, duty: string) =>
      `require hover_current <= ${current}\n  require hover_duty <= ${duty}`;
    const rules = `${CRAFT[HOUSE]}`.replace('require all_up_weight <= 130 g', asked('1 A', '90 %'));
    using repository = new Repository({ ...CRAFT, [HOUSE]: rules });
    repository.edit(HOUSE, asked('1 A', '90 %'), asked('99 A', '5 %'));
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
    using repository = new Repository({ ...CRAFT, 'parts/loads.fettle': `fettle 1\n${loads('5.2 V', '17 V')}` });
    repository.edit(RAFTER, '  pack: Slim480', '  load: Lamp from pack\n  load: Bell from pack\n  pack: Slim480');
    repository.commit().write({ 'parts/loads.fettle': `fettle 1\n${loads('17 V', '5.2 V')}` });
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
    using repository = new Repository({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 130 g', '<= 60 g') });
    repository
      .edit(RAFTER, '  pack: Slim480\n', '')
      .edit(RAFTER, '  airframe: Duct90', '  pack: Slim480\n  airframe: Duct90')
      .edit(HOUSE, 'all_up_weight <= 60 g', '61 g >= all_up_weight')
      .edit(OTHERS, 'mass: 8.6 g', 'mass: 8.5 g');
    const review = repository.json('--base', 'HEAD');
    expect(review.verdict.sentence).not.toMatch(/new error\b(?! or)/);
    expect(new Set(gravesIn(review, 'Rafter'))).toEqual(new Set(['open overweight']));
  });

  it('on a pack that goes by another name, also where it is accepted for that pack', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'pack: Slim420 duty 66 %', 'pack: Slim420 as NoLimit').commit();
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
    repository.edit(RAFTER, 'duty 66 %', 'duty 100 %').commit();
    const motors = `${CRAFT['parts/motors.fettle']}`.replaceAll(/M1104\b/g, 'M1104_Fast');
    repository.write({ 'parts/motors.fettle': motors }).edit(RAFTER, '4 x M1104 with', '4 x M1104_Fast with');
    const review = repository.json('--base', 'HEAD', RAFTER);
    expect(review.verdict.worry).toBe('none');
    expect(gravesIn(review, 'Rafter')).toEqual(['open motor-overvoltage']);
  });

  it('not on a pack that changed otherwise', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'pack: Slim420 duty 66 %', 'pack: Slim420 as NoLimit').commit();
    repository.edit(RAFTER, 'Slim420 as NoLimit', 'Slim420 as Other duty 97 %');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).toMatch(/^Stop and check: 1 new error/);
  });

  it('in a file that moved', () => {
    using repository = new Repository(CRAFT);
    repository.edit(OTHERS, 'mass: 6.1 g', 'mass: 6.1 gg').commit();
    repository.git('mv', OTHERS, 'parts/things.fettle');
    const { verdict, text } = repository.json('--base', 'HEAD');
    expect(verdict.worry).toBe('none');
    expect(statusesIn(text)).toEqual(['open unknown-unit']);
  });
});

describe('a known finding that gets much worse', () => {
  const quad = 'pack Slim400 { cells: 4S  capacity: 400 mAh  discharge: 75C  cell_resistance: 16 mohm  mass: 42 g }\n';
  const withQuad = { ...CRAFT, [OTHERS]: `${CRAFT[OTHERS]}${quad}` };

  it('is told with what it was, and is no new one', () => {
    using repository = new Repository(withQuad);
    repository.edit(RAFTER, 'pack: Slim420 duty 66 %', 'pack: Slim420').commit();
    repository.edit(RAFTER, 'pack: Slim420', 'pack: Slim400 as Slim420');
    const { code, out } = repository.review('--base', 'HEAD', RAFTER);
    expect(out).toMatch(/^Check before merging: 1 error got worse\n/);
    expect(out).toMatch(
      /^ {2}worse error {2}motor-overvoltage on Slim420 .*\n.* 2(\.0*)? times.*\n {4}before: .* 1\.50? times/m,
    );
    expect(code).toBe(0);
    const markdown = repository.review('--base', 'HEAD', '--format', 'markdown', RAFTER).out;
    expect(markdown).toMatch(/\*\*worse error\*\* `motor-overvoltage` on `Slim420`: .* Before: .*1\.50? times/);
  });

  it('also where it is accepted', () => {
    using repository = new Repository(withQuad);
    const accept = 'accept motor-overvoltage because "ten seconds"';
    repository.edit(RAFTER, 'pack: Slim420 duty 66 %', `pack: Slim420\n  ${accept}`).commit();
    repository.edit(RAFTER, 'pack: Slim420', 'pack: Slim400 as Slim420');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 accepted error got worse',
    });
  });

  it('on a pack that is not the one that was worst', () => {
    using repository = new Repository(withQuad);
    repository.edit(RAFTER, 'pack: Slim420 duty 66 %', 'pack: Slim420\n  pack: Slim420 as Spare').commit();
    repository.edit(RAFTER, 'pack: Slim420 as Spare', 'pack: Slim400 as Spare');
    const review = repository.json('--base', 'HEAD', RAFTER);
    expect(review.verdict.sentence).toBe('Check before merging: 1 error got worse');
    const worse = review.builds[0].findings.filter(({ status }: { status: string }) => status === 'worse');
    expect(worse).toMatchObject([{ id: 'motor-overvoltage', packs: ['Spare'] }]);
  });

  it('but not by less than the ± can explain', () => {
    using repository = new Repository({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace('<= 130 g', '<= 60 g') });
    repository.edit(OTHERS, 'mass: 8.6 g', 'mass: 8.7 g');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).not.toMatch(/got worse/);
    repository.edit(OTHERS, 'mass: 8.7 g', 'mass: 18.6 g');
    expect(repository.json('--base', 'HEAD', RAFTER).verdict.sentence).toMatch(
      /^Check before merging: \d errors? got worse$/,
    );
  });
});
