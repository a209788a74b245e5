/** A mistake of ours in one file of a change: reported at that file, in each format; every other build is compared, and the exit code reports it. */
import '../put-in-defects.ts';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { TABLE_FORMATS } from '../../packages/language/src/cli/formats.ts';
import { reviewChange } from '../../packages/language/src/cli/review-command.ts';
import { printedBy, type Reported } from '../printed.ts';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { Repository } from './repository.ts';

const LIKE = (name: string, pack: string): string =>
  `fettle 1\nuse "../parts"\n\nbuild ${name} {\n  airframe: Open152\n  motors: 4 x M1506 with P3022\n  esc: Board32\n  pack: ${pack}\n}\n`;

let repository: Repository;

beforeAll(() => {
  repository = new Repository({
    ...CRAFT,
    'builds/check.fettle': LIKE('UnluckyCraft', 'Slim900'),
    'builds/compute.fettle': LIKE('Other', 'Slim900 as UnluckyPack'),
    'builds/read.fettle': `${LIKE('Third', 'Slim900')}\nitem Unlucky { mass: 3 g }\n`,
  });
  // Two changes in what every build rests on, so that their shares are worked out, and a slip in a text.
  repository
    .branch('change')
    .edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g')
    .edit('parts/others.fettle', 'capacity: 900 mAh', 'capacity: 400 mAh')
    .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %')
    .write({ 'builds/slip.fettle': 'item Slip { mass: 1 A }\n' })
    .commit();
});
afterAll(() => repository[Symbol.dispose]());

const reviewed = (format: (typeof TABLE_FORMATS)[number]): Promise<Reported> =>
  printedBy(() => reviewChange(['.'], { base: 'main', format, failOn: ['error'] }), repository.folder);

describe('a mistake of ours in a file of a change', () => {
  test.each(TABLE_FORMATS)('as %s: named at its file, once a file, and the exit code is 2', async (format) => {
    const { code, out, err } = await reviewed(format);
    expect(code).toBe(2);
    if (format !== 'json') expect(out).not.toMatch(/without a difference/);
    for (const [file, mistake] of [
      ['builds/read.fettle', 'a mistake in reading'],
      ['builds/check.fettle', 'a mistake in checking'],
      ['builds/compute.fettle', 'a mistake in computing'],
    ] as const) {
      const reported = (text: string): string[] =>
        text.split('\n').filter((line) => line.includes(mistake) && !line.includes('"sentence"'));
      // A terminal shows the line with its message.
      expect(reported(out)).toHaveLength(format === 'text' ? 0 : 1);
      expect(reported(err)).toEqual([expect.stringContaining(file)]);
    }
    expect(out).not.toMatch(/^\s+at .*\.ts:\d/m);
  });

  test('everything else is judged: other builds, their new error, what each change does, and the slip of a text', async () => {
    const { out } = await reviewed('json');
    const { verdict, builds, text, failures } = JSON.parse(out);
    expect(verdict.sentence).toMatch(/^Not all could be judged: 3 files; 2 new errors/);
    expect(failures.map(({ path }: { path: string }) => path).sort()).toEqual([
      'builds/check.fettle',
      'builds/compute.fettle',
      'builds/read.fettle',
    ]);
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(
      expect.arrayContaining(['Rafter', 'Quiet', 'Third', 'Other', 'UnluckyCraft']),
    );
    const rafter = builds.find(({ name }: { name: string }) => name === 'Rafter');
    expect(JSON.stringify(rafter.findings)).toContain('motor-overvoltage');
    expect(JSON.stringify(text)).toContain('wrong-dimension');
  });

  test('without one, the exit code is the finding', async () => {
    using healthy = new Repository(CRAFT);
    healthy.branch('change').edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').commit();
    const run = () => reviewChange(['.'], { base: 'main', format: 'text', failOn: ['error'] });
    expect(await printedBy(run, healthy.folder)).toMatchObject({ code: 1, err: '' });
  });
});
