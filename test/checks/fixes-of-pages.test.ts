/** Each page states which sorts of fixes its finding offers: no other is offered, each that is stated is offered somewhere, and a marked case takes it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { type Fix, sortOf } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import type { FixSort } from '../../packages/language/src/vocabulary/finding-page.ts';
import { nameOf, PATH, readCase } from '../marked/marks.ts';
import { checkedExample, checkedIn } from './findings-in.ts';

const MARKED = join(import.meta.dirname, '../marked');

const cases = readdirSync(MARKED, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.fettle'))
  .map((file) => readCase(readFileSync(join(MARKED, file), 'utf8')));

const failing = Object.values(PAGES).flatMap(({ fails }) => (fails ? [fails] : []));

class Sorts {
  readonly #sorts = new Map<string, Set<FixSort>>();

  add(id: string, fix: Fix): void {
    this.#sorts.set(id, (this.#sorts.get(id) ?? new Set()).add(sortOf(fix)));
  }

  of(id: string): FixSort[] {
    return [...(this.#sorts.get(id) ?? [])].sort();
  }
}

const offered = new Sorts();
/** Those that a mark takes: the text after them is in its case. */
const taken = new Sorts();

/** An editor writes a capital, and the file where it is another one. */
const isTitleOf = ({ title }: Fix, words: string): boolean => words.toLowerCase().startsWith(title.toLowerCase());

beforeAll(async () => {
  for (const example of failing)
    for (const { findings } of Object.values(await checkedExample(example)))
      for (const { id, fixes } of findings) for (const fix of fixes) offered.add(id, fix);
  for (const { text, files, marks, after } of cases) {
    const own = { ...Object.fromEntries(files), [PATH]: text };
    const checked = await checkedIn({ 'craft.fettle': EXAMPLE_CRAFT, ...own }, Object.keys(own));
    const named = marks.filter(({ verb }) => verb === 'fix' || verb === 'prefers').map(nameOf);
    for (const [path, { findings }] of Object.entries(checked))
      for (const { id, fixes } of findings)
        for (const fix of fixes) {
          offered.add(id, fix);
          const isTaken = path === PATH && named.some((name) => after.has(name) && isTitleOf(fix, name));
          if (isTaken) taken.add(id, fix);
        }
  }
});

/** That another part is needed is named and changes nothing. */
const NAMED_ONLY = 'another-part';

describe('fixes', () => {
  it.each(Object.entries(PAGES))('of %s are those on its page, and each sort is taken in a case', (id, { fixes }) => {
    expect(offered.of(id)).toEqual([...fixes].sort());
    expect(taken.of(id)).toEqual(fixes.filter((sort) => sort !== NAMED_ONLY).sort());
  });
});
