/** The comment on a pull request, as a person reads it. Refresh the goldens with `npx vitest run test/review -u`. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { Repository } from './repository.ts';

const markdown = (repository: Repository, ...args: string[]): string =>
  repository.review('--base', 'main', '--format', 'markdown', ...args).out;

describe('a review as Markdown', () => {
  it('with one change of a shared part', async () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g').commit();
    const out = markdown(repository, '--head', 'change');
    await expect(out).toMatchFileSnapshot('golden/one-figure.md.txt');
    expect(markdown(repository, '--head', 'change')).toBe(out);
  });

  it('with several changes that bring an error, an acceptance, a build and a pack', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %')
      .edit('builds/eave.fettle', 'pack: Slim700', 'pack: Slim700\n  pack: Slim900 as Short')
      .write({ 'builds/gable.fettle': CRAFT['builds/rafter.fettle']?.replaceAll('Rafter', 'Gable') ?? '' })
      .commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/several.md.txt');
    await expect(repository.review('--base', 'main', '--head', 'change').out).toMatchFileSnapshot('golden/several.txt');
  });

  it('with a requirement that is no longer there and an error that is accepted', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %\n  accept motor-overvoltage because "ten seconds"')
      .edit('rules/house.fettle', '  require all_up_weight <= 270 g\n', '')
      .commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/relaxed.md.txt');
  });

  it('with nothing to report', async () => {
    using repository = new Repository(CRAFT);
    repository.branch('change').write({ 'README.txt': 'about our craft' }).commit();
    await expect(markdown(repository, '--head', 'change')).toMatchFileSnapshot('golden/nothing.md.txt');
  });
});

describe('the versions that were compared', () => {
  it('are named with their commits, that of the working tree is the one it is on', () => {
    using repository = new Repository(CRAFT);
    repository.edit('parts/motors.fettle', '12.40 g', '12.50 g');
    const commit = repository.git('rev-parse', 'HEAD').slice(0, 12);
    expect(markdown(repository).split('\n')[2]).toMatch(
      new RegExp(`; main \\(${commit}\\) → working tree on ${commit}$`),
    );
  });
});

describe('a review as JSON', () => {
  it('keeps its shape', async () => {
    using repository = new Repository(CRAFT);
    repository
      .branch('change')
      .edit('parts/motors.fettle', '74 mohm', '96 mohm')
      .edit('parts/motors.fettle', '12.40 g', '13.40 g')
      .edit('rules/house.fettle', '<= 270 g', '<= 150 g')
      .commit();
    const printed = repository.json('--base', 'main', '--head', 'change');
    expect(printed.version).toBe(1);
    await expect(shapeOf(printed)).toMatchFileSnapshot('golden/shape.txt');
  });
});

/** Every path through the JSON with the type at its end; names of packs and results count as one. */
function shapeOf(value: unknown, path = ''): string {
  const paths = new Set<string>();
  const walk = (one: unknown, at: string): void => {
    if (Array.isArray(one)) for (const item of one) walk(item, `${at}[]`);
    else if (one !== null && typeof one === 'object') {
      const keys = /\.(results|shares|shares\.\*)$/.test(at) ? '*' : undefined;
      for (const [key, item] of Object.entries(one)) walk(item, `${at}.${keys ?? key}`);
    } else paths.add(`${at}: ${typeof one}`);
  };
  walk(value, path);
  return `${[...paths].sort().join('\n')}\n`;
}
