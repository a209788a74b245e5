/** A limit that is taken out of a part cures nothing: it is reported in the first line, and what it bounded is hidden. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from './rooftop-craft.ts';
import { Change } from './texts-under-review.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';

describe('a limit that goes from a part', () => {
  it('is named with its line and part; the error that was past it is not resolved', async () => {
    const change = new Change(CRAFT);
    change.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit();
    change.edit(MOTORS, '  rated: 3S\n', '');
    const review = await change.json();
    expect(review.verdict).toEqual({
      worry: 'warning',
      sentence: 'Check before merging: 1 limit taken away (rated: 3S of motor M1506): it hides motor-overvoltage',
    });
    const { findings, relaxations } = review.builds.find(({ name }: { name: string }) => name === 'Rafter');
    expect(findings).toContainEqual(expect.objectContaining({ status: 'hidden', id: 'motor-overvoltage' }));
    expect(relaxations).toMatchObject([
      { what: 'limit', how: 'taken away', of: 'motor M1506', file: MOTORS, range: { start: { line: 8 } } },
    ]);
    const out = await change.text();
    expect(out).toMatch(/^ {2}hidden error {2}motor-overvoltage on Slim700 /m);
    expect(out).toContain('limit of motor M1506 taken away  rated: 3S  parts/motors.fettle:8');
    expect(await change.fails('error')).toBe(false);
    const markdown = await change.markdown();
    expect(markdown).toContain('- **limit of motor M1506 taken away** `rated: 3S`, `parts/motors.fettle:8`');
  });

  it.each([
    ['continuous: 11 A claimed', MOTORS, 'motor M1506'],
    ['burst: 17 A for 5 s claimed', MOTORS, 'motor M1506'],
    ['cells: 3S .. 6S', OTHERS, 'esc Board32'],
    ['continuous: 2.5 A', OTHERS, 'rail video'],
    ['supply: 4.6 V .. 17 V', OTHERS, 'load Camera'],
  ])('%s', async (line, file, part) => {
    const change = new Change(CRAFT);
    change.edit(file, line, '');
    const { sentence, worry } = (await change.json()).verdict;
    expect(sentence).toContain(`1 limit taken away (${line} of ${part})`);
    expect(worry).toBe('warning');
  });

  it('several are counted', async () => {
    const change = new Change(CRAFT);
    change.edit(MOTORS, '  continuous: 11 A claimed\n  burst: 17 A for 5 s claimed\n', '');
    expect((await change.json()).verdict.sentence).toBe('Check before merging: 2 limits taken away');
  });
});

describe('a limit is not taken away', () => {
  const sentenceOn = async (file: string, from: string, to: string): Promise<string> =>
    (await new Change(CRAFT).edit(file, from, to).json()).verdict.sentence;

  it('by another value, by what bounds the same, or by a slip', async () => {
    expect(await sentenceOn(MOTORS, 'rated: 3S', 'rated: 3S .. 5S')).not.toContain('taken away');
    expect(await sentenceOn(OTHERS, 'cells: 3S .. 6S', 'supply: 6 V .. 17 V')).not.toContain('limit');
    expect(await sentenceOn(MOTORS, 'rated: 3S', 'ratedd: 3S')).toBe('Stop and check: 1 new error');
  });

  it('with another part in its place', async () => {
    const change = new Change(CRAFT);
    change.edit(
      MOTORS,
      'motor M1506_Slow',
      'motor M1507 { stator: 15 x 7 mm  kv: 3700 rpm/V  mass: 14 g }\n\nmotor M1506_Slow',
    );
    change.edit(RAFTER, '4 x M1506 with', '4 x M1105 with');
    expect((await change.json([RAFTER])).verdict.sentence).not.toContain('limit');
  });
});
