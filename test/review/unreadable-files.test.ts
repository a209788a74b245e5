/** What of the two versions cannot be read: it is named, all else is reviewed. Needs the build. */
import { chmodSync, mkdtempSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CRAFT } from '../report/review/rooftop-craft.ts';
import { heavier, Repository } from './repository.ts';

describe('files that cannot be read', () => {
  it('are named; the others are reviewed; the run is not clean', () => {
    using repository = new Repository(CRAFT);
    heavier(repository).write({ 'parts/picture.fettle': 'fettle 1\0' });
    const { code, out, err } = repository.review('--base', 'main');
    expect(code).toBe(2);
    expect(out).toMatch(/^Not all could be judged: 1 file$/m);
    expect(out).toContain('Rafter');
    expect(err).toContain('parts/picture.fettle: this is not a text file');
  });

  it('a link is the file that it leads to, in every kind of version', () => {
    const { 'parts/motors.fettle': motors, ...rest } = CRAFT;
    using repository = new Repository({ ...rest, 'shed/motors.fettle': `${motors}` });
    symlinkSync('../shed/motors.fettle', join(repository.folder, 'parts/motors.fettle'));
    repository.commit().edit('shed/motors.fettle', 'mass: 12.40 g', 'mass: 13.40 g');
    const reviewed = (...args: string[]) => {
      const { code, out, err } = repository.review(...args);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(out).toMatch(/^No new error or warning; 2 builds differ /);
    };
    reviewed('--base', 'HEAD');
    repository.git('add', '--all');
    reviewed('--base', 'HEAD', '--staged');
    repository.commit();
    reviewed('--base', 'HEAD~1', '--direct', '--head', 'HEAD');
  });

  it('a file that became one for a newer program is not judged in full: slips in it are not reported', () => {
    using repository = new Repository(CRAFT);
    repository
      .edit('builds/rafter.fettle', 'fettle 1', 'fettle 9')
      .edit('builds/rafter.fettle', 'rules: HouseRules', 'rules: HouseRuls');
    const { code, out, err } = repository.review('--base', 'main', '--fail-on', 'forgiven');
    expect(code).toBe(2);
    expect(out).toMatch(/^Not all could be judged: 1 file; 1 new error$/m);
    expect(err).toContain('builds/rafter.fettle: this file is written for version 9');
    repository.commit();
    expect(repository.review('--base', 'HEAD').code).toBe(0);
  });

  it('a link to a folder is that folder, and its builds are judged once', () => {
    using repository = new Repository(CRAFT);
    repository.move('parts', 'shared/parts');
    symlinkSync('shared/parts', join(repository.folder, 'parts'));
    symlinkSync('builds', join(repository.folder, 'again'));
    repository.commit().edit('shared/parts/motors.fettle', 'mass: 12.40 g', 'mass: 15.40 g');
    const sides = [
      ['--base', 'HEAD'],
      ['--base', 'HEAD', '--staged'],
      ['--base', 'HEAD~1', '--head', 'HEAD'],
    ];
    for (const [i, words] of sides.entries()) {
      if (i === 1) repository.git('add', '--all');
      if (i === 2) repository.commit();
      const { builds, failures, buildsInAll } = repository.json(...words);
      expect(failures).toEqual([]);
      expect(buildsInAll).toBe(3);
      expect(builds.map(({ name }: { name: string }) => name)).toEqual(['Quiet', 'Rafter']);
      expect(builds[1].changes[0]).toMatchObject({ what: 'mass', part: { name: 'M1506' } });
    }
  });

  it('a link to a folder outside is opened by nobody: the error of a check is that of the review', () => {
    using repository = new Repository(CRAFT);
    const shed = mkdtempSync(join(tmpdir(), 'fettle-shed-'));
    repository.move('parts', 'old').commit();
    symlinkSync(shed, join(repository.folder, 'parts'));
    writeFileSync(join(shed, 'motors.fettle'), CRAFT['parts/motors.fettle'] ?? '');
    const checked = repository.fettle('check', 'builds');
    expect(checked.out).toContain('../parts opens nothing: a link leads out of the workspace');
    const { code, err } = repository.review('--base', 'HEAD');
    expect(code).toBe(2);
    expect(err).toContain('parts: git keeps nothing there');
    rmSync(shed, { recursive: true, force: true });
  });

  it('a link to nothing in the repository, or in a ring, is left out with a remark', () => {
    using repository = new Repository(CRAFT);
    symlinkSync('/etc/hostname', join(repository.folder, 'parts/out.fettle'));
    symlinkSync('ring.fettle', join(repository.folder, 'parts/ring.fettle'));
    repository.commit();
    heavier(repository);
    const { code, err } = repository.review('--base', 'HEAD');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(repository.json('--base', 'HEAD').remarks).toEqual([
      'parts/out.fettle is a link to no file of this version, and so left out',
      'parts/ring.fettle is a link to no file of this version, and so left out',
    ]);
  });

  it('names with spaces, quotes, line breaks and letters of any script are only names', () => {
    using repository = new Repository(CRAFT);
    const name = 'builds/a "b"\n`c` |d| é☃ #1?.fettle';
    repository.write({ [name]: CRAFT['builds/eave.fettle']?.replaceAll('Eave', 'Odd') ?? '' }).commit();
    repository.edit(name, 'pack: Slim700', 'pack: Slim900');
    const { builds } = repository.json('--base', repository.git('rev-parse', 'HEAD'));
    expect(builds).toMatchObject([{ name: 'Odd', file: name }]);
  });
});

