/** Many files are checked by several threads; nothing of what is stated may show it. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkPaths } from '../../packages/language/src/cli/check-command.ts';
import { checkInThreads, lotsOf } from '../../packages/language/src/cli/check-threads.ts';
import { progressOn } from '../../packages/language/src/cli/terminal-progress.ts';
import { allFindings } from '../../packages/language/src/report/checked.ts';
import { recorded } from '../../packages/language/src/report/formats/record.ts';
import { cases } from '../long.ts';
import { Workshop } from './command.ts';

const FOLDERS = 8;
const BUILDS_A_FOLDER = 42;
/** One in so many is a whole craft. */
const WHOLE = cases(14, 1);
const workshop = new Workshop();
const silent = progressOn({ isTTY: false, columns: 0, write: () => true });

const buildText = (folder: number, number: number): string => `use "../../examples/parts"
use "../../examples/rules"

build Craft${folder}_${number} "Craft ${number}" {
  airframe: Open184
  item: ${number} x ScrewM2
${number % WHOLE === 0 ? DRIVE : ''}}
`;

const DRIVE = `  rules: SurveyRules
  motors: 4 x M1606_3150 with P4022x2
  esc: Board35
  load: LinkCam from pack
  pack: Eaves1150_3S
`;

const bare = (name: string): string => `motor ${name} { stator: 16 x 6 mm  mass: 14 g }\n`;

beforeAll(() => {
  for (let folder = 0; folder < FOLDERS; folder++) {
    for (let number = 0; number < BUILDS_A_FOLDER; number++)
      workshop.write(`many/f${folder}/b${number}.fettle`, buildText(folder, number));
  }
  // Parts with a slip, elsewhere, that builds of several lots are made of.
  workshop.write('slips/packs.fettle', 'pack Tired {\n  cells: 2S\n  capacity: 480 kg\n}\n');
  for (const folder of [0, 7])
    workshop.write(
      `many/f${folder}/tired.fettle`,
      `use "../../slips"\nbuild Tired${folder} {\n  pack: Tired\n  dry_mass: 60 g\n}\n`,
    );
  // A name that is nowhere near, and one that another thread's files declare; a line that cannot be read; no text at all.
  workshop.write('many/f0/unknown.fettle', 'build Lost {\n  pack: Eaves480_3S\n  esc: FarBoard\n}\n');
  workshop.write('many/f7/far.fettle', 'esc FarBoard {\n  continuous: 20 A\n}\n');
  workshop.write('many/f0/half.fettle', 'build Half {\n  pack: \n  motors: 4 x\n');
  workshop.write('many/f7/binary.fettle', new Uint8Array([0, 1, 2, 3]));
});
afterAll(() => workshop.remove());

const filesOf = (folder: string): string[] => {
  const root = join(workshop.folder, folder);
  return readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.fettle'))
    .map((path) => pathToFileURL(join(root, path)).toString())
    .sort();
};

