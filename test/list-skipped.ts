import type { Reporter } from 'vitest/node';

/** Marks the reason at the end of a name. */
export const SKIPPED = '[skipped: needs ';

/** Behind the counts of a run, each test that did not run for want of something, which its name states (`where`), and each that failed first. */
export const listSkipped: Reporter = {
  onTestRunEnd(modules) {
    const skipped = modules.flatMap((module) => [...module.children.allTests('skipped')]);
    for (const { module, fullName } of skipped)
      if (fullName.includes(SKIPPED)) console.log(`skipped: ${module.relativeModuleId}: ${fullName}`);
    const passed = modules.flatMap((module) => [...module.children.allTests('passed')]);
    for (const test of passed)
      if (test.diagnostic()?.flaky)
        console.log(`passed at the second attempt: ${test.module.relativeModuleId}: ${test.fullName}`);
  },
};