describe('objects of another make, or damaged', () => {
  /** A commit of a folder that is kept byte for byte as given. */
  const commitOf = (repository: Repository, folder: Buffer): string => {
    const file = join(repository.folder, '.git', 'folder');
    writeFileSync(file, folder);
    const tree = repository.git('hash-object', '--literally', '-t', 'tree', '-w', file);
    return repository.git('commit-tree', tree, '-m', 'as it came');
  };

  it('folders with a nought in front of their mode are folders', () => {
    using repository = new Repository(CRAFT);
    const entries = repository.git('ls-tree', 'HEAD').split('\n');
    const folder = entries.flatMap((line) => {
      const [, mode = '', object = '', name = ''] = /^(\d+) \w+ (\w+)\t(.*)$/.exec(line) ?? [];
      return [Buffer.from(`${mode} ${name}\0`), Buffer.from(object, 'hex')];
    });
    expect(entries.some((line) => line.startsWith('040000 tree'))).toBe(true);
    const base = commitOf(repository, Buffer.concat(folder));
    repository.edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %');
    const { builds } = repository.json('--base', base);
    expect(builds.map(({ name, status }: Record<string, string>) => `${name} ${status}`)).toEqual([
      'Rafter changed',
      'Quiet changed',
    ]);
  });

  it('a folder that is none is refused', () => {
    using repository = new Repository(CRAFT);
    const base = commitOf(repository, Buffer.from('a'.repeat(30)));
    expect(repository.review('--base', base)).toMatchObject({
      code: 2,
      out: '',
      err: 'fettle: a folder of a commit is damaged\n',
    });
  });

  it('a damaged file is the only one that is not read', () => {
    using repository = new Repository(CRAFT);
    const object = repository.git('rev-parse', 'HEAD:builds/eave.fettle');
    const file = join(repository.folder, '.git/objects', object.slice(0, 2), object.slice(2));
    chmodSync(file, 0o600);
    truncateSync(file, 100);
    repository
      .edit('builds/rafter.fettle', 'duty 58 %', 'duty 60 %')
      .edit('builds/eave.fettle', 'fettle 1', 'fettle 1\n');
    const { out, err } = repository.review('--base', 'HEAD');
    expect(`${out}${err}`.match(/contents are not in this clone/g)?.length).toBeGreaterThan(0);
    expect(`${out}${err}`).not.toMatch(/(?:parts|rules)\/\w+\.fettle[^\n]*not in this clone/);
  });
});
