/** Where the two versions come from, and what is stated when there are none. Needs the build. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { heavier, Repository, runIn } from './repository.ts';

describe('versions', () => {
  it('the working tree by default: changed, new and deleted files, committed or not; nothing is written', () => {
    using repository = new Repository(CRAFT);
    heavier(repository).write({ '.gitignore': 'scratch\n', 'scratch/x.fettle': 'fettle 1\nbuild Scratch { }\n' });
    const status = repository.status();
    const { builds, head } = repository.json('--base', 'HEAD');
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(['Quiet', 'Rafter']);
    expect(head).toEqual({ name: 'working tree', on: repository.git('rev-parse', 'HEAD') });
    expect(repository.status()).toBe(status);
  });

  it('of a branch, the commit where the work parted from it; of a commit or with --direct, the tip', () => {
    using repository = new Repository(CRAFT);
    heavier(repository.branch('change')).commit();
    repository.git('checkout', '-q', 'main');
    repository.edit('builds/eave.fettle', 'pack: Slim700', 'pack: Slim900').commit();
    const names = (...args: string[]) =>
      repository.json('--head', 'change', ...args).builds.map(({ name }: { name: string }) => name);
    expect(names('--base', 'main')).toEqual(['Quiet', 'Rafter']);
    expect(names('--base', 'main', '--direct').sort()).toEqual(['Eave', 'Quiet', 'Rafter']);
    expect(names('--base', repository.git('rev-parse', 'main')).sort()).toEqual(['Eave', 'Quiet', 'Rafter']);
  });

  it('works on a detached head, from a folder below, in a bare clone', () => {
    using repository = new Repository(CRAFT);
    heavier(repository.branch('change')).commit();
    repository.git('checkout', '-q', '--detach');
    expect(repository.json('--base', 'main').builds).toHaveLength(2);
    const below = runIn(join(repository.folder, 'builds'), 'review', '--base', 'main', '--format', 'json');
    expect(JSON.parse(below.out).builds[0].file).toBe('builds/quiet.fettle');
    using bare = new Repository();
    bare.git('clone', '-q', '--bare', repository.folder, 'bare.git');
    const inside = join(bare.folder, 'bare.git');
    expect(
      JSON.parse(runIn(inside, 'review', '--base', 'main', '--head', 'change', '--format', 'json').out).builds,
    ).toHaveLength(2);
    expect(runIn(inside, 'review', '--base', 'main')).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('--head'),
    });
  });

  it('what is staged: neither later edits nor new files that are not, which are named', () => {
    using repository = new Repository(CRAFT);
    heavier(repository).git('add', '--all');
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %');
    repository.write({ 'builds/draft.fettle': 'fettle 1\nbuild Draft {\n' });
    const status = repository.status();
    const { verdict, builds, head, remarks } = repository.json('--base', 'HEAD', '--staged');
    expect(verdict.worry).toBe('differences');
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(['Quiet', 'Rafter']);
    expect(head).toEqual({ name: 'what is staged', on: repository.git('rev-parse', 'HEAD') });
    expect(remarks).toEqual(['builds/draft.fettle is not staged, and so left out']);
    expect(repository.status()).toBe(status);
    expect(repository.review('--base', 'HEAD').out).toMatch(/^Stop and check: 2 new errors/);
  });

  it('one build of one is one', () => {
    using repository = new Repository({
      'a.fettle': 'fettle 1\nitem Strap { mass: 3 g }\nbuild Bare { item: Strap }\n',
    });
    expect(repository.review('--base', 'main').out).toContain('0 of 1 build depends on what changed');
  });

  it('only the builds in the given paths', () => {
    using repository = new Repository(CRAFT);
    heavier(repository);
    const { builds, buildsInAll } = repository.json('--base', 'main', 'builds/quiet.fettle');
    expect(builds.map(({ name }: { name: string }) => name)).toEqual(['Quiet']);
    expect(buildsInAll).toBe(1);
  });
});

describe('the hook before a commit', () => {
  const hook = `${readFileSync(join(import.meta.dirname, '../../.github/action/pre-commit-hooks.yaml'), 'utf8')}`;
  const [, entry = ''] = /entry: fettle (review .*)/.exec(hook) ?? [];
  const run = (repository: Repository) => repository.fettle(...entry.split(' '));

  it('before the first one: all builds come, and a new error counts', () => {
    using repository = new Repository();
    repository.write(CRAFT).git('add', '--all');
    const { code, out, err } = run(repository);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^No new error or warning; 3 builds added\n/);
    expect(out).toContain('nothing committed yet → what is staged');
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 100 %').git('add', '--all');
    expect(run(repository)).toMatchObject({ code: 1, out: expect.stringMatching(/^Stop and check: 1 new error\n/) });
  });

  it('a part that was forgotten is missed, and named', () => {
    using repository = new Repository();
    repository.write(CRAFT).git('add', 'builds', 'rules', 'parts/others.fettle');
    const { code, out, err } = run(repository);
    expect({ code, err }).toEqual({ code: 1, err: '' });
    expect(out).toMatch(/unknown-name/);
    expect(out).toContain('parts/motors.fettle is not staged, and so left out');
  });
});

describe('exit codes', () => {
  it('1 for a new error, or as --fail-on states; 0 otherwise', () => {
    using repository = new Repository(CRAFT);
    expect(repository.review('--base', 'main').code).toBe(0);
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 86 %');
    const { code, out } = repository.review('--base', 'main');
    expect(out).toMatch(/^Check before merging: 1 new warning$/m);
    expect(code).toBe(0);
    expect(repository.review('--base', 'main', '--fail-on', 'warning').code).toBe(1);
    repository.edit('builds/rafter.fettle', 'duty 86 %', 'duty 100 %');
    expect(repository.review('--base', 'main').code).toBe(1);
    // Permitted by the same change.
    repository.edit('parts/motors.fettle', 'rated: 3S\n', 'rated: 5S\n');
    const codeOn = (words: string) => repository.review('--base', 'main', '--fail-on', words).code;
    expect(codeOn('error')).toBe(0);
    expect(codeOn('warning,forgiven')).toBe(1);
    expect(codeOn('forgiven,never')).toBe(2);
  });
});

describe('what cannot be reviewed gives the reason, prints nothing and ends with 2', () => {
  const refused = (run: { code: number | null; out: string; err: string }, why: string | RegExp) => {
    expect(run).toMatchObject({ code: 2, out: '', err: expect.stringMatching(why) });
    expect(run.err).not.toMatch(/\n {4}at /);
  };

  it('a folder that is no repository', () => {
    const folder = mkdtempSync(join(tmpdir(), 'fettle-no-repository-'));
    writeFileSync(join(folder, 'a.fettle'), 'fettle 1\n');
    refused(runIn(folder, 'review', '--base', 'main'), /not a git repository/);
    rmSync(folder, { recursive: true });
  });

  it('revisions that are not there, or that git would take for something else', () => {
    using repository = new Repository(CRAFT);
    refused(repository.review('--base', 'nowhere'), /no revision “nowhere” here/);
    refused(repository.review('--base', 'main', '--head', 'nowhere'), /no revision “nowhere” here/);
    refused(repository.review('--base=--upload-pack=touch hacked'), /cannot be a revision: it begins with a dash/);
    refused(repository.review('--base', '-n'), /cannot be a revision: it begins with a dash/);
    refused(repository.review('--base', 'main', '--head=--all'), /begins with a dash/);
    refused(repository.review('--base', 'main; touch hacked'), /no revision “main; touch hacked” here/);
    refused(repository.review('--base', '$(touch hacked)'), /no revision/);
    refused(repository.review('--base', 'ma\nin'), /cannot be a revision/);
    refused(repository.review('--base', 'main\u001b[31m..main'), /cannot be a revision/);
    refused(repository.review('--base', ''), /cannot be a revision/);
    refused(repository.review('--base', 'main:parts'), /no revision/);
    refused(repository.review('--base', 'main', '../elsewhere'), /outside this repository/);
    refused(repository.review('--base', 'main', 'builds/nothing.fettle'), /neither version has a .fettle file/);
    refused(repository.review(), /base/);
    expect(repository.status()).toBe('');
  });

  it('a repository without a commit', () => {
    using repository = new Repository();
    refused(repository.review('--base', 'main'), /no revision “main” here: nothing is committed yet; --base HEAD/);
  });

  it('two heads', () => {
    using repository = new Repository(CRAFT);
    refused(
      repository.review('--base', 'main', '--head', 'main', '--staged'),
      /--staged already states what to review/,
    );
  });

  it('a shallow clone that lacks the base, or where the lines parted', () => {
    using origin = new Repository(CRAFT);
    origin.branch('change');
    heavier(origin).commit();
    origin.git('checkout', '-q', 'main');
    origin.commit('goes on');
    using clone = new Repository();
    const url = `file://${origin.folder}`;
    clone.git('clone', '-q', '--depth', '1', '--branch', 'change', url, 'shallow');
    const shallow = join(clone.folder, 'shallow');
    refused(runIn(shallow, 'review', '--base', 'origin/main'), /this clone is shallow: fetch more/);
    clone.git('-C', 'shallow', 'fetch', '-q', '--depth', '1', url, 'main:refs/remotes/origin/main');
    refused(runIn(shallow, 'review', '--base', 'origin/main'), /parted is not here; this clone is shallow/);
    expect(runIn(shallow, 'review', '--base', 'origin/main', '--direct').code).toBe(0);
    clone.git('-C', 'shallow', 'fetch', '-q', '--unshallow', url, 'main:refs/remotes/origin/main', 'change');
    expect(runIn(shallow, 'review', '--base', 'origin/main').out).toContain('2 of 3 builds');
  });

  it('lines of work without a commit in common', () => {
    using repository = new Repository(CRAFT);
    repository.git('checkout', '-q', '--orphan', 'island');
    repository.commit('another beginning');
    refused(repository.review('--base', 'main'), /no commit in common; --direct/);
    expect(repository.review('--base', 'main', '--direct').code).toBe(0);
  });

  it('a merge that was not finished', () => {
    using repository = new Repository(CRAFT);
    repository.edit(
      'parts/motors.fettle',
      '  rated: 3S\n',
      '<<<<<<< HEAD\n  rated: 3S\n=======\n  rated: 5S\n>>>>>>> other\n',
    );
    refused(repository.review('--base', 'main'), /parts\/motors\.fettle:8 in working tree has conflict markers/);
    repository.commit();
    repository.edit(
      'parts/motors.fettle',
      '<<<<<<< HEAD\n  rated: 3S\n=======\n  rated: 5S\n>>>>>>> other\n',
      '  rated: 3S\n',
    );
    const mended = repository.review('--base', repository.git('rev-parse', 'HEAD'));
    expect(mended.code).toBe(0);
    expect(mended.out).toMatch(/resolved error {2}.* {2}parts\/motors\.fettle/);
  });
});

describe('a merge that is half done in what is staged', () => {
  it('is refused: which side would it be', () => {
    using repository = new Repository(CRAFT);
    heavier(repository.branch('other')).commit();
    repository.git('checkout', '-q', 'main');
    repository.edit('parts/motors.fettle', 'mass: 12.40 g', 'mass: 15.40 g').commit();
    expect(() => repository.git('merge', '-q', 'other')).toThrow();
    expect(repository.review('--base', 'HEAD', '--staged')).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('parts/motors.fettle is staged as two sides of a merge: finish the merge first'),
    });
  });
});

describe('what would be no verdict', () => {
  it('a folder without builds selects the builds that use what is in it', () => {
    using repository = new Repository(CRAFT);
    repository.edit('parts/motors.fettle', 'kv: 3900 rpm/V', 'kv: 22500 rpm/V');
    const { verdict, builds } = repository.json('--base', 'main', 'parts');
    expect(verdict.worry).not.toBe('none');
    expect(builds.map(({ name }: { name: string }) => name).sort()).toEqual(['Quiet', 'Rafter']);
    // Of a file only those that use what is in that file.
    repository.edit('parts/others.fettle', 'mass: 47 g', 'mass: 33 g');
    const ofMotors = repository.json('--base', 'main', 'parts/motors.fettle').builds;
    expect(ofMotors.map(({ name }: { name: string }) => name).sort()).toEqual(['Quiet', 'Rafter']);
  });

  it('nor is it harmless from inside that folder', () => {
    using repository = new Repository(CRAFT);
    repository.edit('parts/motors.fettle', '  rated: 3S\n', '');
    for (const paths of [[], ['.'], ['../parts']]) {
      const { code, out } = runIn(join(repository.folder, 'parts'), 'review', '--base', 'main', ...paths);
      expect(code).toBe(0);
      expect(out).toMatch(/^Check before merging: 1 limit taken away/);
    }
  });

  it('parts that git does not keep are missed, and the builds that open them named', () => {
    const { 'parts/motors.fettle': motors, 'parts/others.fettle': others, ...rest } = CRAFT;
    using repository = new Repository({ ...rest, '.gitignore': 'parts\n' });
    repository.write({ 'parts/motors.fettle': `${motors}`, 'parts/others.fettle': `${others}` });
    const { code, out, err } = repository.review('--base', 'HEAD');
    expect(code).toBe(2);
    expect(out).toMatch(/^Not all could be judged: 1 file$/m);
    expect(err).toMatch(/^fettle: parts: git keeps nothing there .* is not judged: Eave, Quiet, Rafter$/m);
    expect(repository.json('--base', 'HEAD', 'builds/eave.fettle').failures).toMatchObject([
      { path: 'parts', message: expect.stringMatching(/: Eave$/) },
    ]);
  });

  it('so are parts outside of the repository', () => {
    using repository = new Repository(CRAFT);
    repository.edit('builds/rafter.fettle', 'use "../parts"', 'use "../../parts"').commit();
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %');
    const { code, out, err } = repository.review('--base', 'HEAD');
    expect(code).toBe(2);
    expect(out).toMatch(/^Not all could be judged: 1 file/m);
    expect(err).toMatch(/^fettle: \.\.\/\.\.\/parts: git keeps nothing there .*: Rafter$/m);
  });

  it('a path that is mistyped now is a new error of its line, and nothing else', () => {
    using repository = new Repository(CRAFT);
    repository.edit('builds/rafter.fettle', 'use "../parts"', 'use "../prts"');
    const { code, out, err } = repository.review('--base', 'HEAD');
    expect({ code, err }).toEqual({ code: 1, err: '' });
    expect(out).toMatch(/^Stop and check: /);
  });

  it('a path that has long led nowhere is reported in its own line only', () => {
    using repository = new Repository(CRAFT);
    repository.edit('builds/eave.fettle', 'use "../parts"', 'use "../parts"\nuse "../prts"').commit();
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %');
    expect(repository.review('--base', 'HEAD')).toMatchObject({ code: 0, err: '' });
  });

  it('parts in a submodule are not read, and that is reported', () => {
    const { 'parts/motors.fettle': motors, 'parts/others.fettle': others, ...rest } = CRAFT;
    using shared = new Repository({ 'motors.fettle': `${motors}`, 'others.fettle': `${others}` });
    using repository = new Repository(rest);
    repository.git('-c', 'protocol.file.allow=always', 'submodule', 'add', '-q', shared.folder, 'parts');
    repository.commit();
    repository.edit('builds/rafter.fettle', 'pack: Slim900', 'pack: Slim700 as Other');
    const { code, out, err } = repository.review('--base', 'HEAD');
    expect(code).toBe(2);
    expect(out).toMatch(/^Not all could be judged/);
    expect(err).toContain('parts: a submodule');
  });
});
