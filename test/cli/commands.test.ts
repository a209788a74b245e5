/** format, list, compare: what a person types and what comes out. */
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Workshop } from './command.ts';

const shop = new Workshop();
afterAll(() => shop.remove());
const read = (path: string) => readFileSync(join(shop.folder, path), 'utf8');

describe('fettle format', () => {
  const untidy = 'item   Owl {mass:3 g\n\n\n\n  note "kept" }\n';

  it('writes only what changes, and nothing the second time', () => {
    shop.write('tidy/untidy.fettle', untidy);
    shop.write('tidy/neat.fettle', 'item Owl2 { mass: 3 g }\n');
    const before = statSync(join(shop.folder, 'tidy/neat.fettle')).mtimeMs;
    expect(shop.fettle('format', 'tidy')).toEqual({
      code: 0,
      out: 'changed  tidy/untidy.fettle\n2 files: 1 changed\n',
      err: '',
    });
    expect(read('tidy/untidy.fettle')).not.toBe(untidy);
    expect(read('tidy/untidy.fettle')).toContain('mass: 3 g');
    expect(statSync(join(shop.folder, 'tidy/neat.fettle')).mtimeMs).toBe(before);
    expect(shop.fettle('format', 'tidy').out).toBe('2 files: 0 changed\n');
  });

  it('with --check writes nothing and exits with 1', () => {
    shop.write('check/untidy.fettle', untidy);
    const { code, out } = shop.fettle('format', '--check', 'check');
    expect(code).toBe(1);
    expect(out).toContain('would change  check/untidy.fettle');
    expect(read('check/untidy.fettle')).toBe(untidy);
  });

  it('leaves alone what does not parse or is not UTF-8, and names it', () => {
    shop.write('broken/open.fettle', 'item   Owl { note "never closed\n mass:   3 g }\n');
    shop.write('broken/latin.fettle', Buffer.from('item   Owl { note "caf\xe9" }\n', 'latin1'));
    const { code, err } = shop.fettle('format', 'broken');
    expect(code).toBe(2);
    expect(err).toContain('broken/open.fettle: left alone, it does not parse');
    expect(err).toMatch(/broken\/latin\.fettle: /);
    expect(readFileSync(join(shop.folder, 'broken/latin.fettle'), 'latin1')).toBe('item   Owl { note "caf\xe9" }\n');
  });
});

describe('fettle list', () => {
  it('names builds with their packs, parts with how many builds use them', () => {
    expect(shop.fettle('list', 'builds', 'examples/builds').out).toMatch(
      /^Gable +Gable, gutters and outer walls +Eaves1150_3S, Round2600_3S +examples\/builds\/gable\.fettle:6:7$/m,
    );
    const { out } = shop.fettle('list', 'parts', 'examples', '--format', 'json');
    const motor = JSON.parse(out).find(({ name }: { name: string }) => name === 'M1305_4350');
    expect(motor).toMatchObject({
      kind: 'motor',
      usedBy: ['Rafter', 'TooHeavy', 'WidePropeller'],
      place: expect.stringMatching(/^examples\/parts\/motors\.fettle:\d+:7$/),
    });
  });

  it('finds the builds that rest on a part through another build', () => {
    const { code, out } = shop.fettle('list', 'uses', 'LinkCam', 'examples/builds');
    expect(code).toBe(0);
    expect(out.match(/^\S+/gm)).toEqual(['Gable', 'Rafter', 'Spire']);
  });

  it('finds the builds that read a test stand, which none of them names', () => {
    const bench =
      'bench Kitchen {\n  motor: M1606_2650\n  propeller: P3024x3\n  rows duty in %, thrust in gf { 50, 30 }\n}\n';
    shop.write('examples/parts/stands.fettle', `fettle 1\n${bench}`);
    const { out } = shop.fettle('list', 'uses', 'Kitchen', 'examples/builds');
    expect(out.match(/^\S+/gm)).toEqual(['Belfry', 'Spire']);
    shop.write('examples/parts/stands.fettle', `fettle 1\n${bench.replace('P3024x3', 'Propeller127x2')}`);
    expect(shop.fettle('list', 'uses', 'Kitchen', 'examples/builds').out).toBe('no build uses Kitchen\n');
    shop.write('examples/parts/stands.fettle', 'fettle 1\n');
  });

  it('refuses a name that is not there, with the likely one', () => {
    expect(shop.fettle('list', 'uses', 'LinkCam2', 'examples/builds')).toMatchObject({
      code: 2,
      err: 'fettle: there is no part LinkCam2; did you mean LinkCam?\n',
    });
  });
});

