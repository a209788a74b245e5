import { globSync, readFileSync } from 'node:fs';
import { relative, sep } from 'node:path';
import { defineConfig } from 'vitest/config';
import { listSkipped } from './test/list-skipped.ts';

const all = globSync('test/**/*.test.ts', { exclude: (name) => name === 'node_modules' }).map((file) =>
  file.replaceAll(sep, '/'),
);

/** What puts other code in place of ours needs modules of its own. */
const isReplacing = (file: string): boolean => /\bvi\.mock\(|\/put-in-defects\.ts'/.test(readFileSync(file, 'utf8'));

/**
 * Suites of tests that go all the way, of which each takes what a person's run takes: through a session with the server, the command, a
 * repository, both versions of a change, a page. They run where they are named.
 */
const NAMED = {
  'end-to-end': /^test\/(?:cli|clients|library|protocol|report\/review|review|server)\//,
  browser: /^test\/browser\//,
};

/** What is no path: a command, or the words of a test's name. */
const words = process.argv
  .slice(2)
  .filter(
    (word, i, all) => !['run', 'watch', 'list'].includes(word) && !/^(?:-t|--testNamePattern)$/.test(all[i - 1] ?? ''),
  );
/** Folders and files that are named, from the root and without a line: `./test/cli/new.test.ts:12`. */
const paths = words
  .filter((word) => !word.startsWith('-'))
  .map((word) => relative('.', word.replace(/:\d+$/, '')).replaceAll(sep, '/'));
/** `--project=browser*`, a folder or a file of the suite. */
const isNamed = (name: string, files: readonly string[]): boolean =>
  words.some((word) => word.startsWith(`--project=${name}`)) ||
  paths.some((path) => files.some((file) => file.includes(path)));

/** Where `run-all.ts` reads the counts from. */
const REPORT = process.env.FETTLE_REPORT;

/** Processes, editors and a browser under load: in CI what fails is tried once more, and the run lists it. */
const RETRY = process.env.CI === 'true' ? 1 : 0;

const ofSuite = (folders: RegExp): string[] => all.filter((file) => folders.test(file));

/** All else runs from sources, in the process of the test, and waits for no build. */
export const unit = all.filter((file) => !Object.values(NAMED).some((folders) => folders.test(file)));

// A worker keeps its modules from file to file: to load and compile them anew for each took a fifth of the processor's time.
const SHARED = { isolate: false };

function projects(name: string, files: readonly string[], setup: { globalSetup?: string[]; retry?: number } = {}) {
  const replacing = files.filter(isReplacing);
  const others = files.filter((file) => !replacing.includes(file));
  return [
    { extends: true as const, test: { name, include: others, ...setup, ...SHARED } },
    { extends: true as const, test: { name: `${name}, modules replaced`, include: replacing, ...setup } },
  ].filter(({ test }) => test.include.length > 0);
}

export default defineConfig({
  test: {
    // Two cores: more workers only wait for one another.
    maxWorkers: 2,
    reporters: [
      'default',
      listSkipped,
      ...(REPORT ? [['json', { outputFile: REPORT }] as ['json', { outputFile: string }]] : []),
    ],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
    projects: [
      ...projects('unit', unit),
      ...Object.entries(NAMED)
        .map(([name, folders]) => ({ name, files: ofSuite(folders) }))
        .filter(({ name, files }) => isNamed(name, files))
        .flatMap(({ name, files }) => projects(name, files, { globalSetup: ['test/build-if-stale.ts'], retry: RETRY })),
    ],
  },
});
