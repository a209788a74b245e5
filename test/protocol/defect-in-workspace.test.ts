/** A mistake of ours in one file of the workspace: reported at its top, all other files are judged, and answers about it state it. */
import '../put-in-defects.ts';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { MemoryServer } from './memory-server.ts';
import { BOARDS, PACKS, PARTS, RAFTER } from './workshop.ts';

const CHECK = RAFTER.replace('build Rafter', 'build UnluckyCraft');
const COMPUTE = RAFTER.replace('build Rafter', 'build Third').replace(
  /( *)pack: Slim900_3S.*/,
  '$&\n$1pack: Slim900_3S as UnluckyPack',
);

const FILES = new Map([
  ['parts/motors.fettle', PARTS],
  ['parts/boards.fettle', BOARDS],
  ['parts/packs.fettle', PACKS],
  ['builds/rafter.fettle', RAFTER],
  ['builds/check.fettle', CHECK],
  ['builds/compute.fettle', COMPUTE],
  ['builds/read.fettle', 'item Unlucky { mass: 3 g }\nitem Strap2 { mass: 1 V }\n'],
  ['builds/slip.fettle', 'item Slip { mass: 1 A }\n'],
]);

let server: MemoryServer;
const reported: string[] = [];
const uri = (path: string): string => `file:///home/${path}`;

beforeAll(async () => {
  vi.spyOn(console, 'error').mockImplementation((...words: unknown[]) => {
    reported.push(words.map(String).join(' '));
  });
  server = await MemoryServer.start(FILES);
  await server.openText('builds/compute.fettle', COMPUTE);
  await server.settled();
});
afterAll(() => {
  server.stop();
  vi.restoreAllMocks();
});

const shownAt = (path: string): string[] =>
  (server.shown.get(uri(path)) ?? []).map(({ code, message }) => `${code} ${message}`);

describe('a mistake of ours in one file', () => {
  test.each([
    ['builds/read.fettle', 'a mistake in reading'],
    ['builds/check.fettle', 'a mistake in checking'],
    ['builds/compute.fettle', 'a mistake in computing'],
  ])('%s: an error at its top, once, and a line in the log', (path, mistake) => {
    const errors = shownAt(path).filter((one) => one.startsWith('internal-error'));
    expect(errors).toEqual([expect.stringContaining(mistake)]);
    expect(errors[0]).toContain('no finding here does not mean safe');
    expect(reported.filter((line) => line.includes(path) && line.includes(mistake)).length).toBeGreaterThan(0);
  });

  test('the other slip of that file, and those of other files, are reported', () => {
    expect(shownAt('builds/read.fettle')).toContainEqual(expect.stringContaining('wrong-dimension'));
    expect(shownAt('builds/slip.fettle')).toEqual([expect.stringContaining('wrong-dimension')]);
    expect(shownAt('builds/rafter.fettle').join()).not.toContain('internal-error');
  });

  test('a healthy build next to it is answered in full', async () => {
    const { builds } = await server.ask<{ builds: { packs: { checks: { verdict: string } }[] }[] }>(
      'fettle/requirements',
      {
        uri: uri('builds/rafter.fettle'),
      },
    );
    expect(builds[0]?.packs.map(({ checks }) => checks.verdict)).not.toContain('cannot be judged');
  });

  test.each([
    ['builds/check.fettle', 'UnluckyCraft'],
    ['builds/compute.fettle', 'Third'],
  ])('the sheet of %s reports that not all was judged', async (path, build) => {
    const { sheet } = await server.ask<{ sheet: { sections: { id: string; html: string }[] } }>('fettle/sheet', {
      uri: uri(path),
      build,
    });
    expect(sheet.sections[0]?.html).toMatch(/Not judged in full: an error inside Fettle.*\(a mistake in/);
  });

  test('no pack of its builds is called sound, and requirements on the pack that could not be computed are not forgotten', async () => {
    const { builds } = await server.ask<{
      builds: {
        packs: { pack: string; checks: { verdict: string; message: string } }[];
        requirements: { packs: { pack: string; verdict: string; message: string }[] }[];
      }[];
    }>('fettle/requirements', { uri: uri('builds/compute.fettle') });
    const packs = builds[0]?.packs ?? [];
    expect(packs.map(({ pack }) => pack)).toContain('UnluckyPack');
    expect(packs.map(({ checks }) => checks.verdict)).not.toContain('holds');
    for (const { packs: on } of builds[0]?.requirements ?? []) {
      const unlucky = on.find(({ pack }) => pack === 'UnluckyPack');
      expect(unlucky).toMatchObject({ verdict: 'cannot be judged' });
    }
  });

  test('once it is mended, nothing is left of it', async () => {
    await server.changeText(
      'builds/compute.fettle',
      COMPUTE.replace('UnluckyPack', 'LuckyPack').replace('Third', 'Fourth'),
    );
    await server.settled();
    expect(shownAt('builds/compute.fettle').join()).not.toContain('internal-error');
  });
});
