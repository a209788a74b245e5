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
      /^Rafter +Rafter, roof-void survey +Slim480_2S, Slim420_3S +examples\/builds\/rafter\.fettle:6:7$/m,
    );
    const { out } = shop.fettle('list', 'parts', 'examples', '--format', 'json');
    const motor = JSON.parse(out).find(({ name }: { name: string }) => name === 'M1104_7200');
    expect(motor).toMatchObject({
      kind: 'motor',
      usedBy: ['Rafter_Quiet'],
      place: expect.stringMatching(/^examples\/parts\/motors\.fettle:\d+:7$/),
    });
  });

  it('finds the builds that rest on a part through another build', () => {
    const { code, out } = shop.fettle('list', 'uses', 'WideCam', 'examples/builds');
    expect(code).toBe(0);
    expect(out.match(/^\S+/gm)).toEqual(['Gable', 'Rafter', 'Rafter_Quiet']);
  });

  it('finds the builds that read a test stand, which none of them names', () => {
    const bench =
      'bench Kitchen {\n  motor: M1104_7200\n  propeller: P2020x3\n  rows duty in %, thrust in gf { 50, 30 }\n}\n';
    shop.write('examples/parts/stands.fettle', `fettle 1\n${bench}`);
    const { out } = shop.fettle('list', 'uses', 'Kitchen', 'examples/builds');
    expect(out.match(/^\S+/gm)).toEqual(['Rafter', 'Rafter_Quiet']);
    shop.write('examples/parts/stands.fettle', `fettle 1\n${bench.replace('P2020x3', 'P2520x2')}`);
    expect(shop.fettle('list', 'uses', 'Kitchen', 'examples/builds').out).toBe('no build uses Kitchen\n');
    shop.write('examples/parts/stands.fettle', 'fettle 1\n');
  });

  it('refuses a name that is not there, with the likely one', () => {
    expect(shop.fettle('list', 'uses', 'WideCam2', 'examples/builds')).toMatchObject({
      code: 2,
      err: 'fettle: there is no part WideCam2; did you mean WideCam?\n',
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
      { build: 'Rafter', pack: 'Slim480_2S' },
      { build: 'Rafter', pack: 'Slim420_3S' },
    ]);
    const [first, second] = rowOf(out, 'dry_mass');
    expect(first.plusMinus).toBeGreaterThan(0);
    expect(second.difference).toEqual({ value: 0, plusMinus: 0, isBeyond: false });
    const [slow, long] = rowOf(out, 'hover_time');
    expect(long.difference.value).toBeCloseTo(long.value - slow.value, 4);
    expect(long.difference.plusMinus).toBeLessThan(long.plusMinus / 2);
    // The packs are other parts, so their masses do not cancel: 33.7 → 36.5 g in examples/parts.
    const [two, three] = rowOf(out, 'all_up_weight');
    expect(three.difference.value).toBeCloseTo(three.value - two.value, 4);
    expect(three.difference.isBeyond).toBe(true);
  });

  it('sets builds side by side, on the packs asked for', () => {
    const { out } = shop.fettle(
      ...['compare', 'Rafter', 'Rafter_Quiet', '--with', 'Slim420_3S', 'Full3S', '--in', 'examples/builds'],
      ...['--format', 'markdown'],
    );
    expect(out).toMatch(/^\| \| `Rafter on Slim420_3S` \| `Rafter_Quiet on Full3S` \|\n/);
    expect(out).toMatch(/^\| dry mass \| 67\.9 ± 0\.4 g \| 67\.9 ± 0\.4 g {2}\(same\) \|$/m);
  });

  it.each([
    [['Spire'], 'there is only one to look at: name another build, or more packs'],
    [['Rafter', '--with', 'Slim480'], 'there is no pack Slim480; did you mean Slim480_2S?'],
    [['Raftor', 'Spire'], 'there is no build Raftor; did you mean Rafter?'],
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
    const rafter = read('examples/builds/rafter.fettle');
    shop.write('examples/builds/rafter.fettle', rafter.replace(/^ *motors: 4 x M1104_10500.*\n/m, ''));
    const { builds, findings } = JSON.parse(shop.fettle('check', '--format', 'json', 'examples/builds').out);
    const itself = builds.find(({ name }: { name: string }) => name === 'Rafter');
    expect(itself.options.map(({ results }: { results: object }) => 'all_up_weight' in results)).toEqual([
      false,
      false,
    ]);
    const told = findings.filter(({ place, file }: { place?: string; file?: string }) =>
      /rafter/.test(place ?? file ?? ''),
    );
    expect(told.map(({ id }: { id: string }) => id)).toContain('missing-value');
    shop.write('examples/builds/rafter.fettle', rafter);
  });
});
