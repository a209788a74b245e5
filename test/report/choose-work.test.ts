/** How much is computed for a shortlist: counts, without a clock. */
import { EmptyFileSystem, URI } from 'langium';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { File } from '../../packages/language/src/grammar/generated/ast.ts';
import { choose } from '../../packages/language/src/report/decide/choice.ts';
import { spaceOf } from '../../packages/language/src/trial/candidates.ts';
import { partOfKindNamed } from '../../packages/language/src/trial/trial.ts';
import { createFettleServices } from '../../packages/language/src/workspace/services.ts';
import { SMALL_CRAFT } from '../small-craft.ts';

const { work, counted } = vi.hoisted(() => {
  const done = { evaluations: 0, templates: 0, propagations: 0, flights: 0 };
  const counting =
    <Args extends unknown[], T>(what: keyof typeof done, of: (...args: Args) => T) =>
    (...args: Args): T => {
      done[what]++;
      return of(...args);
    };
  return { work: done, counted: counting };
});

vi.mock('../../packages/language/src/analysis/evaluate/evaluation.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/analysis/evaluate/evaluation.ts')>();
  return { ...real, evaluate: counted('evaluations', real.evaluate) };
});
vi.mock('../../packages/language/src/analysis/evaluate/under-limit.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/analysis/evaluate/under-limit.ts')>();
  return { ...real, evaluateUnder: counted('evaluations', real.evaluateUnder) };
});
vi.mock('../../packages/language/src/analysis/setup/craft-setup.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/analysis/setup/craft-setup.ts')>();
  return { ...real, setupTemplate: counted('templates', real.setupTemplate) };
});
vi.mock('../../packages/language/src/analysis/uncertainty/propagate.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/analysis/uncertainty/propagate.ts')>();
  return { ...real, propagate: counted('propagations', real.propagate) };
});
vi.mock('../../packages/language/src/physics/flight.ts', async (original) => {
  const real = await original<typeof import('../../packages/language/src/physics/flight.ts')>();
  return { ...real, flightEndurance: counted('flights', real.flightEndurance) };
});

beforeEach(() => Object.assign(work, { evaluations: 0, templates: 0, propagations: 0, flights: 0 }));

async function workOf(shortlist: string) {
  const services = createFettleServices(EmptyFileSystem);
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const craft = 'build Craft like Healthy {\n  flown: 80 % at 1 x hover\n  flown: 20 % at 1.5 x hover\n}';
  const text = `${SMALL_CRAFT}\n${craft}\nshortlist Which {\n  for: Craft\n${shortlist}\n}\n`;
  const document = LangiumDocumentFactory.fromString<File>(text, URI.parse('memory:///craft.fettle'));
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: false });
  const node = partOfKindNamed(document, 'shortlist', 'Which');
  if (!node) throw new Error('no shortlist');
  return choose(await spaceOf(services, document, node));
}

describe('candidates', () => {
  it('that differ in a duty limit are read once and evaluated once each; ± are for the rows that are shown', async () => {
    const { count, passing, rows } = await workOf('  vary: duty 80 % .. 100 % step 0.1 %\n  prefer: hover_time');
    expect({ count, passing, rows: rows.length }).toEqual({ count: 201, passing: 201, rows: 40 });
    // Besides: today's build, and each row with its ±.
    expect(work.evaluations).toBe(count + rows.length + 1);
    expect(work.propagations).toBe(rows.length + 1);
    // Once for all candidates; of each row, of what was learnt and of what its parts are for the learning.
    expect(work.templates).toBeLessThanOrEqual(2 * (rows.length + 1));
    // Only rows need the time as flown.
    expect(work.flights).toBeLessThanOrEqual(3 * (rows.length + 1));
  });

  it('between two limits with one verdict are not evaluated: most that are rejected cost nothing', async () => {
    const { count, rejected } = await workOf(
      '  vary: duty 60 % .. 100 % step 0.1 %\n  require thrust_to_weight >= 20\n  prefer: hover_time',
    );
    expect(count).toBe(401);
    expect(rejected.reduce((sum, one) => sum + one.count, 0)).toBe(count);
    expect(work.evaluations).toBeLessThan(count / 4);
  });

  it('that fall take a few evaluations each: nobody searches for what would cure them', async () => {
    const { count, rejected } = await workOf(
      '  vary: Slim700_5S\n  vary: Long850_8S\n  vary: duty 60 % .. 100 % step 1 %\n  require hover_time >= 30 min\n  prefer: hover_time',
    );
    expect(rejected.reduce((sum, one) => sum + one.count, 0)).toBe(count);
    expect(work.evaluations).toBeLessThanOrEqual(8 * count);
  });
});
