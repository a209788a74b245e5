/** Every finding has a page, and the page's examples do what it states: one gives exactly that finding, the other does not. */
import { describe, expect, it } from 'vitest';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import type { Finding } from '../../packages/language/src/checks/finding.ts';
import { PAGES } from '../../packages/language/src/checks/registry.ts';
import type { FindingId } from '../../packages/language/src/vocabulary/findings.ts';
import { checkedExample, EXAMPLE, findingsIn } from './findings-in.ts';

/** Of the example alone, without the note on estimates that any build from data sheets has. */
const findingsOf = async (text: string): Promise<readonly Finding[]> => {
  const checked = await checkedExample(text);
  return checked[EXAMPLE]?.findings ?? [];
};

const reported = (findings: readonly Finding[], about: string) =>
  findings.filter(({ id }) => id === about || id !== 'estimates').map(({ id, message }) => `${id}: ${message}`);

/** What is estimated, and what does not exist, is written nowhere. */
const NAMES_NOTHING: ReadonlySet<string> = new Set<FindingId>(['estimates', 'stale-acceptance']);

describe('the example craft', () => {
  it('is healthy: one note on estimates, nothing else', async () => {
    const found = await findingsIn({ 'craft.fettle': EXAMPLE_CRAFT });
    expect(found['craft.fettle']?.map(({ id, severity }) => `${severity} ${id}`)).toEqual(['hint estimates']);
  });
});

describe.each(Object.entries(PAGES))('%s', (id, page) => {
  it('has a page with content', () => {
    const examples = [page.fails, page.passes ?? page.withoutPassing];
    for (const text of [page.title, page.cause, page.criterion, page.remedy, page.standing, ...examples]) {
      expect(text.length).toBeGreaterThan(6);
    }
  });

  it('is what its failing example gives, and nothing else', async () => {
    const findings = reported(await findingsOf(page.fails), id);
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.filter((line) => !line.startsWith(`${id}:`))).toEqual([]);
  });

  if (!NAMES_NOTHING.has(id))
    it('names the part, the pack or the line that has a share in it', async () => {
      const findings = await findingsOf(page.fails);
      const found = findings.filter((finding) => finding.id === id && finding.build !== undefined);
      // Where its line is in another file than the build, that is added to whatever the check lists.
      const listed = ({ related }: Finding) => related.filter(({ message }) => message !== 'stated here');
      expect(found.filter((finding) => listed(finding).length === 0).map(({ message }) => message)).toEqual([]);
    });

  const { passes } = page;
  if (passes !== undefined)
    it('is not what its passing example gives', async () => {
      expect(reported(await findingsOf(passes), id)).toEqual([]);
    });
});
