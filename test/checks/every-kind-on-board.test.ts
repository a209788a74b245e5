/** What a line adds to a build is weighed, and is bought: a kind that the model does not take on board is reported nowhere else. */
import { expect, it } from 'vitest';
import { fittedIn } from '../../packages/language/src/analysis/setup/price-sum.ts';
import { EXAMPLE_CRAFT } from '../../packages/language/src/checks/example-craft.ts';
import { schemaOf } from '../../packages/language/src/vocabulary/properties.ts';
import type { BlockKind } from '../../packages/language/src/vocabulary/schema.ts';
import { assessedIn } from './findings-in.ts';

/** Lines that are on board in addition to others; packs are options. */
const ADDED = Object.values(schemaOf('build').properties).filter(
  ({ name, inBuild }) => inBuild === 'add' && !['spare', 'without', 'pack'].includes(name),
);
const WEIGHING = ADDED.flatMap(({ name, parts = [], clauses = {} }) =>
  parts
    .filter((kind) => schemaOf(kind).properties.mass)
    .map((kind) => ({ line: name, kind, feed: clauses.from ? ' from pack' : '' })),
);
/** Without which a part of the kind is no part. */
const NEEDED: Partial<Record<BlockKind, string>> = { load: 'draw: 1 W', regulator: 'output: 5 V' };
const GRAMS = 10;

it.each(WEIGHING)('$line: $kind', async ({ line, kind, feed }) => {
  const text = `${kind} Added { ${NEEDED[kind] ?? ''}  mass: ${GRAMS} g }
build Heavier like Healthy { ${line}: Added${feed} }
`;
  const [, heavier] = (await assessedIn({ 'craft.fettle': EXAMPLE_CRAFT + text }))['craft.fettle'] ?? [];
  const [healthy] = (await assessedIn({ 'craft.fettle': EXAMPLE_CRAFT }))['craft.fettle'] ?? [];
  const weight = (of: typeof healthy) => of?.assessments[0]?.results.get('all_up_weight')?.estimate.value ?? Number.NaN;
  // Solder and screws are a share of what there is.
  expect(1e3 * (weight(heavier) - weight(healthy))).toBeCloseTo(1.02 * GRAMS, 6);
  expect(heavier && fittedIn(heavier.build).map(({ part }) => part.name)).toContain('Added');
});
