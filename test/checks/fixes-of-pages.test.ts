/** Each page states which sorts of fixes its finding offers: no other is offered, and each that is stated is offered somewhere. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { type FixSort, sortOf } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { readCase } from '../marked/marks.ts';
import { findingsIn } from './findings-in.ts';

const MARKED = join(import.meta.dirname, '../marked');

const marked = readdirSync(MARKED, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.fettle'))
  .map((file) => readCase(readFileSync(join(MARKED, file), 'utf8')))
  .map(({ text, files }) => ({ ...Object.fromEntries(files), 'case.fettle': text }));

const failing = Object.values(PAGES).flatMap(({ fails }) => (fails ? [{ 'case.fettle': fails }] : []));

/** What neither a page nor a marked file shows. */
const MORE = [
  'build Dim like Healthy {\n  without: LinkCam\n  load: LinkCam from Board28.logic\n}',
  'build Fed like Healthy { motors: M1805 with P4024x3 }',
  'build Sorted like Healthy { airframe: Guard169 }\nitem Guard169 { mass: 3 g }',
  'item Other { mass: 3 Grams }',
  'pack Spaced like Mast900_4S { capacity: 1,105 mAh }',
].map((text) => ({ 'case.fettle': text }));

const offered = new Map<string, Set<FixSort>>();

beforeAll(async () => {
  for (const files of [...failing, ...marked, ...MORE]) {
    const found = await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT, ...files });
    for (const { id, fixes } of Object.values(found).flat()) {
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