describe('fettle compare', () => {
  const rowOf = (out: string, name: string) =>
    JSON.parse(out).rows.find((row: { name: string }) => row.name === name).cells;

  it('knows a difference of packs better than either level: what both share cancels', () => {
    const { code, out } = shop.fettle('compare', 'Rafter', '--in', 'examples/builds', '--format', 'json');
    expect(code).toBe(0);
    expect(JSON.parse(out).columns).toEqual([
      { build: 'Rafter', pack: 'Nave850_3S' },
      { build: 'Rafter', pack: 'Eaves1150_3S' },
    ]);
    const [first, second] = rowOf(out, 'dry_mass');
    expect(first.plusMinus).toBeGreaterThan(0);
    expect(second.difference).toEqual({ value: 0, plusMinus: 0, isBeyond: false });
    const [slow, long] = rowOf(out, 'hover_time');
    expect(long.difference.value).toBeCloseTo(long.value - slow.value, 4);
    expect(long.difference.plusMinus).toBeLessThan(long.plusMinus / 2);
    // The packs are other parts, so their masses do not cancel.
    const [two, three] = rowOf(out, 'all_up_weight');
    expect(three.difference.value).toBeCloseTo(three.value - two.value, 4);
    expect(three.difference.isBeyond).toBe(true);
  });

  it('sets builds side by side, on the packs requested', () => {
    const { out } = shop.fettle(
      ...['compare', 'Belfry', 'CameraOffThePack', '--with', 'Mast1350_4S', '--in', 'examples'],
      ...['--format', 'markdown'],
    );
    expect(out).toMatch(/^\| \| `Belfry on Mast1350_4S` \| `CameraOffThePack on Mast1350_4S` \|\n/);
    expect(out).toMatch(/^\| dry mass \| 376\.5 ± 1\.9 g \| 376\.5 ± 1\.9 g {2}\(same\) \|$/m);
  });

  it.each([
    [['Wren'], 'there is only one build on one pack: state another build, or more packs'],
    [['Gable', '--with', 'Eaves1150'], 'there is no pack Eaves1150; did you mean Eaves1150_3S?'],
    [['Gabel', 'Spire'], 'there is no build Gabel; did you mean Gable?'],
  ])('refuses %j', (args, message) => {
    expect(shop.fettle('compare', ...args, '--in', 'examples/builds')).toEqual({
      code: 2,
      out: '',
      err: `fettle: ${message}\n`,
    });
  });
});

describe('a build that lost what it flies with, and that another is like', () => {
  it('has no all-clear and weighs nothing', () => {
    const gable = read('examples/builds/gable.fettle');
    shop.write('examples/builds/gable.fettle', gable.replace(/^ *motors: 4 x M1606_3150.*\n/m, ''));
    const { builds, findings } = JSON.parse(shop.fettle('check', '--format', 'json', 'examples/builds').out);
    const itself = builds.find(({ name }: { name: string }) => name === 'Gable');
    expect(itself.options.map(({ results }: { results: object }) => 'all_up_weight' in results)).toEqual([
      false,
      false,
    ]);
    const reported = findings.filter(({ place, file }: { place?: string; file?: string }) =>
      /gable/.test(place ?? file ?? ''),
    );
    expect(reported.map(({ id }: { id: string }) => id)).toContain('missing-value');
    shop.write('examples/builds/gable.fettle', gable);
  });
});
