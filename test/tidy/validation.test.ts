/** The validation page reports what suites measure: every line has its suite, and is on the page. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MODEL_LIMITS } from '../../packages/language/src/analysis/explain/model-limits.ts';
import { resultOf } from '../../packages/language/src/vocabulary/results.ts';
import { agreements } from '../agreement.ts';

const root = join(import.meta.dirname, '../..');
const page = readFileSync(join(root, 'packages/language/reference/VALIDATION.md'), 'utf8');

describe('validation', () => {
  it.each(agreements())('$id is measured by the suite it names, and reported on the page', ({ id, suite, found }) => {
    const [group = ''] = id.split(',');
    expect(readFileSync(join(root, suite), 'utf8')).toMatch(new RegExp(`id: ['\`]${group}`));
    expect(page).toContain(found);
  });
});

describe('limits', () => {
  it.each(MODEL_LIMITS)('$title names results that there are', ({ results }) => {
    expect(results.length).toBeGreaterThan(0);
    for (const name of results) if (!name.includes(' ')) expect(resultOf(name), name).toBeDefined();
  });
});
