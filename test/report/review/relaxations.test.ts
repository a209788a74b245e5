/** What a change accepts, requires less or permits more: reported in the first line, in every format, and named with its line. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const HOUSE = 'rules/house.fettle';
const ASKED = 'require all_up_weight <= 270 g';

const houseRules = (line: string) => ({ ...CRAFT, [HOUSE]: `${CRAFT[HOUSE]}`.replace(ASKED, line) });

// biome-ignore lint/suspicious/noExplicitAny: as parsed from JSON.
const relaxationsOf = (review: any, name: string): any[] =>
  review.builds.find((build: { name: string }) => build.name === name)?.relaxations ?? [];

/** Of a review of the same line of the rules, before and after. */
async function verdictOn(before: string, after: string): Promise<{ worry: string; sentence: string }> {
  const change = new Change(houseRules(before));
  return (await change.edit(HOUSE, before, after).json()).verdict;
}

const NOTHING = { worry: 'none', sentence: 'Nothing to worry about: no difference that the ± cannot explain' };

describe('an error that comes and is accepted by the same change', () => {
  it('is named in the first line of every format, and does not fail the run', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    const sentence = 'Check before merging: 1 error newly accepted (motor-overvoltage)';
    const review = await change.json();
    expect(review.verdict).toEqual({ worry: 'warning', sentence });
    expect(relaxationsOf(review, 'Rafter')).toMatchObject([
      { what: 'acceptance', how: 'added', file: RAFTER, range: { start: { line: 13 } } },
    ]);
    const markdown = await change.markdown();
    expect(markdown.split('\n')[0]).toBe(`## ${sentence}`);
    expect(markdown).toContain('- **newly accepted error** `motor-overvoltage` on `Slim700`: ');
    expect(markdown).toContain(
      '- **acceptance added** `accept motor-overvoltage because "ten seconds"`, `builds/rafter.fettle:13`',
    );
    const text = await change.text();
    expect(text.split('\n')[0]).toBe(sentence);
    expect(text).toContain('accept motor-overvoltage because "ten seconds"  builds/rafter.fettle:13');
    expect(await change.fails('error')).toBe(false);
  });

  it('counts in addition to new ones, and so does a warning', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 86 %\n  accept motor-overvoltage because "short"');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 warning newly accepted (motor-overvoltage)',
    });
    change.edit(HOUSE, '<= 270 g', '<= 222 g');
    expect((await change.json()).verdict).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 2 new errors, 1 warning newly accepted (motor-overvoltage)',
    });
  });

  it('in a build that is new', async () => {
    const change = new Change(CRAFT);
    const text = `${CRAFT[RAFTER]}`.replaceAll('Rafter', 'Gable');
    const accepting = text.replace('duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"');
    change.write({ 'builds/gable.fettle': accepting });
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 error newly accepted (motor-overvoltage)',
    });
  });
});

describe('an acceptance', () => {
  it('that comes though there is nothing to accept yet', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 58 %\n  accept motor-overvoltage because "later"');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 acceptance added (accept motor-overvoltage because "later")',
    });
  });

  it('that reaches further is reported; one that reaches less far, or for another reason, is not', async () => {
    const accept = (words: string) => `duty 100 %\n  accept motor-overvoltage ${words}`;
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', accept('below 2 because "short"')).commit();
    change.edit(RAFTER, 'below 2 because "short"', 'because "short"');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence:
        'Check before merging: 1 acceptance widened (accept motor-overvoltage below 2 because "short" → accept motor-overvoltage because "short")',
    });
    change.edit(RAFTER, 'because "short"', 'below 1.9 because "ten seconds"');
    expect((await change.json()).verdict).toEqual(NOTHING);
  });
});

