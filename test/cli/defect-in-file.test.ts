/** A mistake of ours in one file: reported at that file, in each format; everything else is judged, and the run is not called clean. */
import '../put-in-defects.ts';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { card } from '../../packages/language/src/cli/card-command.ts';
import { check } from '../../packages/language/src/cli/check-command.ts';
import { CHECK_FORMATS } from '../../packages/language/src/cli/formats.ts';
import { listBuilds } from '../../packages/language/src/cli/list-command.ts';
import { sheet } from '../../packages/language/src/cli/sheet-command.ts';
import { findings as findingsOf, parse } from '../../packages/language/src/index.ts';
import { printedBy } from '../printed.ts';
import { Workshop } from './command.ts';

let workshop: Workshop;

beforeAll(() => {
  workshop = new Workshop();
  workshop.write('here/a.fettle', 'item Unlucky { mass: 3 g }\nitem Strap { mass: 1 V }\n');
  workshop.write('here/b.fettle', 'build UnluckyCraft { item: 2 x Strap2 }\nitem Strap2 { mass: 3 g }\n');
  workshop.write('here/c.fettle', 'item Slip { mass: 1 A }\n');
  workshop.write('there/d.fettle', 'item Fine { mass: 1 g }\n');
});
afterAll(() => workshop.remove());

const CRAFT = `airframe F { mass: 20 g  rotors: 4 }
motor M { kv: 9600 rpm/V  stator: 11 x 4 mm  mass: 5 g }
propeller Q { diameter: 50 mm  pitch: 40 mm  blades: 3  mass: 0.5 g }
esc E { mass: 4 g  channels: 4  continuous: 12 A  burst: 15 A }
pack Good { cells: 2S  capacity: 480 mAh  mass: 30 g }
build UnluckyCraft "a.b" { airframe: F  motors: 4 x M with Q  esc: E  pack: Good  pack: Good as UnluckyPack }
`;

const at = (path: string): string => join(workshop.folder, path);

describe('a mistake of ours in one file', () => {
  test.each(CHECK_FORMATS)('as %s: named at its file, the other slips are reported, exit code 2', async (format) => {
    const { code, out, err } = await printedBy(() => check([at('here')], { format, failOn: 'error' }));
    expect(code).toBe(2);
    for (const [file, mistake] of [
      ['a.fettle', 'a mistake in reading'],
      ['b.fettle', 'a mistake in checking'],
    ] as const) {
      expect(out).toContain(file);
      expect(out.split(mistake)).toHaveLength(2);
    }
    // Of the same file, and of the next one.
    expect(out).toMatch(/expected (a )?mass/);
    expect(out).toContain('c.fettle');
    expect(out).not.toMatch(/^\s+at .*\.ts:\d/m);
    expect(err).not.toContain('internal error');
  });

  test('where there is none, nothing is reported', async () => {
    const run = () => check([at('there')], { format: 'text', failOn: 'error' });
    expect(await printedBy(run)).toMatchObject({ code: 0 });
  });

  test('a list names the file and shows the rest', async () => {
    const { code, out, err } = await printedBy(() => listBuilds([at('here')], 'text'));
    expect(code).toBe(2);
    expect(out).toContain('UnluckyCraft');
    expect(err).toContain('a mistake in reading');
  });

  test('the library hands it on as a failure', async () => {
    const workspace = await parse({ 'a.fettle': 'item Unlucky { mass: 3 g }\nitem Strap { mass: 1 V }\n' });
    expect(workspace.failures).toMatchObject([
      { path: 'a.fettle', message: expect.stringContaining('a mistake in reading') },
    ]);
    expect(findingsOf(workspace)).toHaveLength(1);
  });

  test('a sheet and a card of its craft state in their first lines that not all was judged', async () => {
    workshop.write('craft/e.fettle', CRAFT);
    const path = at('craft');
    for (const run of [
      () => sheet('UnluckyCraft', [path], { format: 'markdown' }),
      () => card(['UnluckyCraft'], { in: [path], format: 'text' }),
    ]) {
      const { out } = await printedBy(async () => {
        await run();
        return Number(process.exitCode);
      });
      process.exitCode = undefined;
      expect(out.slice(0, 300)).toMatch(/Not judged in full: .*a mistake in computing/);
      expect(out).toContain('Good');
      expect(out).not.toMatch(/fit to fly|Nothing found/i);
    }
  });
});
