/** What a change accepts, requires less or permits more: reported in the first line, in every format, and named with its line. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const RAFTER = 'builds/rafter.fettle';
const HOUSE = 'rules/house.fettle';
const ASKED = 'require all_up_weight <= 270 g';

const houseRules = (line: string) => ({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace(ASKED, line) });

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const relaxationsOf = (review: any, name: string): any[] =>
  review.builds.find((build: { name: string }) => build.name === name)?.relaxations ?? [];

/** Of a review of the same line of the rules, before and after. */
function verdictOn(before: string, after: string): { worry: string; sentence: string } {
  using repository = new Repository(houseRules(before));
  return repository.edit(HOUSE, before, after).json('--base', 'main').verdict;
}

const NOTHING = { worry: 'none', sentence: 'Nothing to worry about: no difference that the ± cannot explain' };

describe('an error that comes and is accepted by the same change', () => {
  it('is named in the first line of every format, and does not fail the run', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    const sentence = 'Check before merging: 1 error newly accepted (motor-overvoltage)';
    const review = repository.json('--base', 'main');
    expect(review.verdict).toEqual({ worry: 'warning', sentence });
    expect(relaxationsOf(review, 'Rafter')).toMatchObject([
      { what: 'acceptance', how: 'added', file: RAFTER, range: { start: { line: 13 } } },
    ]);
    const markdown = repository.review('--base', 'main', '--format', 'markdown').out;
    expect(markdown.split('\n')[0]).toBe(`## ${sentence}`);
    expect(markdown).toContain('- **newly accepted error** `motor-overvoltage` on `Slim700`: ');
    expect(markdown).toContain(
      '- **acceptance added** `accept motor-overvoltage because "ten seconds"`, `builds/rafter.fettle:13`',
    );
    const text = repository.review('--base', 'main');
    expect(text.out.split('\n')[0]).toBe(sentence);
    expect(text.out).toContain('accept motor-overvoltage because "ten seconds"  builds/rafter.fettle:13');
    expect(text.code).toBe(0);
  });

  it('counts in addition to new ones, and so does a warning', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 86 %\n  accept motor-overvoltage because "short"');
    expect(repository.json('--base', 'main').verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 warning newly accepted (motor-overvoltage)',
    });
    repository.edit(HOUSE, '<= 270 g', '<= 222 g');
    expect(repository.json('--base', 'main').verdict).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 2 new errors, 1 warning newly accepted (motor-overvoltage)',
    });
  });

  it('in a build that is new', () => {
    using repository = new Repository(CRAFT);
    const text = `${CRAFT[RAFTER]}`.replaceAll('Rafter', 'Gable');
    const accepting = text.replace('duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    repository.write({ 'builds/gable.fettle': accepting });
    expect(repository.json('--base', 'main').verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 error newly accepted (motor-overvoltage)',
    });
  });
});

describe('an acceptance', () => {
  it('that comes though there is nothing to accept yet', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 58 %\n  accept motor-overvoltage because "later"');
    expect(repository.json('--base', 'main').verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 acceptance added (accept motor-overvoltage because "later")',
    });
  });

  it('that reaches further is reported; one that reaches less far, or for another reason, is not', () => {
    const accept = (words: string) => `duty 100 %\n  accept motor-overvoltage ${words}`;
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', accept('below 2 because "short"')).commit();
    repository.edit(RAFTER, 'below 2 because "short"', 'because "short"');
    expect(repository.json('--base', 'HEAD').verdict).toEqual({
      worry: 'warning',
      sentence:
        'Check before merging: 1 acceptance widened (accept motor-overvoltage below 2 because "short" → accept motor-overvoltage because "short")',
    });
    repository.edit(RAFTER, 'because "short"', 'below 1.9 because "ten seconds"');
    expect(repository.json('--base', 'HEAD').verdict).toEqual(NOTHING);
  });
});

