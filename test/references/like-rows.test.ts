/** Long rows and circles of `like`: one finding, and work that grows with the text, not with its square. */
import { describe, expect, it, vi } from 'vitest';
import { checkDocument } from '../../packages/language/src/checks/run.ts';
import { readDocument } from '../../packages/language/src/checks/text/read-document.ts';
import { MOST_BASES } from '../../packages/language/src/syntax/chain.ts';
import * as source from '../../packages/language/src/syntax/source.ts';
import { cases } from '../long.ts';
import { Workspace } from './memory-workspace.ts';

const MANY = cases(150, 400);

/** Counts how often a name is resolved: each step along `like` is one such question. */
vi.mock('../../packages/language/src/syntax/source.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/syntax/source.ts')>();
  return { ...real, partOfTarget: vi.fn(real.partOfTarget) };
});

const rowOf = (kind: string, count: number, firstIsLike = '', body = ''): string =>
  Array.from(
    { length: count },
    (_, i) => `${kind} P${i} ${i > 0 ? `like P${i - 1}` : firstIsLike} { ${i === 0 ? body : ''} }`,
  ).join('\n');

async function reported(text: string): Promise<{ findings: string[]; steps: number }> {
  vi.mocked(source.partOfTarget).mockClear();
  const workspace = await Workspace.of({ 'a.fettle': text });
  const { findings, defects } = checkDocument(readDocument(workspace.document('a.fettle')));
  expect(defects).toEqual([]);
  const place = workspace.document('a.fettle').textDocument;
  return {
    findings: findings.map(({ id, place: at }) => `${place.positionAt(at.start).line} ${id}`),
    steps: vi.mocked(source.partOfTarget).mock.calls.length,
  };
}

describe('a row of parts, each like the one before it', () => {
  it('inherits through as many steps as the limit allows, and reports once beyond it', async () => {
    const inherits = await reported(rowOf('item', MOST_BASES + 1, '', 'mass: 3 g'));
    expect(inherits.findings).toEqual([]);
    const { findings } = await reported(rowOf('item', 3 * MOST_BASES, '', 'mass: 3 g'));
    expect(findings).toEqual([`${MOST_BASES + 1} like-cycle`]);
  });

  it.each([
    ['item', '', 'mass: 3 g'],
    ['build', '', 'note "x"'],
    ['item', `like P${MANY - 1}`, ''],
    ['esc', `like P${MANY - 1}`, ''],
  ])('%s %s: twice as many cost at most a little more than twice', async (kind, firstIsLike, body) => {
    const once = await reported(rowOf(kind, MANY, firstIsLike, body));
    expect(once.findings.filter((one) => one.endsWith('like-cycle'))).toHaveLength(1);
    const again = firstIsLike && `like P${2 * MANY - 1}`;
    const twice = await reported(rowOf(kind, 2 * MANY, again, body));
    expect(twice.steps).toBeLessThan(2.2 * once.steps);
  });

  it('a circle of many names its first ones', async () => {
    const workspace = await Workspace.of({ 'a.fettle': rowOf('item', MANY, `like P${MANY - 1}`) });
    const [circle] = workspace.problems('a.fettle');
    expect(circle?.message).toMatch(
      new RegExp(`^P0 is like P${MANY - 1}, which is like P${MANY - 2}, .*which is like …, which is like P0: none`),
    );
    expect(circle?.message.length).toBeLessThan(300);
    expect(circle?.related?.length).toBeLessThan(10);
  });
});
