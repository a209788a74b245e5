import { globSync, readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

const all = globSync('test/**/*.test.ts', { exclude: (name) => name === 'node_modules' });

/** Tests in a browser take minutes. They are a suite of their own, which runs when it is named: `npm run test:browser`. */
const IN_BROWSER = /^test\/browser\//;
const isNamed = process.argv.slice(2).some((word) => /\bbrowser\b/.test(word));

/** What puts other code in place of ours needs modules of its own. */
const replacing = all.filter((file) => /\bvi\.mock\(|\/defects\.ts'/.test(readFileSync(file, 'utf8')));

/** Rooms that test sources alone, so that one is tested in seconds; every other room may run what is built. */
const SOURCES =
  /^test\/(?:analysis|checks|grammar|marked|model|physics|references|simulated|starter|tidy|units|vocabulary)\//;
export const ofSources = all.filter((file) => SOURCES.test(file) && !replacing.includes(file));
const inBrowser = all.filter((file) => IN_BROWSER.test(file));
const ofBuilt = all.filter((file) => ![ofSources, replacing, inBrowser].some((others) => others.includes(file)));

const BUILT = { globalSetup: ['test/build-if-stale.ts'] };
// A worker keeps its modules from file to file: to load and compile them anew for each took a fifth of the processor's time.
const SHARED = { isolate: false };

export default defineConfig({
  test: {
    // Two cores: more workers only wait for one another.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
    projects: [
      { extends: true, test: { name: 'sources', include: ofSources, ...SHARED } },
      { extends: true, test: { name: 'built', include: ofBuilt, ...BUILT, ...SHARED } },
      { extends: true, test: { name: 'replacing', include: replacing, ...BUILT } },
      ...(isNamed
        ? [{ extends: true as const, test: { name: 'browser', include: inBrowser, ...BUILT, ...SHARED } }]
        : []),
    ],
  },
});
