/** A name of a property that no table has does not compile: it would be read as one that is absent. */
import { expect, it } from 'vitest';
import { isOfKind } from '../../packages/language/src/model/of-kind.ts';
import { block } from '../../packages/language/src/vocabulary/kinds/common.ts';
import { propertyNamed, propertyNames, propertyOf } from '../../packages/language/src/vocabulary/properties.ts';
import { modelOf, partNamed } from '../model/read.ts';

it('is one of a table', async () => {
  const part = partNamed(await modelOf('motor M1606 { resistance: 98 mohm }'), 'M1606');
  expect(part.figure('resistance')).toBeDefined();
  // @ts-expect-error misspelt
  expect(part.figure('resistence')).toBeUndefined();
  // @ts-expect-error misspelt
  expect(part.holes.has('resistence')).toBe(false);
  const word: string = 'resistance';
  // @ts-expect-error a word of a text may be anything
  expect(part.figure(word)).toBeDefined();
});

it('is one of the kind where that is known', async () => {
  const model = await modelOf('motor M1606 { resistance: 98 mohm }');
  const part = partNamed(model, 'M1606');
  // Of any part it may be that of any kind.
  expect(part.figure('capacity')).toBeUndefined();
  if (!isOfKind(part, 'motor')) throw new Error('it is a motor');
  expect(part.figure('kv')).toBeUndefined();
  // @ts-expect-error of a pack
  expect(part.figure('capacity')).toBeUndefined();
});

it('is one of the same table where a property depends on another', () => {
  const { properties } = block('item', 'An example.', {
    mass: { shape: 'count', description: 'An example.' },
    // @ts-expect-error misspelt
    size: { shape: 'size', description: 'An example.', requiredUnless: ['mas'] },
  });
  expect(Object.keys(properties)).toEqual(['mass', 'size']);
});

it('is one of the kind whose table is read', () => {
  expect(propertyOf('pack', 'cells').shape).toBe('cells');
  // @ts-expect-error of a motor
  expect(() => propertyOf('pack', 'kv')).toThrow();
});

it('is found by the word of a text', () => {
  expect(propertyNames('mount')).toContain('damping');
  expect(propertyNamed('mount', 'damping')).toBe('damping');
  expect(propertyNamed('mount', 'kv')).toBeUndefined();
  expect(propertyNamed('mount', 'constructor')).toBeUndefined();
});
