import { globSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

const TESTS = 'test/**/*.test.ts';

/** What puts other code in place of ours needs modules of its own. */
const replacing = globSync(TESTS).filter((file) => /\bvi\.mock\(|\/defects\.ts'/.test(readFileSync(file, 'utf8')));

export default defineConfig({
  test: {
    globalSetup: ['test/build-if-stale.ts'],
    // Two cores: more workers only wait for one another.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
    projects: [
      {
        extends: true,
        // A worker keeps its modules from file to file: to load and compile them anew for each took a fifth of the processor's time.
        test: { name: 'shared', include: [TESTS], exclude: [...replacing, '**/node_modules/**'], isolate: false },
      },
      { extends: true, test: { name: 'alone', include: replacing, isolate: true } },
    ],
  },
});