describe('a requirement that goes', () => {
  it('from the rules of builds is counted once in the first line, and named in each build with its line', () => {
    using repository = new Repository(CRAFT);
    repository.edit(HOUSE, `  ${ASKED}\n`, '');
    const review = repository.json('--base', 'main');
    expect(review.verdict).toEqual({
      worry: 'warning',
      sentence: `Check before merging: 1 requirement taken away (${ASKED})`,
    });
    for (const name of ['Rafter', 'Quiet'])
      expect(relaxationsOf(review, name)).toMatchObject([
        { what: 'requirement', how: 'taken away', before: ASKED, file: HOUSE, range: { start: { line: 5 } } },
      ]);
    const markdown = repository.review('--base', 'main', '--format', 'markdown').out;
    expect(
      markdown.match(
        /^- \*\*requirement taken away\*\* `require all_up_weight <= 270 g`, `rules\/house\.fettle:5` \(2 builds\)$/gm,
      ),
    ).toHaveLength(1);
  });

  it('with the rules that a build names no more, or from the build itself', () => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 58 %\n  require hover_time >= 1 min').commit();
    repository.edit(RAFTER, '  rules: HouseRules\n', '').edit(RAFTER, '\n  require hover_time >= 1 min', '');
    const review = repository.json('--base', 'HEAD');
    expect(review.verdict).toEqual({ worry: 'warning', sentence: 'Check before merging: 2 requirements taken away' });
    expect(relaxationsOf(review, 'Rafter').map(({ before, file }) => `${before} ${file}`)).toEqual([
      `require hover_time >= 1 min ${RAFTER}`,
      `${ASKED} ${HOUSE}`,
    ]);
  });

  it('or is loosened so that it fails no more states on which packs it failed', () => {
    using repository = new Repository(houseRules('require all_up_weight <= 222 g'));
    repository.edit(HOUSE, '<= 222 g', '<= 270 g');
    const sentence =
      'Check before merging: 1 requirement loosened (require all_up_weight <= 222 g → require all_up_weight <= 270 g): it hides overweight';
    const review = repository.json('--base', 'main');
    expect(review.verdict).toEqual({ worry: 'warning', sentence });
    expect(relaxationsOf(review, 'Rafter')).toMatchObject([{ how: 'loosened', failedOn: ['Slim700'] }]);
    const { out } = repository.review('--base', 'main');
    expect(out.split('\n')[0]).toBe(sentence);
    expect(out).toMatch(/it hides error overweight on Full5S, Slim700$/m);
  });

  it.each([
    [
      'a margin',
      'keep 20 % in reserve on esc.continuous',
      'reserve: 20 % of capacity',
      'requirement taken away (keep 20 % in reserve on esc.continuous)',
    ],
    [
      'a smaller margin',
      'keep 20 % in reserve on esc.continuous',
      'keep 10 % in reserve on esc.continuous',
      'requirement loosened (keep 20 % in reserve on esc.continuous → keep 10 % in reserve on esc.continuous)',
    ],
    [
      'an alternative',
      ASKED,
      `${ASKED} or hover_time >= 1 min`,
      `requirement changed (${ASKED} → ${ASKED} or hover_time >= 1 min)`,
    ],
    [
      'half of a pair',
      `${ASKED} and hover_time >= 1 min`,
      ASKED,
      `requirement loosened (${ASKED} and hover_time >= 1 min → ${ASKED})`,
    ],
    [
      'a lower limit',
      'require hover_time >= 90 s',
      'require hover_time >= 1 min',
      'requirement loosened (require hover_time >= 90 s → require hover_time >= 1 min)',
    ],
    [
      'severity',
      'reserve: 20 % of capacity',
      'lower pack-heavy to hint because "small"',
      'finding lowered (lower pack-heavy to hint because "small")',
    ],
    [
      'a raise',
      'raise pack-heavy to error because "big"',
      'reserve: 20 % of capacity',
      'finding no longer raised (raise pack-heavy to error because "big")',
    ],
  ])('%s', (_, before, after, reported) => {
    const withoutReserve = (line: string) =>
      houseRules(line)[HOUSE]?.replace('  reserve: 20 % of capacity\n', '') ?? '';
    using repository = new Repository({ ...CRAFT, [HOUSE]: withoutReserve(before) });
    repository.write({ [HOUSE]: withoutReserve(after) });
    const { worry, sentence } = repository.json('--base', 'main').verdict;
    expect({ worry, sentence }).toMatchObject({ worry: 'warning', sentence: `Check before merging: 1 ${reported}` });
  });
});

describe('a requirement that still applies', () => {
  it.each([
    ['in other words and units', ASKED, 'require   0.27 kg >= all_up_weight because "the law says so"'],
    ['the other way round', ASKED, 'require not (all_up_weight > 270 g)'],
    ['more strictly', ASKED, 'require all_up_weight <= 260 g'],
    ['next to another', ASKED, `${ASKED} and hover_time >= 1 min`],
    ['on lines of their own', `${ASKED} and hover_time >= 1 min`, `require hover_time >= 1 min\n  ${ASKED}`],
    ['and another one', ASKED, `${ASKED}\n  require hover_time >= 1 min`],
    ['with a larger margin', 'keep 20 % in reserve on esc.continuous', 'keep 25 % in reserve on esc.continuous'],
  ])('%s', (_, before, after) => {
    expect(verdictOn(before, after)).toEqual(NOTHING);
  });

  it('on each pack by itself, until one is left out', () => {
    const eave = 'builds/eave.fettle';
    using repository = new Repository(CRAFT);
    repository.edit(eave, 'pack: Slim700', `pack: Slim700\n  pack: Slim900\n  ${ASKED}`).commit();
    repository.edit(eave, ASKED, `${ASKED} with Slim900\n  ${ASKED} with Slim700`);
    expect(repository.json('--base', 'HEAD').verdict).toEqual(NOTHING);
    repository.edit(eave, `\n  ${ASKED} with Slim900`, '');
    expect(repository.json('--base', 'HEAD').verdict).toEqual({
      worry: 'warning',
      sentence: `Check before merging: 1 requirement loosened (${ASKED} → ${ASKED} with Slim700)`,
    });
  });

  it('by the build in place of its rules', () => {
    using repository = new Repository(CRAFT);
    repository.edit(HOUSE, `  ${ASKED}\n`, '').edit(RAFTER, 'duty 58 %', `duty 58 %\n  ${ASKED}`);
    const review = repository.json('--base', 'main');
    expect(review.verdict).toEqual(NOTHING);
  });

  it('that is only mistyped is reported as such', () => {
    expect(verdictOn(ASKED, 'require all_up_wight <= 270 g')).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 1 new error',
    });
    using repository = new Repository(CRAFT);
    repository.edit(HOUSE, 'rules HouseRules {', 'rules HouseRules');
    expect(repository.json('--base', 'main').verdict.sentence).toBe(
      'Stop and check: 1 new error, rules/house.fettle no longer parses',
    );
  });
});