describe('a requirement that goes', () => {
  it('from the rules of builds is counted once in the first line, and named in each build with its line', async () => {
    const change = new Change(CRAFT);
    change.edit(HOUSE, `  ${ASKED}\n`, '');
    const review = await change.json();
    expect(review.verdict).toEqual({
      worry: 'warning',
      sentence: `Check before merging: 1 requirement taken away (${ASKED})`,
    });
    for (const name of ['Rafter', 'Quiet'])
      expect(relaxationsOf(review, name)).toMatchObject([
        { what: 'requirement', how: 'taken away', before: ASKED, file: HOUSE, range: { start: { line: 5 } } },
      ]);
    const markdown = await change.markdown();
    expect(
      markdown.match(
        /^- \*\*requirement taken away\*\* `require all_up_weight <= 270 g`, `rules\/house\.fettle:5` \(2 builds\)$/gm,
      ),
    ).toHaveLength(1);
  });

  it('with the rules that a build names no more, or from the build itself', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 58 %\n  require hover_time >= 1 min').commit();
    change.edit(RAFTER, '  rules: HouseRules\n', '').edit(RAFTER, '\n  require hover_time >= 1 min', '');
    const review = await change.json();
    expect(review.verdict).toEqual({ worry: 'warning', sentence: 'Check before merging: 2 requirements taken away' });
    expect(relaxationsOf(review, 'Rafter').map(({ before, file }) => `${before} ${file}`)).toEqual([
      `require hover_time >= 1 min ${RAFTER}`,
      `${ASKED} ${HOUSE}`,
    ]);
  });

  it('or is loosened so that it fails no more states on which packs it failed', async () => {
    const change = new Change(houseRules('require all_up_weight <= 222 g'));
    change.edit(HOUSE, '<= 222 g', '<= 270 g');
    const sentence =
      'Check before merging: 1 requirement loosened (require all_up_weight <= 222 g → require all_up_weight <= 270 g): it hides overweight';
    const review = await change.json();
    expect(review.verdict).toEqual({ worry: 'warning', sentence });
    expect(relaxationsOf(review, 'Rafter')).toMatchObject([{ how: 'loosened', failedOn: ['Slim700'] }]);
    const out = await change.text();
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
  ])('%s', async (_, before, after, reported) => {
    const withoutReserve = (line: string) =>
      houseRules(line)[HOUSE]?.replace('  reserve: 20 % of capacity\n', '') ?? '';
    const change = new Change({ ...CRAFT, [HOUSE]: withoutReserve(before) });
    change.write({ [HOUSE]: withoutReserve(after) });
    const { worry, sentence } = (await change.json()).verdict;
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
  ])('%s', async (_, before, after) => {
    expect(await verdictOn(before, after)).toEqual(NOTHING);
  });

  it('on each pack by itself, until one is left out', async () => {
    const eave = 'builds/eave.fettle';
    const change = new Change(CRAFT);
    change.edit(eave, 'pack: Slim700', `pack: Slim700\n  pack: Slim900\n  ${ASKED}`).commit();
    change.edit(eave, ASKED, `${ASKED} with Slim900\n  ${ASKED} with Slim700`);
    expect((await change.json()).verdict).toEqual(NOTHING);
    change.edit(eave, `\n  ${ASKED} with Slim900`, '');
    expect((await change.json()).verdict).toEqual({
      worry: 'warning',
      sentence: `Check before merging: 1 requirement loosened (${ASKED} → ${ASKED} with Slim700)`,
    });
  });

  it('by the build in place of its rules', async () => {
    const change = new Change(CRAFT);
    change.edit(HOUSE, `  ${ASKED}\n`, '').edit(RAFTER, 'duty 58 %', `duty 58 %\n  ${ASKED}`);
    const review = await change.json();
    expect(review.verdict).toEqual(NOTHING);
  });

  it('that is only mistyped is reported as such', async () => {
    expect(await verdictOn(ASKED, 'require all_up_wight <= 270 g')).toEqual({
      worry: 'error',
      sentence: 'Stop and check: 1 new error',
    });
    const change = new Change(CRAFT);
    change.edit(HOUSE, 'rules HouseRules {', 'rules HouseRules');
    expect((await change.json()).verdict.sentence).toBe(
      'Stop and check: 1 new error, rules/house.fettle no longer parses',
    );
  });
});
