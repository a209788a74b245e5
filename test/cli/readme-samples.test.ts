/** Every sample and every figure of the README is what the command prints now. Needs the build. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Repository } from '../review/repository.ts';
import { root, Workshop } from './command.ts';

const readme = readFileSync(join(root, 'README.md'), 'utf8');
const fenced = [...readme.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map(([, language = '', text = '']) => ({
  language,
  text,
}));
const samples = fenced.filter(({ language }) => language === '').map(({ text }) => text);
const prose = readme.replaceAll(/^```[\s\S]*?^```$/gm, '').replaceAll(/\s+/g, ' ');

const shop = new Workshop();
afterAll(() => shop.remove());

/** Spire on the pack that the README speaks of, in a copy of the examples that was changed. */
function spireWith(change: (text: string) => string): string {
  const path = 'examples/builds/spire.fettle';
  const text = readFileSync(join(root, path), 'utf8');
  const changed = change(text);
  shop.write(path, changed);
  const { out } = shop.fettle('check', 'examples/builds');
  shop.write(path, text);
  return /^Spire [\s\S]*?Mast1050_4S +(.*)$/m.exec(out)?.[1] ?? out;
}
const withoutStand = (text: string): string => text.replace(/^use "\.\.\/stands".*\n/m, '');
const withoutFlight = (text: string): string => text.replace(/^ {2}observed [\s\S]*?^ {2}\}\n/m, '');

describe('the README', () => {
  it('has samples that the command prints', () => {
    using repository = new Repository().copy(join(root, 'examples'));
    repository.move('builds', 'examples/builds').move('parts', 'examples/parts').move('rules', 'examples/rules');
    repository.move('stands', 'examples/stands').delete('broken/half-typed.fettle').commit();
    for (const name of ['spire', 'belfry', 'gable']) {
      const path = `examples/builds/${name}.fettle`;
      const text = readFileSync(join(repository.folder, path), 'utf8');
      repository.write({ [path]: text.replaceAll('x M1606_3150 with', 'x M1606_2650 with') });
    }
    const printed = [
      shop.fettle('check', 'examples').out,
      repository.review('--base', 'HEAD', 'examples/builds').out,
      shop.fettle('choose', 'TowerPack', '--in', 'examples/builds').out,
    ].join('\n');
    expect(samples.length).toBeGreaterThanOrEqual(3);
    for (const sample of samples) expect(printed).toContain(sample);
  });

  it('has the figures of what a flight and a stand teach', () => {
    const quoted = [...prose.matchAll(/\d[\d.]* ± [\d.]+(?: \w+)?/g)].map(([figure]) => figure);
    const bare = spireWith((text) => withoutFlight(withoutStand(text)));
    const flown = spireWith(withoutStand);
    const both = spireWith((text) => text);
    const minutes = (line: string) => /([\d.]+ ± [\d.]+) min/.exec(line)?.[1];
    const thrust = (line: string) => /g +([\d.]+ ± [\d.]+) /.exec(line)?.[1];
    expect(prose).toContain(`from ${minutes(bare)} to ${minutes(flown)} min`);
    expect(prose).toContain(`from ${thrust(flown)} to ${thrust(both)}.`);
    expect(prose.match(/from [\d.]+ ± [\d.]+ to [\d.]+ ± [\d.]+/g)).toHaveLength(2);
    // No other figure with a ± is in the text.
    expect(quoted.length).toBe(4);
  });

  it('has files that are read without an error', () => {
    const files = fenced.filter(({ language }) => language === 'fettle').map(({ text }) => text);
    expect(files.length).toBeGreaterThan(0);
    files.forEach((text, index) => {
      shop.write(`sample${index}.fettle`, text);
      expect(shop.fettle('check', `sample${index}.fettle`), text).toMatchObject({ code: 0 });
    });
  });
});
