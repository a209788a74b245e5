/**
 * Builds before tests run, when a source is newer than what was built from it: tests that start the command or the server
 * never see code of yesterday.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

const root = join(import.meta.dirname, '..');

/** Folders and files that a bundle is made of, and the file that each build writes last. */
const BUNDLES = [
  {
    package: 'packages/language',
    sources: ['src', 'library', 'build.ts', 'commit.ts', 'notices.ts', 'commonjs.cjs', 'package.json'],
    written: 'dist/types/index.d.ts',
  },
  {
    package: 'packages/extension',
    sources: [
      'src',
      'view',
      'build.mts',
      'package.json',
      '../language/dist/types/index.d.ts',
      '../language/reference',
      '../../examples',
    ],
    written: 'dist/examples.json',
  },
  {
    package: 'packages/playground',
    sources: [
      'src',
      'build.mts',
      'index.html',
      'sheet.html',
      'page.css',
      'colours.css',
      'package.json',
      '../extension/view',
      '../extension/src/sheet',
      '../language/dist/types/index.d.ts',
      '../language/reference',
      '../../examples',
    ],
    written: 'dist/examples.json',
  },
];

function newest(path: string): number {
  if (!existsSync(path)) return 0;
  const stats = statSync(path);
  if (!stats.isDirectory()) return stats.mtimeMs;
  return Math.max(0, ...readdirSync(path).map((name) => newest(join(path, name))));
}

function buildIfStale(): void {
  for (const bundle of BUNDLES) {
    const home = join(root, bundle.package);
    const built = newest(join(home, bundle.written));
    if (built > 0 && bundle.sources.every((source) => newest(join(home, source)) <= built)) continue;
    execFileSync('npm', ['run', '--silent', 'build', '-w', bundle.package], {
      cwd: root,
      stdio: 'inherit',
      shell: process.platform === 'win32',
    });
  }
}

export function setup(project: TestProject): void {
  buildIfStale();
  project.onTestsRerun(buildIfStale);
}
