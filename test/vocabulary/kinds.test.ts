/** A new kind is in every list that needs it. */
import { expect, it } from 'vitest';
import { PART_WORDS } from '../../packages/language/src/grammar/reserved-words.ts';
import { BLOCK_KINDS, schemaOf } from '../../packages/language/src/vocabulary/properties.ts';

/** Blocks within a part: no header begins with them. */
const INNER = ['rail', 'observed'];
const ofBuild = schemaOf('build').properties;
const weighing = BLOCK_KINDS.filter((kind) => schemaOf(kind).properties.mass && !INNER.includes(kind));

it('is a keyword of the grammar', () => {
  expect([...PART_WORDS].sort(), 'the kinds of fettle.langium and of vocabulary/schema.ts differ').toEqual(
    BLOCK_KINDS.filter((kind) => !INNER.includes(kind)).sort(),
  );
});

it.each(weighing)('%s: what weighs something is named in a build', (kind) => {
  const lines = Object.values(ofBuild).filter(({ name }) => name !== 'spare' && name !== 'without');
  const named = lines.flatMap(({ parts = [], clauses = {} }) => [
    ...parts,
    ...Object.values(clauses).flatMap((rule) => rule.parts ?? []),
  ]);
  expect(named, 'no line of BUILD (vocabulary/kinds/flying.ts) has it among its `parts`').toContain(kind);
});

it.each(weighing)('%s: what is bought may be a spare', (kind) => {
  expect(ofBuild.spare?.parts, 'add it to the `parts` of `spare` (vocabulary/kinds/flying.ts)').toContain(kind);
});

it.each(
  Object.values(ofBuild).filter(({ name, inBuild }) => inBuild === 'add' && name !== 'spare' && name !== 'without'),
)('$name: what a line adds, a build that is `like` it may take away', ({ parts = [] }) => {
  const takenAway = ofBuild.without?.parts ?? [];
  expect(takenAway, 'add it to the `parts` of `without` (vocabulary/kinds/flying.ts)').toEqual(
    expect.arrayContaining([...parts]),
  );
});
