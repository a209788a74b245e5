/**
 * Builds before tests run, when anything that a build reads is not as it was at the last build: tests that start the command or the server
 * never see code of yesterday.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, globSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

const root = join(import.meta.dirname, '..');
const RECORD = join(root, '.cache/built-from.txt');

/** Whatever is in a package, read by its build today or not: a list of what is read would one day lack a file. */
const READ = ['packages/**/*', 'examples/**/*', 'LICENSE', 'CHANGELOG.md', 'package-lock.json', 'tsconfig.base.json'];
const MADE = new Set(['dist', 'node_modules', 'out']);

/** What each build writes last: missing, or from another build, and all are built. */
const WRITTEN = [
  'packages/language/dist/types/index.d.ts',
  'packages/extension/dist/examples.json',
  'packages/playground/dist/examples.json',
];

/** Names and times of all files: a file that is changed, added, deleted or brought back makes another. */
function fingerprint(): string {
  const read = globSync(READ, { cwd: root, exclude: (name) => MADE.has(name.split(/[/\\]/).at(-1) ?? '') });
  return [...read.sort(), ...WRITTEN]
    .map((file) => {
      const stats = statSync(join(root, file), { throwIfNoEntry: false });
      return stats?.isDirectory() ? file : `${file} ${stats?.size} ${stats?.mtimeMs}`;
    })
    .join('\n');
}

function buildIfStale(): void {
  if (existsSync(RECORD) && readFileSync(RECORD, 'utf8') === fingerprint()) return;
  execFileSync('npm', ['run', '--silent', 'build'], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  mkdirSync(join(root, '.cache'), { recursive: true });
  writeFileSync(RECORD, fingerprint());
}

export function setup(project: TestProject): void {
  buildIfStale();
  project.onTestsRerun(buildIfStale);
}
