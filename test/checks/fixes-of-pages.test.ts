/** Each page states which sorts of fixes its finding offers: no other is offered, and each that is stated is offered somewhere. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { sortOf } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import type { FixSort } from '../../packages/language/src/vocabulary/finding-page.ts';
import { readCase } from '../marked/marks.ts';
import { checkedExample, checkedIn } from './findings-in.ts';

const MARKED = join(import.meta.dirname, '../marked');

const marked = readdirSync(MARKED, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.fettle'))
  .map((file) => readCase(readFileSync(join(MARKED, file), 'utf8')))
  .map(({ text, files }) => ({ ...Object.fromEntries(files), 'case.fettle': text }));

const failing = Object.values(PAGES).flatMap(({ fails }) => (fails ? [fails] : []));

const offered = new Map<string, Set<FixSort>>();

beforeAll(async () => {
  const others = marked.map((files) => checkedIn({ 'craft.fettle': EXAMPLE_CRAFT, ...files }));
  for (const checked of await Promise.all([...failing.map(checkedExample), ...others])) {
    for (const { id, fixes } of Object.values(checked).flatMap(({ findings }) => findings)) {
      const sorts = offered.get(id) ?? new Set();
      offered.set(id, sorts);
      for (const fix of fixes) sorts.add(sortOf(fix));
    }
  }
});

describe('fixes', () => {
  it.each(Object.entries(PAGES))('of %s are those on its page', (id, { fixes }) => {
    expect([...(offered.get(id) ?? [])].sort()).toEqual([...fixes].sort());
  });
});
