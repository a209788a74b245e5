/** Every sample and every figure of the README is what the command prints now; `FETTLE_README=write` renews them. Needs the build. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pc from 'picocolors';
import { afterAll, describe, expect, it } from 'vitest';
import { Session } from '../../packages/language/src/cli/watch-command.ts';
import { toTextSince } from '../../packages/language/src/report/review/review-text.ts';
import { Repository } from '../review/repository.ts';
import { root, Workshop } from './command.ts';

const page = join(root, 'README.md');
const readme = readFileSync(page, 'utf8');
const fenced = [...readme.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map(([, language = '', text = '']) => ({
  language,
  text,
}));
const samples = fenced.filter(({ language }) => language === '').map(({ text }) => text);
/** From one value with its ± to another, in a sentence. */
const NUMBER = String.raw`\d+(?:\.\d+)?`;
const VALUE = `${NUMBER} (?:± ${NUMBER}|\\(${NUMBER} to ${NUMBER}\\))`;
const STEPS = new RegExp(`from ${VALUE} to ${VALUE}`, 'g');

/** In the README, or made distinct from it. */
function renew(from: string, to: string): void {
  if (process.env.FETTLE_README === 'write')
    writeFileSync(
      page,
      readFileSync(page, 'utf8').replace(from, () => to),
    );
  else expect(from).toBe(to);
}

/** The lines that are printed from the first line of a sample on, as many as it has or up to one that begins as its last. */
function printedLike(sample: string, printed: string): string {
  const [first = '', ...more] = sample.trimEnd().split('\n');
  const lines = printed.split('\n');
  const [label = ''] = first.split(/ {3,}/);
  const start = lines.findIndex((line) => line === first || line.startsWith(`${label}   `));
  const beginning = (more.at(-1) ?? '').slice(0, 9);
  const length = lines.slice(start + 1).findIndex((line, at) => line.startsWith(beginning) && at >= more.length - 2);
  return `${lines.slice(start, start + length + 2).join('\n')}\n`;
}

const shop = new Workshop();
afterAll(() => shop.remove());

/** Spire on the pack that the README names, in a copy of the examples that was changed. */
function spireWith(change: (text: string) => string): string {
  const path = 'examples/builds/spire.fettle';
  const text = readFileSync(join(root, path), 'utf8');
  const changed = change(text);
  shop.write(path, changed);
  const { out } = shop.fettle('check', path);
  shop.write(path, text);
  return /^Spire [\s\S]*?Mast1050_4S +(.*)$/m.exec(out)?.[1] ?? out;
}
const withoutStand = (text: string): string => text.replace(/^use "\.\.\/stands".*\n/m, '');
const withoutFlight = (text: string): string => text.replace(/^ {2}observed [\s\S]*?^ {2}\}\n/m, '');

/** What `--watch` prints when the README's first build gets a larger pack. */
async function afterSave(): Promise<string> {
  const text = fenced.find(({ language }) => language === 'fettle')?.text ?? '';
  const session = new Session([shop.write('first/first.fettle', text)]);
  await session.begin();
  shop.write('first/first.fettle', text.replace('450 mAh', '550 mAh'));
  const since = (await session.refresh())?.since;
  const named = since && { ...since, pathOf: () => 'first.fettle' };
  return named ? toTextSince('since the last save', named, pc.createColors(false)) : '';
}

describe('the README', () => {
  it('has samples that the command prints', async () => {
    using repository = new Repository().copy(join(root, 'examples'));
    repository.move('builds', 'examples/builds').move('parts', 'examples/parts').move('rules', 'examples/rules');
    repository.move('stands', 'examples/stands').delete('broken/half-typed.fettle').commit();
    for (const name of ['spire', 'belfry', 'gable']) {
      const path = `examples/builds/${name}.fettle`;
      const text = readFileSync(join(repository.folder, path), 'utf8');
      repository.write({ [path]: text.replaceAll('x M1606_3150 with', 'x M1606_2650 with') });
    }
    const printed = [
      repository.review('--base', 'HEAD', 'examples/builds').out,
      shop.fettle('choose', 'TowerPack', '--in', 'examples/builds').out,
      shop.fettle('check', 'examples').out,
      await afterSave(),
    ].join('\n');
    expect(samples.length).toBeGreaterThanOrEqual(3);
    for (const sample of samples) renew(sample, printedLike(sample, printed));
  });

  it('has the figures that follow from a flight and a stand', () => {
    const bare = spireWith((text) => withoutFlight(withoutStand(text)));
    const flown = spireWith(withoutStand);
    const both = spireWith((text) => text);
    const minutes = (line: string) => new RegExp(`(${VALUE}) min`).exec(line)?.[1];
    const thrust = (line: string) => new RegExp(`g +(${VALUE}) `).exec(line)?.[1];
    const steps = [...readme.matchAll(STEPS)].map(([step]) => step);
    expect(steps).toHaveLength(2);
    renew(steps[0] ?? '', `from ${minutes(bare)} to ${minutes(flown)}`);
    renew(steps[1] ?? '', `from ${thrust(flown)} to ${thrust(both)}`);
    // No other figure with a ± is in the text.
    expect(readme.replaceAll(/^```[\s\S]*?^```$/gm, '').match(/\d ± \d|\(\d[\d.]* to \d/g)?.length).toBe(4);
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