describe('files shared out among threads', () => {
  test('come back as one thread would have checked them', async () => {
    const folders = ['f0', 'f7'].map((folder) => join(workshop.folder, 'many', folder));
    const checked = await checkPaths(folders);
    const alone = recorded(checked, 'headlines');
    const all = [...filesOf('many/f0'), ...filesOf('many/f7')];
    const lots = await checkInThreads({ all, detail: 'headlines' }, 2, silent);
    expect(lots).toHaveLength(2);
    expect(lots.flatMap(({ builds }) => builds)).toEqual(alone.builds);
    expect(allFindings(lots)).toEqual(alone.findings);
    expect(alone.findings.filter(({ place }) => place.uri.endsWith('slips/packs.fettle'))).toHaveLength(1);
    expect(lots.flatMap(({ failures }) => failures)).toContainEqual(alone.failures[0]);
    expect(alone.findings.find(({ message }) => message.includes('FarBoard is in'))).toBeDefined();
    // Every place that is reported of can be shown.
    const texts = new Map(lots.flatMap((lot) => [...lot.texts]));
    for (const { place } of alone.findings) expect(texts.get(place.uri)?.slice(place.start)).toBeDefined();
  }, 120_000);

  test('with what depends on files that a thread need not open: the users of a part, and what a path could have meant', async () => {
    // No file of the first lot opens the second one's, whose files decide what is missing in the first.
    workshop.write('apart/a/base.fettle', bare('Base') + bare('Used') + bare('Unused'));
    workshop.write('apart/a/like.fettle', 'motor Like like Used { kv: 3000 rpm/V }\n');
    workshop.write('apart/a/lost.fettle', 'use "../y/use.fettle"\n');
    for (let i = 0; i < 30; i++) workshop.write(`apart/b/${i}.fettle`, '');
    workshop.write('apart/b/rests.fettle', 'use "../c"\nbuild Rests like Lacking { dry_mass: 60 g }\n');
    for (let i = 0; i < 30; i++) workshop.write(`apart/c/${i}.fettle`, '');
    workshop.write('apart/c/lacking.fettle', 'build Lacking { pack: FarPack }\n');
    workshop.write('apart/z/use.fettle', 'use "../a"\nmotor Z like Base { kv: 3000 rpm/V }\n');
    workshop.write('apart/z/bench.fettle', 'use "../a"\nbench Stand { motor: Used }\npack FarPack { cells: 2S }\n');
    const alone = recorded(await checkPaths([join(workshop.folder, 'apart')]), 'headlines');
    const lots = await checkInThreads({ all: filesOf('apart'), detail: 'headlines' }, 2, silent);
    expect(lots.length).toBeGreaterThan(1);
    expect(allFindings(lots)).toEqual(alone.findings);
    const messages = alone.findings.map(({ message }) => message).join('\n');
    expect(messages).not.toContain('Base still needs');
    expect(messages).toContain('Used still needs kv');
    expect(messages).toContain('did you mean ../z/use.fettle');
    expect(messages).toContain('FarPack is in');
  }, 120_000);

  test('examples and broken ones among many small files', async () => {
    for (const folder of ['builds', 'z'])
      for (let i = 0; i < 30; i++) workshop.write(`examples/${folder}/small${i}.fettle`, '');
    const alone = recorded(await checkPaths([join(workshop.folder, 'examples')]), 'headlines');
    const lots = await checkInThreads({ all: filesOf('examples'), detail: 'headlines' }, 2, silent);
    expect(lots.length).toBeGreaterThan(1);
    expect(lots.flatMap(({ builds }) => builds)).toEqual(alone.builds);
    expect(allFindings(lots)).toEqual(alone.findings);
  }, 120_000);

  test('with all that a format may need', async () => {
    const all = filesOf('many').slice(0, cases(1, 3));
    const checked = await checkPaths(all.map((uri) => fileURLToPath(uri)));
    const lots = await checkInThreads({ all, detail: 'derivations' }, 1, silent);
    expect(lots.flatMap(({ builds }) => builds)).toEqual(recorded(checked, 'derivations').builds);
  }, 120_000);

  test('a thread that fails ends the run, with its message', async () => {
    const program = new URL('data:text/javascript,throw new Error("out of order")');
    await expect(checkInThreads({ all: filesOf('many'), detail: 'headlines' }, 2, silent, program)).rejects.toThrow(
      'out of order',
    );
  });

  test('a thread that leaves ends the run too', async () => {
    const program = new URL('data:text/javascript,process.exit(3)');
    await expect(checkInThreads({ all: filesOf('many'), detail: 'headlines' }, 2, silent, program)).rejects.toThrow(
      'code 3',
    );
  });

  test('keep a folder together where it is not too large', () => {
    const files = [
      ...Array.from({ length: 30 }, (_, i) => `a/${i}`),
      ...Array.from({ length: 130 }, (_, i) => `b/${i}`),
    ];
    expect(lotsOf(files).map((lot) => lot.files.length)).toEqual([30, 100, 30]);
  });
});

describe('the command on a large folder', () => {
  test('checks all of it, built as it ships', () => {
    const { code, out, err } = workshop.fettle('check', 'many');
    expect(err).toBe('');
    expect(out).toContain(`${FOLDERS * BUILDS_A_FOLDER + 5} files, ${FOLDERS * BUILDS_A_FOLDER + 4} builds`);
    expect(out).toContain('not judged  many/f7/binary.fettle');
    expect(code).toBe(2);
  }, 120_000);
});
