/** What a build states it was made of. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { commitOf } from '../../packages/language/commit.ts';

const folder = mkdtempSync(join(tmpdir(), 'fettle-commit-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const git = (...args: string[]) => {
  const who = ['-c', 'user.name=A', '-c', 'user.email=a@example.org', '-c', 'commit.gpgsign=false'];
  return spawnSync('git', [...who, ...args], { cwd: folder, encoding: 'utf8' }).stdout.trim();
};

it('names the commit, reports changes, and is silent where there is none', () => {
  writeFileSync(join(folder, 'package.json'), '{}');
  expect(commitOf(folder)).toBeUndefined();
  git('init', '-q');
  expect(commitOf(folder)).toBeUndefined();
  git('add', 'package.json');
  git('commit', '-qm', 'First');
  const commit = git('rev-parse', 'HEAD').slice(0, 8);
  expect(commit).toMatch(/^[0-9a-f]{8}$/);
  // What is not under version control, a build's own output for one, changes nothing.
  writeFileSync(join(folder, 'notes.txt'), '');
  expect(commitOf(folder)).toBe(commit);
  writeFileSync(join(folder, 'package.json'), '{ }');
  expect(commitOf(folder)).toBe(`${commit}.changed`);
  const below = join(folder, 'unpacked');
  mkdirSync(below);
  writeFileSync(join(below, 'package.json'), '{}');
  expect(commitOf(below)).toBeUndefined();
});
