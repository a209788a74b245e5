/** Every finding has a page, and the page's examples do what it states: one gives exactly that finding, the other does not. */
import { describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import { findingsIn } from './findings-in.ts';

/** Of the example alone, without the note on estimates that any build from data sheets has. */
const findingsOf = async (text: string): Promise<readonly Finding[]> => {
  const found = await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT, 'example.fettle': text });
  return found['example.fettle'] ?? [];
};

const reported = (findings: readonly Finding[], about: string) =>
  findings.filter(({ id }) => id === about || id !== 'estimates').map(({ id, message }) => `${id}: ${message}`);

describe('the example craft', () => {
  it('is healthy: one note on estimates, nothing else', async () => {
    const found = await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT });
    expect(found['craft.fettle']?.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['hint estimates']);
  });
});

describe.each(Object.entries(PAGES))('%s', (id, page) => {
  it('has a page with content', () => {
    for (const text of [page.title, page.cause, page.criterion, page.remedy, page.standing]) {
      expect(text.length).toBeGreaterThan(6);
    }
  });

  it.runIf(page.fails)('is what its failing example gives, and nothing else', async () => {
    const findings = reported(await findingsOf(page.fails), id);
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.filter((line) => !line.startsWith(`${id}:`))).toEqual([]);
  });

  // What is estimated, and what does not exist, is written nowhere.
  it.runIf(page.fails && id !== 'estimates' && id !== 'stale-acceptance')(
    'names the part, the pack or the line that has a share in it',
    async () => {
      const found = (await findingsOf(page.fails)).filter(
        (finding) => finding.id === id && finding.build !== undefined,
      );
      expect(found.filter(({ related }) => related.length === 0).map(({ message }) => message)).toEqual([]);
    },
  );

  it.runIf(page.passes)('is not what its passing example gives', async () => {
    expect(reported(await findingsOf(page.passes), id)).toEqual([]);
  });
});
