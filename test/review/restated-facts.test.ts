/** Facts of a part that are other ones than before, with which a finding goes: maybe corrected, and never nothing to worry about. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';
const RULES = 'rules/house.fettle';

describe('stated facts of a part that change', () => {
  it.each([
    ['cells', OTHERS, 'cells: 5S', 'cells: 3S', 'pack Slim700'],
    ['kv', MOTORS, 'kv: 3900 rpm/V', 'kv: 2700 rpm/V', 'motor M1506'],
  ])('%s: the first line names them and the finding that goes with them', (_, file, was, is, of) => {
    using repository = new Repository(CRAFT);
    repository.edit(RAFTER, 'duty 58 %', 'duty 100 %').commit().edit(file, was, is);
    const { verdict } = repository.json('--base', 'HEAD');
    expect(verdict.worry).not.toBe('none');
    expect(verdict.sentence).toContain(`1 part whose stated facts changed (${was}`);
    expect(verdict.sentence).toMatch(new RegExp(`of ${of}\\): it (resolves|lowers) [a-z-]+`));
    const markdown = repository.review('--base', 'HEAD', '--format', 'markdown').out;
    expect(markdown).toContain(`**stated facts of ${of} changed**`);
    expect(repository.review('--base', 'HEAD', '--fail-on', 'forgiven', '--fail-on', 'error').code).toBe(0);
  });

  it('are named together where each of two resolves a finding, so that neither alone brings it back', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit(RULES, 'all_up_weight <= 270 g', 'all_up_weight <= 900 g')
      .edit(RAFTER, 'pack:', 'item: Sandbag\n  item: Brick\n  pack:')
      .write({ 'parts/sand.fettle': 'item Sandbag { mass: 500 g }\nitem Brick { mass: 490 g }\n' })
      .commit();
    repository.edit('parts/sand.fettle', '500 g', '1 g').edit('parts/sand.fettle', '490 g', '2 g');
    const { verdict } = repository.json('--base', 'HEAD');
    expect(verdict.worry).not.toBe('none');
    expect(verdict.sentence).toMatch(/2 parts whose stated facts changed: they resolve [a-z-]+/);
    const markdown = repository.review('--base', 'HEAD', '--format', 'markdown').out;
    for (const of of ['item Sandbag', 'item Brick']) expect(markdown).toContain(`**stated facts of ${of} changed**`);
    expect(markdown).toContain('together they resolve');
    expect(repository.review('--base', 'HEAD', '--fail-on', 'forgiven', '--fail-on', 'error').code).toBe(0);
  });

  it('are compared of items and mounts too', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit(RAFTER, 'pack:', 'require all_up_weight <= 250 g\n  item: Sandbag\n  pack:')
      .write({ 'parts/sand.fettle': 'item Sandbag { mass: 120 g }\n' })
      .commit();
    repository.edit('parts/sand.fettle', '120 g', '1 g');
    const { verdict } = repository.json('--base', 'HEAD');
    expect(verdict.sentence).toMatch(
      /1 part whose stated facts changed \(mass: 120 g → mass: 1 g of item Sandbag\): it resolves [a-z-]+/,
    );
  });

  it('are not named where no finding goes with them', () => {
    using repository = new Repository(CRAFT);
    repository.edit(MOTORS, 'mass: 12.40 g', 'mass: 12.41 g');
    expect(repository.json('--base', 'main').verdict.sentence).not.toContain('facts');
  });
});
