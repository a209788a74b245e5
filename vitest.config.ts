import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    globalSetup: ['test/build-if-stale.ts'],
    // Two cores: more workers only wait for one another.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 30_000 } },
  },
});
