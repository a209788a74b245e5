/** Workflows of this repository: what a release does with what is packed, and which actions of others they use. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { bareIn } from './run-action.ts';

const root = join(import.meta.dirname, '../..');
const home = mkdtempSync(join(tmpdir(), 'fettle-workflows-'));

afterAll(() => rmSync(home, { recursive: true, force: true }));

describe('the workflow of a release', () => {
  const workflow = readFileSync(join(root, '.github/workflows/release.yml'), 'utf8');
  const [, block = ''] =
    /Put the packed command on its branch\n[\s\S]*? run: \|\n((?: {10}.*\n)+)/.exec(workflow) ?? [];
  const script = block.replace(/^ {10}/gm, '');

  it('puts each release on the branch of packed ones as one commit with its tag, and nothing of the one before', () => {
    const remote = join(home, 'forge.git');
    spawnSync('git', ['init', '-q', '--bare', remote]);
    const release = (version: string, file: string) => {
      const folder = mkdtempSync(join(home, 'release-'));
      mkdirSync(join(folder, 'tree/package'), { recursive: true });
      writeFileSync(join(folder, 'tree/package', file), version);
      mkdirSync(join(folder, 'release'));
      const tarball = join(folder, 'release', `fettle-packed-${version}.tgz`);
      spawnSync('tar', ['-czf', tarball, '-C', join(folder, 'tree'), 'package']);
      const env = {
        ...bareIn(home),
        GH_TOKEN: 'token',
        GITHUB_SERVER_URL: `file://${home}`,
        GITHUB_REPOSITORY: 'forge.git',
      };
      const of = { GITHUB_REF_NAME: `v${version}`, GITHUB_SHA: 'abc123' };
      return spawnSync('bash', ['-e', '-c', script], { cwd: folder, encoding: 'utf8', env: { ...env, ...of } });
    };
    for (const [version, file] of [
      ['0.1.0', 'first.js'],
      ['0.2.0', 'second.js'],
    ] as const)
      expect(release(version, file)).toMatchObject({ status: 0 });
    const git = (...args: string[]) => spawnSync('git', args, { cwd: remote, encoding: 'utf8' }).stdout.trim();
    expect(git('log', '--format=%s', 'packed').split('\n')).toEqual(['v0.2.0, of abc123', 'v0.1.0, of abc123']);
    expect(git('ls-tree', '--name-only', 'packed-0.1.0')).toBe('first.js');
    expect(git('ls-tree', '--name-only', 'packed')).toBe('second.js');
    expect(git('rev-parse', 'packed-0.2.0')).toBe(git('rev-parse', 'packed'));
  });
});

describe('the workflows', () => {
  it('pin every outer action by commit, and name its version', () => {
    const folder = join(root, '.github/workflows');
    const uses = readdirSync(folder).flatMap((name) =>
      [...readFileSync(join(folder, name), 'utf8').matchAll(/^ *-? uses: *(.+)$/gm)].map(([, one = '']) => one),
    );
    expect(uses.length).toBeGreaterThan(3);
    for (const one of uses) expect(one).toMatch(/^actions\/[\w-]+@[0-9a-f]{40} # v\d+\.\d+\.\d+$/);
  });
});
