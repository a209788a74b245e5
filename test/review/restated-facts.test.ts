/** Facts of a part that are other ones than before, with which a finding goes: maybe corrected, and never nothing to worry about. Needs the build. */
import { describe, expect, it } from 'vitest';
import { CRAFT, Repository } from './repository.ts';

const RAFTER = 'builds/rafter.fettle';
const MOTORS = 'parts/motors.fettle';
const OTHERS = 'parts/others.fettle';

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

  it('are not named where no finding goes with them', () => {
    using repository = new Repository(CRAFT);
    repository.edit(MOTORS, 'mass: 12.40 g', 'mass: 12.41 g');
    expect(repository.json('--base', 'main').verdict.sentence).not.toContain('facts');
  });
});
